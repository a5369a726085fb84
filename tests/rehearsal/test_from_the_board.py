"""A rehearsal begun beside the office: in a ledger of its own, marked everywhere, told how it went, and stopped."""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from county import desk, plans, upkeep
from county.domain.entries import Kind
from county.domain.intake import Hand
from county.domain.people import Person, Role
from county.errors import BadPlan, NotFound
from county.rehearsal.from_the_board import Asked, Running, begin, first_places
from county.rehearsal.roster import made_up_county
from county.rehearsed import results
from county.setting_up import set_up
from county.settings import settings_from
from county.staffing import add_person, everyone
from county.wiring import Office, open_office

PLACES = 3
PATIENCE = 90.0


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """An office whose plan is the real day's."""
    settings = settings_from({"POLLRISE_DATA": str(tmp_path / "data")})
    set_up(settings)
    opened = open_office(settings)
    upkeep.load_roster(opened, made_up_county(8))
    add_person(opened, Person("Odessa Marl", Role.LEAD))
    text = settings.plan.read_text(encoding="utf-8").replace("rehearsal = true", "rehearsal = false")
    hand = Hand("desk:Odessa", "Odessa", "board", opened.clock.now())
    plans.save(opened, text, hand, based_on=0, sure=True)
    opened.engine.dispose()
    opened = open_office(settings)
    yield opened
    opened.engine.dispose()


def wait_until(is_so: Callable[[], object], running: Running) -> None:
    until = time.monotonic() + PATIENCE
    while not is_so():
        assert time.monotonic() < until, running.said()
        time.sleep(0.1)


def its_own(running: Running) -> Office:
    return open_office(settings_from({"POLLRISE_DATA": str(running.folder)}))


def test_it_plays_to_its_end_in_a_ledger_of_its_own_and_says_how_it_went(office: Office) -> None:
    before = desk.last_seq(office)
    running = begin(office, Asked(PLACES, 0, "rough"))
    try:
        assert running.result() is None
        wait_until(lambda: not running.going_on, running)
    finally:
        running.stop()
    result = running.result()
    assert result is not None, running.said()
    assert (result.whole, result.places, result.broken, result.says) == (True, PLACES, 0, "")
    assert results(office.settings) == (result,)
    assert running.progress().sent == running.progress().total > 0
    assert desk.last_seq(office) == before

    rehearsed = its_own(running)
    assert rehearsed.plan.election.rehearsal
    assert {person.name for person in everyone(rehearsed)} >= {"Odessa Marl"}
    assert upkeep.live_keys(rehearsed) == {}
    entries = desk.ledger_pages(rehearsed, limit=10_000)
    assert len(entries) == result.entries
    assert {entry["clock"] for entry in entries if entry["kind"] in (Kind.STEP, Kind.COUNT)} == {"set"}
    day = rehearsed.settings.plan.read_text(encoding="utf-8").replace("rehearsal = true", "rehearsal = false")
    hand, number = Hand("desk:x", "x", "board", rehearsed.clock.now()), plans.standing(rehearsed).number
    with pytest.raises(BadPlan, match="can never be the day's"):
        plans.save(rehearsed, day, hand, based_on=number, sure=True)
    rehearsed.engine.dispose()


def test_told_to_stop_it_ends_with_all_its_programs(office: Office) -> None:
    running = begin(office, Asked(PLACES, 1, "normal"))
    try:
        wait_until(lambda: running.progress().board or not running.going_on, running)
    finally:
        running.stop()
    result = running.result()
    assert result is not None
    assert (result.whole, result.says) == (False, "stopped before its end")
    assert (running.folder / "dashboard.txt").read_text().splitlines()[-1] == "The board has stopped."


def test_left_alone_it_ends_by_itself(office: Office) -> None:
    running = begin(office, Asked(PLACES, 0, "normal"))
    try:
        wait_until(lambda: running.progress().total or not running.going_on, running)
        assert running.process.stdin is not None
        running.process.stdin.close()
        wait_until(lambda: not running.going_on, running)
    finally:
        running.stop()
    result = running.result()
    assert result is not None
    assert (result.whole, result.says) == (False, "stopped before its end")


def test_without_a_roster_nothing_is_begun(office: Office) -> None:
    empty = replace(office, settings=replace(office.settings, data=office.settings.data / "none"))
    with pytest.raises(NotFound, match="there is no day called wild"):
        begin(empty, Asked(PLACES, 0, "wild"))
    assert not (office.settings.data / "none").exists()


def test_a_part_of_the_county_is_whole_in_itself() -> None:
    county = made_up_county(8)
    part = first_places(county, PLACES)
    assert [place.place for place in part.places] == [place.place for place in county.places[:PLACES]]
    assert {device.place for device in part.devices} == {place.place for place in part.places}
    assert {seal.device for seal in part.seals} <= {device.device for device in part.devices}
    assert first_places(county, 100) == county
