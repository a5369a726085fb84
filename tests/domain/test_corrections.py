"""Corrections are added, nothing is deleted; what stands does not depend on which arrived first."""

from datetime import timedelta
from itertools import permutations

import pytest

from county.domain.corrections import PutRight, put_right
from county.domain.entries import Entry, Stamp
from tests.builders import a_correction, a_note, a_step, a_withdrawal, after, an_action

ZERO = a_step("zero-report", after(-16), device="SC-0141", public_counter=3, note="tape 1")


def only(*entries: Entry) -> PutRight:
    (found,) = put_right(entries)
    return found


def stands(*entries: Entry) -> Entry | None:
    return only(*entries).stands


def counter(*entries: Entry) -> int | None:
    standing = stands(*entries)
    return standing.number("public_counter") if standing else None


def test_a_report_nobody_corrects_is_not_put_right() -> None:
    assert put_right([ZERO, a_note()]) == ()


def test_a_correction_replaces_what_it_says_and_keeps_the_rest() -> None:
    standing = stands(ZERO, a_correction(ZERO, public_counter=0))
    assert standing is not None
    assert standing.fields == {**ZERO.fields, "public_counter": 0}
    assert standing.key == ZERO.key


def test_the_report_stays_readable_as_it_was_told() -> None:
    correction = a_correction(ZERO, public_counter=0, reason="misread")
    assert only(ZERO, correction) == PutRight(ZERO, stands(ZERO, correction), (correction,))


def test_reason_and_the_correction_itself_are_not_part_of_the_report() -> None:
    standing = stands(ZERO, a_correction(ZERO, public_counter=0, reason="misread"))
    assert standing is not None
    assert {"reason", "corrects", "withdraw"}.isdisjoint(standing.fields)


def test_the_later_learned_correction_holds() -> None:
    first, second = a_correction(ZERO, after(1), public_counter=1), a_correction(ZERO, after(2), public_counter=2)
    assert {counter(*order) for order in permutations([ZERO, first, second])} == {2}


def test_corrections_learned_at_the_same_moment_hold_in_the_order_of_their_keys() -> None:
    one, two = (a_correction(ZERO, after(1), key=f"c-{n}", public_counter=n) for n in (1, 2))
    assert {counter(*order) for order in permutations([ZERO, one, two])} == {2}


def test_a_correction_with_a_told_time_moves_the_report() -> None:
    standing = stands(ZERO, a_correction(ZERO, after(-20), told=True, received_at=after(5), public_counter=0))
    assert standing is not None
    assert standing.happened_at == after(-20)


@pytest.mark.parametrize("stamp", [Stamp.RECEIVED, Stamp.CLOCK_AHEAD, Stamp.CLOCK_BEHIND])
def test_a_correction_without_a_time_that_can_be_used_leaves_the_report_where_it_was(stamp: Stamp) -> None:
    standing = stands(ZERO, a_correction(ZERO, after(30), stamp=stamp, public_counter=0))
    assert standing is not None
    assert standing.happened_at == ZERO.happened_at


def test_a_corrected_report_is_learned_when_its_last_correction_was() -> None:
    standing = stands(ZERO, a_correction(ZERO, after(30), public_counter=0))
    assert standing is not None
    assert standing.received_at == after(30)


def test_a_withdrawn_report_does_not_stand() -> None:
    assert stands(ZERO, a_withdrawal(ZERO)) is None


def test_withdraw_false_withdraws_nothing() -> None:
    assert counter(ZERO, a_correction(ZERO, public_counter=0, withdraw=False)) == 0


def test_a_withdrawn_report_stays_withdrawn_whatever_is_corrected_later() -> None:
    assert stands(ZERO, a_withdrawal(ZERO, after(1)), a_correction(ZERO, after(2), public_counter=0)) is None


def test_a_withdrawal_taken_back_lets_the_report_stand_again() -> None:
    withdrawal = a_withdrawal(ZERO, after(1))
    assert stands(ZERO, withdrawal, a_withdrawal(withdrawal, after(2))) == ZERO


def test_a_correction_taken_back_lets_the_first_words_stand_again() -> None:
    correction = a_correction(ZERO, after(1), public_counter=0)
    back = a_withdrawal(correction, after(2))
    assert only(ZERO, correction, back) == PutRight(ZERO, ZERO, (correction, back))


def test_taking_back_a_taking_back_restores_the_correction() -> None:
    correction = a_correction(ZERO, after(1), public_counter=0)
    back = a_withdrawal(correction, after(2))
    restored = a_withdrawal(back, after(3))
    assert counter(ZERO, correction, back, restored) == 0


def test_taking_back_holds_even_where_it_was_learned_before_what_it_takes_back() -> None:
    correction = a_correction(ZERO, after(9), key="c", public_counter=0)
    back = a_withdrawal("c", after(6), key="b", place="P014")
    restored = a_withdrawal("b", after(3), key="a", place="P014")
    for order in permutations([ZERO, correction, back, restored]):
        assert counter(*order) == 0


def test_a_correction_of_a_correction_speaks_of_the_report_at_its_root() -> None:
    first = a_correction(ZERO, after(1), public_counter=1)
    second = a_correction(first, after(2), public_counter=0)
    assert counter(ZERO, first, second) == 0
    assert [c.key for c in only(ZERO, first, second).corrections] == [first.key, second.key]


def test_a_correction_of_a_correction_holds_although_the_first_was_taken_back() -> None:
    first = a_correction(ZERO, after(1), public_counter=1, copies=3)
    second = a_correction(first, after(2), public_counter=0)
    standing = stands(ZERO, first, second, a_withdrawal(first, after(3)))
    assert standing is not None
    assert standing.number("public_counter") == 0
    assert standing.number("copies") is None


@pytest.mark.parametrize(
    "lost",
    [
        [a_correction("nobody", key="c")],
        [a_correction("c", key="c", public_counter=0)],
        [a_withdrawal("c", key="c")],
        [a_correction("d", key="c"), a_withdrawal("c", key="d")],
        [a_correction("c", key="b"), a_correction("d", key="c"), a_withdrawal("c", key="d")],
    ],
    ids=["of nothing", "of itself", "withdraws itself", "a circle of two", "into a circle"],
)
def test_a_correction_that_leads_nowhere_changes_nothing(lost: list[Entry]) -> None:
    assert put_right([ZERO, *lost]) == ()


def test_only_reports_can_be_corrected_not_what_people_did() -> None:
    action = an_action("P014.silent", "acknowledge")
    assert put_right([action, a_withdrawal(action.key)]) == ()


def test_a_very_long_chain_of_corrections_is_followed() -> None:
    chain = [a_withdrawal(ZERO, after(0), key="c-0")]
    chain += [
        a_withdrawal(f"c-{number - 1}", after(0) + timedelta(seconds=number), key=f"c-{number}")
        for number in range(1, 3_000)
    ]
    # the first withdraws, the second takes that back, and so on: an even number of them leaves the report standing
    assert stands(ZERO, *chain) == ZERO
    assert stands(ZERO, *chain[:-1]) is None
