"""The parts of the Set-up page."""
