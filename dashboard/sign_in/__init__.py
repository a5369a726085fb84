"""The board's own door: nothing behind it is reached unsigned."""
