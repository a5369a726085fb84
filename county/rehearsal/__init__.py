"""A made-up election day, and how it is sent through the real doors."""
