"""A county's roster from the files it has."""
