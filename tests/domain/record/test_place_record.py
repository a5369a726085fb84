"""One place's record and who knew when: nothing left out, what was put right struck, every point in its order."""

from typing import Any

from hypothesis import given

from county.domain.entries import Entry, Kind
from county.domain.picture import Picture
from county.domain.record.place_record import lines
from county.domain.record.who_knew import Knew, first_to_act, who_knew
from tests.builders import (
    a_correction,
    a_plan,
    a_roster,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_entry,
    an_exception,
    raised,
)
from tests.days import days


def picture(*entries: Entry) -> Picture:
    return Picture.of(a_roster(), a_plan(), entries)


@given(days())
def test_the_record_holds_every_entry_of_the_place_once_in_the_order_it_happened(day: list[Entry]) -> None:
    drawn = picture(*day)
    for place, state in drawn.places.items():
        found = lines(state.day)
        assert sorted(line.entry.key for line in found) == sorted({e.key for e in day if e.place == place})
        moments = [line.entry.happened_at for line in found]
        assert moments == sorted(moments)
        assert all(
            line.struck == bool(line.corrections and line.stands != line.entry) for line in found if not line.stands
        )


def test_what_was_put_right_is_struck_beside_what_stands() -> None:
    told = a_step("open", after(4), key="told")
    righted = a_correction(told, after(34), told=True, received_at=after(90))
    gone = an_exception("scanner-jam", after(60))
    first, second, third, fourth = lines(picture(told, righted, gone, a_withdrawal(gone)).places["P014"].day)
    assert (first.entry, first.struck, first.corrections) == (told, True, (righted,))
    assert first.stands is not None
    assert first.stands.happened_at == after(34)
    assert (second.entry, second.corrects) == (righted, told)
    assert (third.entry, third.struck, third.stands) == (gone, True, None)
    assert fourth.corrects == gone


def test_a_correction_that_changes_nothing_strikes_nothing() -> None:
    told = an_exception("scanner-jam", after(5), note="tray full")
    (first, _) = lines(picture(told, a_correction(told, note="tray full")).places["P014"].day)
    assert not first.struck
    assert first.corrections


def a_notice(fact: str, minutes: float) -> Entry:
    more: dict[str, Any] = {"person": "Ada Rill", "role": "lead", "channel": "e-mail"} if fact == "owed" else {}
    return an_entry(
        Kind.NOTICE,
        after(minutes),
        by="notices",
        case="P014.late-opening",
        notice="n1",
        telling="t1",
        fact=fact,
        **more,
    )


def test_who_knew_when_goes_from_when_it_was_true_to_how_it_ended() -> None:
    drawn = picture(
        raised("late-opening", "open", after(0)),
        a_notice("owed", 1),
        a_notice("arrived", 2),
        an_action("P014.late-opening", "acknowledge", after(6)),
        an_action("P014.late-opening", "assign", after(8), rover="R03", received_at=after(9)),
        a_step("open", after(34), received_at=after(52)),
    )
    state = drawn.places["P014"]
    (case,) = state.cases
    points = who_knew(state, case)
    assert [(point.what, point.who, point.action) for point in points] == [
        (Knew.TRUE, "P014", ""),
        (Knew.LEARNED, "clock", ""),
        (Knew.NOTICE_ARRIVED, "Ada Rill", ""),
        (Knew.DID, "Front desk", "acknowledge"),
        (Knew.DID, "Front desk", "assign"),
        (Knew.ENDED_BY_FACTS, "the facts", "clear"),
    ]
    assert [(point.at, point.learned_at, point.rover) for point in points if point.action == "assign"] == [
        (after(8), after(9), "R03")
    ]
    assert first_to_act(case) == "Front desk"
