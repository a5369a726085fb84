"""What facts may end and what they may not: an opening, a step done, an end; never what needs a person."""

from dataclasses import replace
from itertools import permutations

import pytest

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.exception_kinds import EXCEPTION_KINDS
from tests.builders import (
    a_correction,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.looking import the_case, the_cases


def lived(*others: Entry, report: Entry, name: str) -> Case:
    """The case of a report, whatever the order in which the others arrive."""
    first, *again = [the_case(name, *order) for order in permutations([report, *others])]
    assert all(case == first for case in again), "the order of arrival changes the case"
    return first


def test_a_late_opening_is_cleared_when_the_place_opens() -> None:
    late = raised("late-opening", "open", after(0), effect="stopped")
    opened = a_step("open", after(17))
    case = lived(report=late, name="P014.late-opening")
    assert (case.state, case.effect) == (State.RAISED, Effect.STOPPED)
    case = lived(opened, report=late, name="P014.late-opening")
    assert (case.state, case.cleared_at, case.cleared_says) == (State.CLEARED, after(17), "the facts: the place opened")


def test_a_place_that_did_open_in_time_and_was_heard_late_clears_the_case_as_it_was_raised() -> None:
    late = raised("late-opening", "open", after(0), effect="stopped")
    opened = a_step("open", before(1), received_at=after(30))
    case = lived(opened, report=late, name="P014.late-opening")
    assert (case.state, case.raised_at, case.cleared_at) == (State.CLEARED, after(0), after(0))


def test_an_opening_withdrawn_puts_the_late_opening_back_on_the_board() -> None:
    late, opened = raised("late-opening", "open", after(0), effect="stopped"), a_step("open", after(17))
    case = the_case("P014.late-opening", late, opened, a_withdrawal(opened, after(20)))
    assert (case.state, case.ended_at) == (State.RAISED, None)


def test_a_step_overdue_is_cleared_when_the_step_is_done() -> None:
    overdue = raised("step-overdue", "staffed", before(40))
    assert the_case("P014.step-overdue", overdue).state is State.RAISED
    case = the_case("P014.step-overdue", overdue, a_step("staffed", before(31)))
    assert (case.state, case.cleared_at) == (State.CLEARED, before(31))


def test_steps_overdue_together_are_one_case_until_the_last_is_done() -> None:
    overdue = [raised("step-overdue", "staffed", before(40)), raised("step-overdue", "powered", before(20))]
    one_done = [*overdue, a_step("staffed", before(15))]
    assert the_case("P014.step-overdue", *one_done).state is State.RAISED
    case = the_case("P014.step-overdue", *one_done, a_step("powered", before(12)))
    assert (case.state, case.cleared_at) == (State.CLEARED, before(12))


def test_a_step_overdue_after_the_first_was_done_is_another_case() -> None:
    entries = [
        raised("step-overdue", "staffed", before(40)),
        a_step("staffed", before(31)),
        raised("step-overdue", "powered", before(20)),
    ]
    cases = the_cases(*entries)
    assert cases["P014.step-overdue"].state is State.CLEARED
    assert cases["P014.step-overdue.2"].state is State.RAISED


def test_what_facts_ended_a_person_may_reopen() -> None:
    entries = [raised("step-overdue", "staffed", before(40)), a_step("staffed", before(31))]
    reopened = an_action("P014.step-overdue", "reopen", before(20))
    assert the_case("P014.step-overdue", *entries, reopened).state is State.RAISED


def test_a_person_who_cleared_it_first_is_named() -> None:
    entries = [raised("step-overdue", "staffed", before(40)), a_step("staffed", before(31))]
    cleared = an_action("P014.step-overdue", "clear", before(35))
    case = the_case("P014.step-overdue", *entries, cleared)
    assert (case.cleared_at, case.cleared_says) == (before(35), "by Front desk")


def test_what_a_person_reports_of_a_late_opening_is_ended_by_the_opening_too() -> None:
    told = an_exception("late-opening", after(5), effect="stopped")
    late = raised("late-opening", "open", after(0), effect="stopped")
    cases = the_cases(late, told, a_step("open", after(17)))
    assert {case.state for case in cases.values()} == {State.CLEARED}


def test_an_interruption_is_cleared_by_its_end() -> None:
    begun = an_interruption("stopped", after(60), exception="no-power")
    case = lived(the_end(after(75), exception="no-power"), report=begun, name="P014.no-power")
    assert (case.state, case.cleared_at) == (State.CLEARED, after(75))


def test_an_effect_that_changes_keeps_the_case_its_rover_and_its_open_state() -> None:
    entries = [
        an_interruption("impaired", after(60), exception="no-power"),
        an_action("P014.no-power", "assign", after(62), rover="R03"),
        an_interruption("stopped", after(70), exception="no-power"),
    ]
    cases = the_cases(*entries)
    assert cases.keys() == {"P014.no-power"}
    case = cases["P014.no-power"]
    assert (case.state, case.effect, case.rover) == (State.ASSIGNED, Effect.STOPPED, "R03")
    better = an_interruption("impaired", after(90), exception="no-power")
    assert the_case("P014.no-power", *entries, better).effect is Effect.IMPAIRED


def test_a_place_that_says_again_that_voting_is_stopped_after_the_case_was_cleared_raises_another() -> None:
    entries = [
        an_interruption("stopped", after(60), exception="no-power"),
        an_action("P014.no-power", "clear", after(70)),
        an_interruption("stopped", after(90), exception="no-power"),
    ]
    cases = the_cases(*entries)
    assert cases["P014.no-power"].state is State.CLEARED
    assert (cases["P014.no-power.2"].state, cases["P014.no-power.2"].raised_at) == (State.RAISED, after(90))


def test_reported_trouble_is_ended_by_a_person_only() -> None:
    jam = an_exception("scanner-jam", after(60))
    assert the_case("P014.scanner-jam", jam, the_end(after(75), exception="scanner-jam")).state is State.RAISED


# what needs a person

MISMATCH = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="WRONG")
NONZERO = a_step("zero-report", before(16), device="SC-0141", public_counter=3)


