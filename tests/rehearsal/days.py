"""Small helpers of these tests: the sample county and its plan, and what a raw day says about openings."""

from collections.abc import Iterable
from datetime import datetime
from functools import cache

from county.domain.entries import Entry
from county.domain.expected import expected_of
from county.domain.intake import Hand, take
from county.domain.moments import parse_moment, whole_minutes
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Roster
from county.rehearsal.sent import Sent
from county.setting_up import SAMPLE_PLAN
from tests.roster_lists import read_tables

SAMPLE = SAMPLE_PLAN.parent
TABLES = ("places", "precincts", "devices", "seals", "rovers")


@cache
def sample_plan() -> Plan:
    return parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), "plan.toml")


@cache
def sample_county() -> Roster:
    roster, problems = read_tables([SAMPLE / f"{table}.csv" for table in TABLES])
    assert not problems
    return roster


def told_at(sent: Sent) -> datetime:
    """When it happened as the office takes it: never after it was sent."""
    told = parse_moment(str(sent.raw["happened_at"]))
    assert told is not None
    return min(told, sent.at)


def openings(day: Iterable[Sent]) -> dict[str, datetime]:
    """Place to its opening as finally told, from the raw reports alone."""
    opened: dict[str, datetime] = {}
    place_of: dict[object, str] = {}
    for sent in day:
        if sent.raw.get("step") == "open" and not sent.is_mistake and sent.raw["key"] not in place_of:
            place_of[sent.raw["key"]] = str(sent.raw["place"])
            opened[str(sent.raw["place"])] = told_at(sent)
        elif sent.raw.get("corrects") in place_of and not sent.is_mistake:
            opened[place_of[sent.raw["corrects"]]] = told_at(sent)
    return opened


def minutes_late(day: Iterable[Sent], roster: Roster, plan: Plan) -> dict[str, int]:
    """Whole minutes that each place opened after its own opening time, of those that told."""
    expected = expected_of(roster, plan)
    return {place: whole_minutes(at - expected[place].opens_at) for place, at in openings(day).items()}


def entries_of(day: Iterable[Sent]) -> list[Entry]:
    """What the office keeps of a made-up day of the sample county: the first under each key."""
    county, plan = sample_county(), sample_plan()
    taken: dict[str, Entry] = {}
    for sent in day:
        if not sent.is_mistake:
            entry = take(sent.raw, Hand("d", "d", sent.how, sent.at), county, plan)
            taken.setdefault(entry.key, entry)
    return list(taken.values())
