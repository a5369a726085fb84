"""clock-off: a sender's clock differs by an hour, as if not changed, or is otherwise ahead."""

from datetime import timedelta

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry, Stamp
from county.domain.moments import write_moment
from tests.builders import a_note, after, an_action, raised
from tests.looking import found_by, the_cases


def ahead(minutes: float, received: float = 0, **more: object) -> Entry:
    told_at = write_moment(after(received + minutes))
    stamp = {"stamp": Stamp.CLOCK_AHEAD, "told_at": told_at}
    return a_note(after(received), received_at=after(received), **stamp, **more)  # type: ignore[arg-type]


def behind(minutes: float, received: float = 60, **more: object) -> Entry:
    return a_note(after(received) - timedelta(minutes=minutes), received_at=after(received), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("minutes", "exception"),
    [
        (3, "clock-ahead"),
        (54.9, "clock-ahead"),
        (55, "clock-not-changed"),
        (60, "clock-not-changed"),
        (65, "clock-not-changed"),
        (65.1, "clock-ahead"),
        (1_440, "clock-ahead"),
    ],
)
def test_ahead_by_an_hour_it_was_not_changed_and_otherwise_it_is_ahead(minutes: float, exception: str) -> None:
    (finding,) = found_by("clock-off", ahead(minutes))
    assert finding.exception == exception
    assert finding.says == f"time told is {int(minutes)} min ahead of the office's clock"
    assert (finding.effect, finding.since, finding.device) == (Effect.RECORD, after(0), "")


@pytest.mark.parametrize(("minutes", "raises"), [(0, False), (54.9, False), (55, True), (65, True), (65.1, False)])
def test_behind_by_an_hour_raises_it_or_it_was_sent_late(minutes: float, raises: bool) -> None:
    found = found_by("clock-off", behind(minutes))
    assert bool(found) is raises
    if raises:
        assert found[0].exception == "clock-not-changed"
        assert found[0].says == f"time told is {minutes} min behind the office's clock, or it was sent late"


def test_what_others_tell_an_hour_later_is_no_sign_of_a_clock() -> None:
    told = [
        behind(60, sender="desk:Front desk"),
        behind(60, sender="drop:night.csv"),
        raised("silent", "x", after(0), received_at=after(60)),
        an_action("P014.silent", "note", after(0), received_at=after(60)),
        behind(60, stamp=Stamp.RECEIVED),
        behind(60, stamp=Stamp.CLOCK_BEHIND),
    ]
    assert found_by("clock-off", *told) == []


def test_each_sender_is_said_once_since_it_was_first_seen() -> None:
    found = found_by("clock-off", ahead(60, 30), ahead(60, 10), ahead(60, 20, sender="desk:Front desk"))
    assert [(finding.since, finding.cause) for finding in found] == [
        (after(10), "clock:place:P014"),
        (after(20), "clock:desk:Front desk"),
    ]


def test_both_signs_are_kept_beside_each_other() -> None:
    assert the_cases(ahead(60, 30), ahead(10, 40)).keys() == {"P014.clock-not-changed", "P014.clock-ahead"}
