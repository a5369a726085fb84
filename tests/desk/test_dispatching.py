"""What the board suggests is worked out once, is asked by many, and follows what the cases are."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from county import dispatching
from county.dispatching import suggestion
from county.domain.dispatch import suggest
from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.entries import Entry
from county.domain.picture import Picture
from county.domain.roster import Rover
from county.wiring import Office
from tests.an_office import ROSTER, an_office
from tests.builders import after, an_action, an_exception

TWO = replace(ROSTER, rovers=(Rover("R03", "Rover Three"), Rover("R04", "Rover Four")))
OUT = an_exception("no-power", after(60))
NAME = "P014.no-power"
NOW = after(65)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    with an_office(tmp_path) as office:
        settings = DispatchSettings(needs={"no-power": Need(30)}, steps=2_000)
        yield replace(office, plan=replace(office.plan, dispatch=settings))


def picture(office: Office, *entries: Entry) -> Picture:
    return Picture.of(TWO, office.plan, entries)


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[None]:
    """Grows by one each time a suggestion is really worked out."""
    times: list[None] = []

    def counted(*given: object, **more: object) -> object:
        times.append(None)
        return suggest(*given, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(dispatching, "suggest", counted)
    return times


def test_a_case_is_suggested_a_rover(office: Office) -> None:
    stop = suggestion(office, picture(office, OUT), NOW).stop_for(NAME)
    assert stop is not None
    assert stop.rover in ("R03", "R04")


def test_the_same_question_in_the_same_minute_is_worked_out_once(office: Office, worked_out: list[None]) -> None:
    drawn = picture(office, OUT)
    first = suggestion(office, drawn, NOW)
    drawn.add([an_exception("other", after(61), place="P015", effect="record")])
    drawn.add([an_action("P015.other", "withdraw", after(62))])
    assert suggestion(office, drawn, after(65.5)) is first
    assert len(worked_out) == 1


def test_another_minute_and_another_case_are_another_question(office: Office, worked_out: list[None]) -> None:
    drawn = picture(office, OUT)
    first = suggestion(office, drawn, NOW)
    assert suggestion(office, drawn, after(66)) is not first
    drawn.add([an_exception("no-power", after(61), place="P015")])
    second = suggestion(office, drawn, after(66))
    assert second.stop_for("P015.no-power") is not None
    assert len(worked_out) == 3


def test_many_who_ask_at_once_wait_for_one_answer(office: Office, worked_out: list[None]) -> None:
    drawn = picture(office, OUT)
    with ThreadPoolExecutor(8) as asking:
        answers = list(asking.map(lambda _: suggestion(office, drawn, NOW), range(8)))
    assert all(answer is answers[0] for answer in answers)
    assert len(worked_out) == 1


def test_whoever_turned_it_down_is_not_suggested_again(office: Office) -> None:
    sent = an_action(NAME, "assign", after(61), rover="R03")
    down = an_action(NAME, "cannot", after(62), rover="R03", note="flat tyre")
    found = suggestion(office, picture(office, OUT, sent, down), NOW)
    stop = found.stop_for(NAME)
    assert stop is not None
    assert stop.rover == "R04"
    assert [offer.rover for offer in found.offers[NAME]] == ["R04"]


def test_the_county_s_settings_and_its_own_ways_are_used(office: Office) -> None:
    beside = office.settings.plan.parent / "ways.csv"
    beside.write_text("from,to,minutes\nR03,P014,25\nR04,P014,7\n")
    by_county = named(office, "ways.csv")
    stop = suggestion(by_county, picture(by_county, OUT), NOW).stop_for(NAME)
    assert stop is not None
    assert (stop.rover, stop.minutes) == ("R04", 7)


def test_ways_that_can_no_longer_be_read_are_said_and_distance_has_to_do(
    office: Office, caplog: pytest.LogCaptureFixture
) -> None:
    without = named(office, "gone.csv")
    found = suggestion(without, picture(without, OUT), NOW)
    assert found.stop_for(NAME) is not None
    assert found.remark == "gone.csv cannot be read, so minutes are reckoned by distance alone"
    assert "gone.csv: there is no such file" in caplog.text


def named(office: Office, file: str) -> Office:
    return replace(office, plan=replace(office.plan, dispatch=replace(office.plan.dispatch, matrix_file=file)))
