"""What the page of review is made of: a moment replayed, one place's record, and the day's tables."""
