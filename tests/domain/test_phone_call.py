"""A call becomes one report that intake takes: which one depends on who can vote and who is in danger."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from county.domain.entries import Entry
from county.domain.intake import take
from county.domain.phone_call import PhoneCall, Voting, kinds_to_ask, report_of, since_when
from county.domain.picture import Picture
from county.errors import Refused
from tests.builders import OPENS, a_full_opening, a_hand, a_plan, a_roster, a_step, after

ZONE = ZoneInfo("America/Chicago")
CALL = PhoneCall("P014", Voting.YES, False, "scanner-jam", "", "officer in charge")


def taken(call: PhoneCall, entries: Iterable[Entry] = (), now: datetime = OPENS, zone: ZoneInfo = ZONE) -> Entry:
    """The entry that intake makes of a call."""
    picture = Picture.of(a_roster(), a_plan(), entries)
    raw = report_of(call, "board-1", picture.places["P014"].day, a_plan(), now, zone)
    return take(raw, a_hand(now), a_roster(), a_plan())


@pytest.mark.parametrize(
    ("voting", "danger", "exception", "kind", "effect"),
    [
        (Voting.YES, False, "scanner-jam", "exception", "at-risk"),
        (Voting.SLOWER, False, "scanner-jam", "interruption", "impaired"),
        (Voting.NO, False, "no-power", "interruption", "stopped"),
        (Voting.YES, True, "scanner-jam", "exception", "danger"),
        (Voting.NO, True, "no-power", "exception", "danger"),
        (Voting.YES, False, "fire", "exception", "danger"),
    ],
)
def test_at_an_open_place(voting: Voting, danger: bool, exception: str, kind: str, effect: str) -> None:
    call = replace(CALL, voting=voting, danger=danger, exception=exception)
    entry = taken(call, a_full_opening(), after(30))
    assert (entry.kind, entry.text("effect"), entry.text("exception")) == (kind, effect, exception)


@pytest.mark.parametrize("entries", [(), (*a_full_opening(), a_step("closed", after(10)))], ids=["before", "after"])
def test_where_nobody_votes_yet_or_any_more_nothing_is_interrupted(entries: tuple[Entry, ...]) -> None:
    entry = taken(replace(CALL, voting=Voting.NO), entries, after(30))
    assert (entry.kind, entry.text("effect")) == ("exception", "stopped")


def test_the_callers_role_stands_in_the_note_before_what_they_said() -> None:
    assert taken(CALL).text("note") == "Call from an officer in charge"
    assert taken(replace(CALL, role="voter", note=" paper is torn ")).text("note") == "Call from a voter; paper is torn"


def test_a_device_is_kept_but_a_stop_is_the_places() -> None:
    call = replace(CALL, device="SC-0141")
    assert taken(call).device == "SC-0141"
    stopped = taken(replace(call, voting=Voting.NO), a_full_opening(), after(5))
    assert stopped.device == ""
    assert "SC-0141" in stopped.text("note")


def test_every_question_still_open_is_said_by_field() -> None:
    with pytest.raises(Refused) as refused:
        report_of(PhoneCall(since="soon"), "board-1", None, a_plan(), OPENS, ZONE)
    named = {problem.field for problem in refused.value.problems}
    assert named == {"place", "voting", "danger", "exception", "role", "since"}


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("10 min", 20), ("10", 20), ("10 minutes ago", 20), ("6:10", 10), ("0610", 10), ("610", 10), ("6:10 am", 10)],
)
def test_since_when_is_read_as_people_say_it(said: str, minutes: int) -> None:
    assert since_when(said, ZONE, after(30)) == after(minutes)


def test_the_caller_says_the_time_of_the_places_own_zone() -> None:
    call = replace(CALL, since="7:10")
    assert taken(call, now=after(30), zone=ZoneInfo("America/New_York")).text("since") == "2026-11-03T12:10:00Z"


@pytest.mark.parametrize("said", ["", " ", "now"])
def test_nothing_said_is_now(said: str) -> None:
    assert since_when(said, ZONE, OPENS) is None


@pytest.mark.parametrize("said", ["soon", "25:00", "6:40", "601 min", "-5", "6:99"])
def test_what_is_no_time_or_lies_ahead_is_refused(said: str) -> None:
    with pytest.raises(ValueError, match=r"time|still to come|too long ago"):
        since_when(said, ZONE, after(30))


def test_only_what_people_call_in_is_asked_and_other_comes_last() -> None:
    asked = [kind.key for kind in kinds_to_ask(a_plan())]
    assert asked[0] == "scanner-jam"
    assert asked[-1] == "other"
    assert "silent" not in asked
    assert len(set(asked)) == len(asked)
