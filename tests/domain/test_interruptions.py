"""When voting was stopped or impaired: intervals from reports, however they came and in whatever order."""

from datetime import datetime, timedelta
from itertools import permutations

import pytest

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.interruptions import Interruption, began
from tests.builders import a_correction, a_withdrawal, after, an_exception, an_interruption, the_end
from tests.looking import the_day


def found(*entries: Entry) -> tuple[Interruption, ...]:
    first, *others = [the_day(*order).interruptions for order in permutations(entries)]
    assert all(other == first for other in others), "the order of arrival changes what is found"
    return first


def spans(*entries: Entry) -> list[tuple[datetime, datetime | None, Effect]]:
    return [(each.begins, each.ends, each.effect) for each in found(*entries)]


def test_an_interruption_runs_until_its_end() -> None:
    begun = an_interruption("stopped", after(60), exception="no-power")
    assert spans(begun) == [(after(60), None, Effect.STOPPED)]
    assert spans(begun, the_end(after(75), exception="no-power")) == [(after(60), after(75), Effect.STOPPED)]


def test_it_began_when_the_report_says_since() -> None:
    assert spans(an_interruption("stopped", after(60), since="2026-11-03T12:45:00Z"))[0][0] == after(45)


@pytest.mark.parametrize(
    ("since", "begins"),
    [
        ("", after(60)),
        ("2026-11-03T13:00:00Z", after(60)),
        ("2026-11-03T13:30:00Z", after(60)),
        ("2026-11-02T13:00:00Z", after(60) - timedelta(hours=24)),
        ("2026-11-02T12:59:59Z", after(60)),
        ("2025-11-03T12:45:00Z", after(60)),
        ("0001-01-01T00:00:00Z", after(60)),
        ("not a time", after(60)),
    ],
)
def test_since_is_believed_for_a_day_back_and_never_forward(since: str, begins: datetime) -> None:
    assert began(an_exception("other", after(60), since=since)) == begins


def test_a_second_report_of_the_same_trouble_is_the_same_interval() -> None:
    (interval,) = found(
        an_interruption("stopped", after(60), exception="no-power", device=""),
        an_interruption("stopped", after(70), exception="no-power", fallback="paper", voters_left=4),
    )
    assert (interval.begins, interval.ends, interval.fallback, interval.voters_left) == (after(60), None, "paper", 4)
    assert len(interval.reports) == 2


def test_a_later_report_may_say_that_it_began_earlier() -> None:
    again = an_interruption("stopped", after(70), since="2026-11-03T12:50:00Z")
    assert spans(an_interruption("stopped", after(60)), again) == [(after(50), None, Effect.STOPPED)]


def test_another_effect_is_the_next_interval_of_the_same_trouble() -> None:
    entries = [
        an_interruption("impaired", after(60), fallback="paper"),
        an_interruption("stopped", after(70)),
        the_end(after(80)),
    ]
    assert spans(*entries) == [(after(60), after(70), Effect.IMPAIRED), (after(70), after(80), Effect.STOPPED)]
    assert {each.trouble for each in found(*entries)} == {entries[0].key}
    assert [each.fallback for each in found(*entries)] == ["paper", "paper"]


def test_troubles_of_two_kinds_run_beside_each_other() -> None:
    entries = [
        an_interruption("stopped", after(60), exception="no-power"),
        an_interruption("impaired", after(65), exception="pollbook-outage"),
        the_end(after(70), exception="no-power"),
    ]
    assert spans(*entries) == [(after(60), after(70), Effect.STOPPED), (after(65), None, Effect.IMPAIRED)]


def test_the_same_trouble_on_two_devices_is_two_intervals() -> None:
    one, two = (
        an_interruption("stopped", after(60), exception="scanner-jam", device=d) for d in ("SC-0141", "SC-0142")
    )
    over = the_end(after(70), exception="scanner-jam", device="SC-0142")
    assert {(each.device, each.ends) for each in found(one, two, over)} == {("SC-0141", None), ("SC-0142", after(70))}


def test_an_end_that_names_nothing_ends_what_began_last() -> None:
    entries = [
        an_interruption("stopped", after(60), exception="no-power"),
        an_interruption("impaired", after(65), exception="scanner-jam", device="SC-0141"),
        the_end(after(70)),
    ]
    assert [(each.exception, each.ends) for each in found(*entries)] == [("no-power", None), ("scanner-jam", after(70))]


def test_an_end_of_another_trouble_ends_nothing() -> None:
    begun = an_interruption("stopped", after(60), exception="no-power")
    assert spans(begun, the_end(after(70), exception="fire")) == [(after(60), None, Effect.STOPPED)]
    assert spans(begun, the_end(after(70), device="SC-0141")) == [(after(60), None, Effect.STOPPED)]


def test_an_end_that_arrives_before_its_beginning_ends_it_all_the_same() -> None:
    begun = an_interruption("stopped", after(60), received_at=after(90))
    assert spans(the_end(after(70), received_at=after(71)), begun) == [(after(60), after(70), Effect.STOPPED)]


def test_an_end_before_every_beginning_ends_nothing() -> None:
    assert spans(the_end(after(50)), an_interruption("stopped", after(60))) == [(after(60), None, Effect.STOPPED)]
    assert spans(the_end(after(50))) == []


def test_an_end_alone_counts_where_it_says_since_when() -> None:
    over = the_end(after(70), since="2026-11-03T13:00:00Z", exception="no-power", effect="impaired")
    assert spans(over) == [(after(60), after(70), Effect.IMPAIRED)]
    without_effect = the_end(after(70), since="2026-11-03T13:00:00Z")
    assert spans(without_effect) == [(after(60), after(70), Effect.STOPPED)]


@pytest.mark.parametrize("keys", [("a", "b"), ("b", "a")])
def test_a_beginning_and_its_end_of_the_same_moment_are_over(keys: tuple[str, str]) -> None:
    begun, over = an_interruption("stopped", after(60), key=keys[0]), the_end(after(60), key=keys[1])
    assert spans(begun, over) == [(after(60), after(60), Effect.STOPPED)]


def test_ended_and_begun_again_later_are_two_troubles() -> None:
    entries = [
        an_interruption("stopped", after(60)),
        the_end(after(70)),
        an_interruption("stopped", after(80)),
        the_end(after(90)),
    ]
    assert [(begins, ends) for begins, ends, _ in spans(*entries)] == [(after(60), after(70)), (after(80), after(90))]
    assert len({each.trouble for each in found(*entries)}) == 2


def test_a_withdrawn_report_begins_nothing_and_a_withdrawn_end_ends_nothing() -> None:
    begun, over = an_interruption("stopped", after(60)), the_end(after(70))
    assert spans(begun, a_withdrawal(begun)) == []
    assert spans(begun, over, a_withdrawal(over)) == [(after(60), None, Effect.STOPPED)]


def test_a_corrected_time_moves_the_interval() -> None:
    begun = an_interruption("stopped", after(60))
    moved = a_correction(begun, after(65), told=True, received_at=after(80))
    assert spans(begun, moved) == [(after(65), None, Effect.STOPPED)]


@pytest.mark.parametrize("keys", [("a", "b"), ("b", "a")])
def test_an_effect_told_twice_at_one_moment_leaves_one_interval_running(keys: tuple[str, str]) -> None:
    first, second = (an_interruption(e, after(60), key=k) for e, k in zip(("impaired", "stopped"), keys, strict=True))
    intervals = found(first, second)
    assert [each.ends for each in intervals] == [after(60), None]
    assert intervals[-1].key == max(keys)
