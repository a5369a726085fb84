"""The invented names of Wrenfield County: towns, halls, streets, rovers, models. None is a real place or person."""

CENTRE = (41.90, -99.75)
"""Latitude and longitude of the middle of the county: open country in the Central time zone."""

TOWNS: dict[str, tuple[float, float, float]] = {
    "Wrenfield": (3.0, -1.5, 1.9),
    "Tarnbridge": (-16.5, 3.5, 1.5),
    "Ostley": (17.5, -4.0, 1.4),
    "Calder Fork": (-4.0, 13.5, 1.5),
    "Pinnow": (1.5, -14.5, 1.3),
    "Harth": (14.5, 12.0, 1.2),
    "Loom Mill": (-13.5, -12.5, 1.2),
    "Dry Elm": (-21.5, 14.5, 0.8),
    "Far Acre": (20.5, -15.5, 0.8),
}
"""Each town's middle in km east and north of the county's, and how far its halls are scattered."""

ZONES = {
    "Tarnbridge": "West",
    "Loom Mill": "West",
    "Dry Elm": "North",
    "Calder Fork": "North",
    "Harth": "East",
    "Ostley": "East",
    "Far Acre": "South",
    "Pinnow": "South",
}
"""Town to rovers' zone; the seat has two of its own."""

HALLS: dict[str, tuple[str, ...]] = {
    "Wrenfield": (
        "Ash Street School",
        "Old Foundry Library",
        "Station Road Fire Hall",
        "Kite Hill Community Center",
        "Wrenfield High School",
        "Mill Race Church Hall",
        "Larch Park Pavilion",
        "Third Ward Senior Center",
        "Copper Lane School",
        "Grain Exchange Hall",
        "Bell Meadow School",
        "Harrow Road Church Hall",
        "Lantern Row Library",
        "Quarry Street School",
        "Union Depot Hall",
        "Sparrow Green Recreation Center",
        "Northgate Fire Hall",
        "Weaver Park School",
    ),
    "Tarnbridge": (
        "Tarnbridge Town Hall",
        "Stone Pier School",
        "West Bank Library",
        "Tollhouse Church Hall",
        "Heron Street School",
        "Tarnbridge Fire Hall",
    ),
    "Ostley": (
        "Ostley Town Hall",
        "Plum Orchard School",
        "Ostley Veterans Hall",
        "Cooper Street Library",
        "Windrow Church Hall",
    ),
    "Calder Fork": (
        "Calder Fork School",
        "Upper Fork Grange Hall",
        "Calder Fork Library",
        "Two Bridges Church Hall",
        "Sawyer Community Center",
    ),
    "Pinnow": (
        "Pinnow Town Hall",
        "South Pinnow School",
        "Clay Pit Grange Hall",
        "Pinnow Fire Hall",
        "Marl Creek Church Hall",
    ),
    "Harth": ("Harth School", "Harth Grange Hall", "Beacon Ridge Church Hall"),
    "Loom Mill": ("Loom Mill School", "Lower Mill Grange Hall", "Loom Mill Fire Hall"),
    "Dry Elm": ("Dry Elm Grange Hall",),
    "Far Acre": ("Far Acre School",),
}

VOTE_CENTRE = "Wrenfield County Vote Center"

STREETS = (
    "Alder Way", "Barrow Street", "Chandler Road", "Dun Lane", "Elder Street", "Fallow Road", "Gable Street",
    "Hawthorn Way", "Iron Street", "Juniper Road", "Kettle Lane", "Linden Street",
)  # fmt: skip

SCANNERS = (("Harrow S2", "HS2"), ("Harrow S3", "HS3"), ("Lindel 10", "L10"))
MARKERS = ("Lindel Mark", "LM")
POLLBOOKS = ("Tern Book", "TB")
"""Invented models and the letters their serial numbers begin with."""

COUNTED = {"SC-0141": 48_210}
"""The protective counter that the documentation's example of a report speaks of."""

PRECINCTS = {
    "Wrenfield": "Ward",
    "Tarnbridge": "Tarnbridge",
    "Ostley": "Ostley",
    "Calder Fork": "Calder",
    "Pinnow": "Pinnow",
    "Harth": "Harth",
    "Loom Mill": "Loom",
    "Dry Elm": "Dry Elm",
    "Far Acre": "Far Acre",
}
"""Town to the name its precincts are numbered under."""

ROVERS = (
    ("R01", "Ada Quillon", "Seat North", "scanner; bmd", "scanner; seals; tape", "04:30", "20:30"),
    ("R02", "Benno Tarrow", "Seat South", "scanner; power", "surge protector; battery; tape", "04:30", "20:30"),
    ("R03", "Cora Vantling", "West", "scanner; bmd; pollbook", "scanner; pollbook; seals", "04:30", "20:30"),
    ("R04", "Dov Ellerby", "North", "scanner; access", "ramp; cones; seals", "04:30", "20:30"),
    ("R05", "Effie Marsh-Oake", "East", "scanner; bmd", "scanner; bmd; seals; tape", "04:30", "20:30"),
    ("R06", "Gus Lindqvale", "South", "scanner; power", "surge protector; battery; paper list", "04:30", "20:30"),
    ("R07", "Hanne Brook-Tully", "Seat North", "pollbook; access", "pollbook; paper list; ramp", "04:30", "13:30"),
    ("R08", "Ivo Castermill", "Seat South", "scanner; bmd; pollbook", "scanner; bmd; ballots", "12:30", "21:30"),
)
"""Rover, name, zone, skills, what they carry, shift begins, shift ends."""
