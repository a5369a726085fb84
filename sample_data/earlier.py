"""When each step was done at each place at one earlier, invented election: the curve behind today's."""

import random
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

ELECTION = "2024 General Election"
OPENED = datetime(2024, 11, 5, 6, 0, tzinfo=ZoneInfo("America/Chicago"))
HOURS_OPEN = timedelta(hours=13)
NEW_PLACE = "P039"
"""Not a polling place then, so that a curve has to cope with a place it knows nothing of."""

ARRIVED, LAST = -66.0, 41.0
BEFORE = (
    ("site-ready", 21.0), ("seals-checked", 7.0), ("powered", 3.0), ("boxes-empty", 6.0), ("pollbooks-ready", 5.0),
    ("setup-confirmed", 3.0), ("zero-report", 6.0),
)  # fmt: skip
AFTER = (
    ("closed", 1.0), ("last-voter", 9.0), ("results-printed", 16.0), ("balanced", 32.0), ("departed", 18.0),
    ("received", 33.0),
)  # fmt: skip
"""Steps with the usual minutes from the one before."""


def earlier_steps(places: Sequence[Mapping[str, object]], rng: random.Random) -> list[Mapping[str, object]]:
    """One row a place and step: when it was done, and how many minutes after that place's own opening."""
    rows: list[Mapping[str, object]] = []
    for place in places:
        if place["place"] != NEW_PLACE:
            hour, minute = map(int, str(place["opens"] or "06:00").split(":"))
            opened = OPENED.replace(hour=hour, minute=minute)
            for step, minutes in _day(rng):
                done_at = (opened + timedelta(minutes=minutes)).isoformat()
                rows.append(
                    {
                        "election": ELECTION,
                        "place": place["place"],
                        "step": step,
                        "done_at": done_at,
                        "minutes": minutes,
                    }
                )
    return rows


def _day(rng: random.Random) -> list[tuple[str, int]]:
    """One place's steps; a slow place is slow at every step, and late where the steps do not fit."""
    pace = rng.lognormvariate(0.0, 0.16)
    at = ARRIVED + rng.gauss(0.0, 5.0)
    day = [("staffed", round(at))]
    for step, usual in BEFORE:
        at += usual * pace * rng.lognormvariate(0.0, 0.35)
        day.append((step, round(at)))
    day.append(("open", max(0, round(at) + 1)))
    at = HOURS_OPEN / timedelta(minutes=1)
    for step, usual in AFTER:
        at += usual * pace * rng.lognormvariate(0.0, 0.45)
        day.append((step, round(at)))
    return day
