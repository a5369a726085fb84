"""What the pages for phones share: files and how they are kept, sign-in by a card's key, pages that say one thing."""
