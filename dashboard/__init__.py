"""The board: doors out, seen in a browser."""
