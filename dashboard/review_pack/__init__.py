"""The pack from the board: made by a process of its own, handed out as one file."""
