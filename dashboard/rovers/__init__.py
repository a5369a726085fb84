"""Rovers on the board: what each does and does next, where they are, and which cases want somebody."""
