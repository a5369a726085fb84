"""Reports and refusals as the doors hand them to the desk."""

from datetime import datetime

from county.domain.entries import Entry, Kind
from county.domain.receipts import SetAside
from county.errors import Problem
from tests.an_office import at


def a_step(step: str, clock: str, place: str = "P014", key: str = "", **fields: object) -> Entry:
    """A step reported by its place as it happened."""
    return a_report(Kind.STEP, at(clock), place, key or f"{place}-{step}", step=step, **fields)


def a_report(kind: Kind, moment: datetime, place: str = "P014", key: str = "r-1", **fields: object) -> Entry:
    return Entry(key, kind, place, moment, moment, place, "endpoint", f"place:{place}", fields)


def a_refusal(raw: str = '{"place": "P999"}') -> SetAside:
    problems = (Problem("place", "no place or precinct 'P999'"), Problem("kind", "is needed"))
    return SetAside("k-9", "place:P014", "endpoint", at("05:30"), "refused", problems, raw)
