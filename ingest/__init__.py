"""Doors in: how reports and rosters reach the desk."""
