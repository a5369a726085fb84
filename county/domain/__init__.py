"""Values into values: no I/O, no clock, no environment."""
