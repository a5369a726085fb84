"""Telling people: the words of a notice, and the channels that carry it."""
