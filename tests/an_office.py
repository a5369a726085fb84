"""A small office: two places, one with two precincts, a plan, a clock standing still, a real database."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from county.clock import Clock
from county.domain.moments import parse_moment
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.settings import settings_from
from county.store.engine import make_engine
from county.upkeep import load_roster
from county.wiring import Office, open_office
from tests import migrated

PLAN_TEXT = """
[election]
name = "General Election"
county = "Wrenfield County"
date = 2026-11-03
zone = "America/Chicago"
opens = "06:00"
closes = "19:00"
rehearsal = true

[[step]]
key = "staffed"
says = "Officers present"
due = "-30m"
grace = "5m"

[[step]]
key = "seals-checked"
says = "Seals compared"
due = "-25m"
grace = "5m"
per = "device"
types = ["scanner"]

[[step]]
key = "zero-report"
says = "Zero report printed"
due = "-15m"
grace = "5m"
per = "device"
types = ["scanner"]

[[step]]
key = "open"
says = "Polls declared open"
due = "0m"

[[step]]
key = "closed"
says = "Polls declared closed"
due = "close+0m"
"""
ROSTER = Roster(
    places=(Place("P014", "Mill Creek School"), Place("P015", "Grange Hall")),
    precincts=(
        Precinct("14A", "Mill Creek North", "P014"),
        Precinct("14B", "Mill Creek South", "P014"),
        Precinct("15", "Grange", "P015"),
    ),
    devices=(
        Device("SC-0141", "P014", "scanner", protective_counter=48_210),
        Device("SC-0151", "P015", "scanner", protective_counter=100),
    ),
    seals=(Seal("SC-0141", "ballot-box", "A100"),),
    rovers=(Rover("R03", "Rover Three"),),
)


def the_plan() -> Plan:
    return parse_plan(PLAN_TEXT, "plan.toml")


def at(clock: str) -> datetime:
    """A wall time on the morning of election day in the county."""
    moment = parse_moment(f"2026-11-03T{clock}:00-06:00")
    assert moment is not None
    return moment


@contextmanager
def an_office(folder: Path, clock: str = "05:30") -> Iterator[Office]:
    """An office whose clock stands still at this wall time; without a roster."""
    settings = settings_from({"POLLRISE_DATA": str(folder)})
    migrated.put(settings.database_url)
    engine = make_engine(settings.database_url)
    try:
        yield Office(settings, Clock(at(clock), speed=0), the_plan(), engine)
    finally:
        engine.dispose()


def later(office: Office, minutes: float) -> Office:
    """The same office with its clock moved on."""
    starts = office.clock.starts
    assert starts is not None
    return replace(office, clock=replace(office.clock, starts=starts + timedelta(minutes=minutes)))


def set_up(data: Path, now: str = "2026-11-03T05:45:00-06:00x0", roster: Roster = ROSTER) -> Office:
    """Plan, database and roster in a folder, with the clock standing still."""
    data.mkdir(exist_ok=True)
    (data / "plan.toml").write_text(PLAN_TEXT)
    settings = settings_from({"POLLRISE_DATA": str(data), "POLLRISE_NOW": now})
    migrated.put(settings.database_url)
    office = open_office(settings)
    load_roster(office, roster)
    return office
