"""Whose list it is, this county's for this election or another's; and whether it leaves places blank."""

from collections.abc import Iterator, Sequence

from county.errors import Problem
from county.roster_files.known import Known, read_day, same_county
from county.roster_files.lines import Line
from county.roster_files.list_cells import OF_A_PLACE

BLANK, FEWEST_BLANK = 0.25, 2
"""Where more than this share of the precincts name no place, each stands under the place of the rows above."""

Rows = Sequence[dict[str, str]]


def other_counties(rows: Rows, known: Known) -> tuple[int, bool]:
    """How many counties beside ours the list has, and whether ours is among those it names."""
    counties = {row["county"] for row in rows if row.get("county")}
    ours = {each for each in counties if same_county(each, known.election.county)}
    return len(counties - ours), bool(ours)


def doubts_of_owner(rows: Rows, known: Known, header: Line) -> Iterator[Problem]:
    """What speaks against its being this county's list for this election."""
    others, ours = other_counties(rows, known)
    if others and not ours:
        named = sorted({row["county"] for row in rows if row.get("county")})
        says = f"is {', '.join(named[:3])}; the plan says {known.election.county}"
        yield header.problem("county", says, warning=len(named) == 1)
    days = {row["election_date"] for row in rows if row.get("election_date")}
    if len(days) == 1 and (day := read_day(*days)) not in (None, known.election.date):
        says = f"is {day}; the plan's election is on {known.election.date}"
        yield header.problem("election_date", says, warning=True)


def leaves_places_blank(rows: Rows) -> bool:
    """Whether a place is written once and left blank for the precincts below it, as where cells were merged."""
    of_precincts = [row for row in rows if row.get("precinct") or row.get("precinct_name")]
    named = [any(row.get(each) for each in OF_A_PLACE) for row in of_precincts]
    blank = named.count(False)
    return blank >= FEWEST_BLANK and named[0] and blank > BLANK * len(named)
