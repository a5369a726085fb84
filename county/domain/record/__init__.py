"""The record of a day: what a reviewer asks afterwards, computed from the folded picture. Nothing here decides."""
