"""Who carries material and who takes it in, by role: nobody is named, so nothing else can be told."""

CARRIERS = (
    "officer in charge",
    "polling-place officer",
    "rover",
    "police or fire service",
    "receiving clerk",
    "second receiving clerk",
    "desk lead",
    "somebody else",
)
"""The roles that a report may name; common practice."""
AT_A_PLACE = ("officer in charge", "polling-place officer", "rover", "police or fire service", "somebody else")
"""Those who leave a place with its material."""
