"""An invented county to try the board with; no place or person in it is real."""