@pytest.mark.parametrize(
    ("report", "name", "right"),
    [
        (MISMATCH, "P014.seal-mismatch.SC-0141", {"seal_number": "A100"}),
        (NONZERO, "P014.nonzero-start-count.SC-0141", {"public_counter": 0}),
    ],
)
def test_a_corrected_number_still_needs_a_person(report: Entry, name: str, right: dict[str, object]) -> None:
    correction = a_correction(report, before(5), by="Desk", **right)  # type: ignore[arg-type]
    case = lived(correction, report=report, name=name)
    assert (case.state, case.needs_person, case.effect) == (State.RAISED, True, Effect.STOPPED)
    assert case.says.endswith("(put right by Desk)")
    assert case.raised_at == report.happened_at
    assert case.learned_at == report.received_at, "it was known when it was first reported"


@pytest.mark.parametrize(
    ("report", "name"), [(MISMATCH, "P014.seal-mismatch.SC-0141"), (NONZERO, "P014.nonzero-start-count.SC-0141")]
)
def test_a_withdrawn_report_still_needs_a_person(report: Entry, name: str) -> None:
    case = lived(a_withdrawal(report, before(5), by="Desk"), report=report, name=name)
    assert case.state is State.RAISED
    assert case.says.endswith("(withdrawn by Desk)")


def test_a_correction_that_arrives_before_its_report_does_not_hide_what_the_place_had_said() -> None:
    late = replace(MISMATCH, received_at=before(2))
    correction = a_correction(MISMATCH, before(5), by="Desk", seal_number="A100")
    case = lived(correction, report=late, name="P014.seal-mismatch.SC-0141")
    assert case.state is State.RAISED
    assert case.says.endswith("(put right by Desk)")


def test_a_person_ends_it() -> None:
    cleared = an_action("P014.seal-mismatch.SC-0141", "clear", before(3))
    case = the_case("P014.seal-mismatch.SC-0141", MISMATCH, a_withdrawal(MISMATCH, before(5)), cleared)
    assert case.state is State.CLEARED


def test_a_second_good_seal_check_does_not_clear_a_mismatch() -> None:
    good = a_step("seals-checked", before(20), device="SC-0141", seal_position="front", seal_number="A100")
    assert lived(good, report=MISMATCH, name="P014.seal-mismatch.SC-0141").state is State.RAISED


def test_a_correction_that_makes_a_good_report_bad_raises_the_case_when_it_was_learned() -> None:
    good = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="A100")
    correction = a_correction(good, before(5), seal_number="WRONG")
    case = lived(correction, report=good, name="P014.seal-mismatch.SC-0141")
    assert (case.raised_at, case.learned_at) == (good.happened_at, correction.received_at)


def test_a_correction_taken_back_leaves_the_case_it_had_raised() -> None:
    good = a_step("seals-checked", before(30), device="SC-0141", seal_position="front", seal_number="A100")
    wrong = a_correction(good, before(20), seal_number="WRONG")
    back = a_withdrawal(wrong, before(10), by="Desk")
    case = lived(wrong, back, report=good, name="P014.seal-mismatch.SC-0141")
    assert case.state is State.RAISED
    assert case.says.endswith("(withdrawn by Desk)")


@pytest.mark.parametrize("key", [kind.key for kind in EXCEPTION_KINDS.values() if kind.needs_person])
def test_where_people_or_integrity_are_at_stake_no_end_of_an_interruption_clears_it(key: str) -> None:
    begun = an_interruption("stopped", after(60), exception=key)
    assert the_case(f"P014.{key}", begun, the_end(after(70), exception=key)).state is State.RAISED


# what does not


def test_a_report_of_other_trouble_that_is_withdrawn_withdraws_its_case() -> None:
    jam = an_exception("scanner-jam", after(60))
    case = lived(a_withdrawal(jam, after(65), by="Desk"), report=jam, name="P014.scanner-jam")
    assert (case.state, case.ended_at, case.cleared_at) == (State.WITHDRAWN, after(65), None)
    assert case.cleared_says == "the facts: withdrawn by Desk"


def test_of_two_reports_joined_one_withdrawn_leaves_the_other() -> None:
    jam, again = an_exception("scanner-jam", after(60), effect="stopped"), an_exception("scanner-jam", after(62))
    case = lived(again, a_withdrawal(jam, after(65)), report=jam, name="P014.scanner-jam")
    assert (case.state, case.effect) == (State.RAISED, Effect.IMPAIRED)


def test_a_withdrawal_taken_back_puts_the_case_back_as_it_was() -> None:
    jam = an_exception("scanner-jam", after(60))
    gone = a_withdrawal(jam, after(65))
    case = lived(gone, a_withdrawal(gone, after(66)), report=jam, name="P014.scanner-jam")
    assert (case.state, case.says, case.learned_at) == (State.RAISED, "Scanner jam", jam.received_at)


def test_a_correction_of_the_device_leaves_the_wrong_ones_case_and_raises_the_right_ones() -> None:
    jam = an_exception("scanner-fault", after(60), device="SC-0141")
    cases = the_cases(jam, a_correction(jam, after(65), device="SC-0142", by="Desk"))
    assert cases["P014.scanner-fault.SC-0141"].state is State.WITHDRAWN
    right = cases["P014.scanner-fault.SC-0142"]
    assert (right.state, right.raised_at, right.learned_at) == (State.RAISED, after(60), after(65))
