"""What a list tells of its places and precincts, row by row, before it is known which rows mean the same place."""

from dataclasses import dataclass, field
from datetime import time

from county.errors import Problem
from county.roster_files.lines import Line


@dataclass(frozen=True, slots=True)
class Site:
    """A place as one row or record tells of it; empty or None where it does not say. `id` is the list's own.

    `hours_told` are the hours as the list writes them, also where they could not be read.
    """

    line: Line
    id: str = ""
    name: str = ""
    address: str = ""
    city: str = ""
    latitude: float | None = None
    longitude: float | None = None
    opens: time | None = None
    closes: time | None = None
    zone: str = ""
    phone: str = ""
    registered: int | None = None
    ballots_delivered: int | None = None
    officers: int | None = None
    time_zone: str = ""
    route: str = ""
    serves: str = ""
    hours_told: str = ""


@dataclass(frozen=True, slots=True)
class Votes:
    """A precinct as one row or record tells of it, and the site where it votes; none where it votes by mail only."""

    line: Line
    precinct: str
    name: str
    site: Site | None
    registered: int | None = None
    split: str = ""


@dataclass(slots=True)
class Told:
    """Everything the lists of one load tell, in their order; `fields` are those that some list has a column for.

    `notes` say what was left out or joined and needs nobody's action.
    """

    sites: list[Site] = field(default_factory=list)
    votes: list[Votes] = field(default_factory=list)
    fields: set[str] = field(default_factory=set)
    problems: list[Problem] = field(default_factory=list)
    notes: list[Problem] = field(default_factory=list)
