"""step-overdue: a step's due time and grace have passed and it is not done on every device."""

from county.domain.cases import State
from county.domain.rules.scene import Due
from tests.builders import CLOSES, a_roster, a_step, after, before
from tests.looking import due_by, raised_of, the_case

RULE = "step-overdue"


def test_each_step_is_overdue_at_its_due_time_and_grace() -> None:
    assert due_by(RULE, before(40) - (after(1) - after(0))) == []
    assert due_by(RULE, before(40)) == [Due(before(40), "staffed", "Staffed: not reported")]


def test_every_step_still_to_do_is_said() -> None:
    causes = [due.cause for due in due_by(RULE, after(0))]
    assert causes == ["staffed", "site-ready", "seals-checked", "powered", "setup-confirmed", "zero-report"]


def test_opening_closing_and_receiving_have_rules_of_their_own() -> None:
    causes = {due.cause for due in due_by(RULE, after(hours=40))}
    assert causes.isdisjoint({"open", "closed", "received"})
    assert {"results-printed", "balanced"} <= causes


def test_closing_steps_are_due_from_the_places_own_closing() -> None:
    assert [due.since for due in due_by(RULE, after(hours=40)) if due.cause == "results-printed"] == [
        CLOSES + (after(35) - after(0))
    ]


def test_a_step_that_is_done_is_not_overdue() -> None:
    assert due_by(RULE, before(35), a_step("staffed", before(41))) == []


def test_a_step_done_on_some_devices_names_those_missing() -> None:
    steps = [a_step("staffed", before(60)), a_step("site-ready", before(60)), a_step("powered", before(60))]
    one = a_step("seals-checked", before(30), device="SC-0141")
    (due,) = due_by(RULE, before(20), *steps, one)
    assert due.says == "Seals checked on SC-0142, BM-0141: not reported"
    assert (due.device, due.cause) == ("", "seals-checked")


def test_a_place_without_such_devices_is_not_waited_for() -> None:
    causes = {due.cause for due in due_by(RULE, after(0), roster=a_roster(devices=(), seals=()))}
    assert causes == {"staffed", "site-ready", "powered"}


def test_the_step_done_clears_it_and_no_other_step_does() -> None:
    overdue = raised_of(RULE, due_by(RULE, before(40))[0])
    assert the_case("P014.step-overdue", overdue, a_step("powered", before(30))).state is State.RAISED
    case = the_case("P014.step-overdue", overdue, a_step("staffed", before(33)))
    assert (case.state, case.cleared_at, case.cleared_says) == (
        State.CLEARED,
        before(33),
        "the facts: the step is done",
    )


def test_per_device_it_is_cleared_when_the_last_device_is_done() -> None:
    zero = [due for due in due_by(RULE, before(5)) if due.cause == "zero-report"]
    overdue = raised_of(RULE, zero[0])
    first, last = (a_step("zero-report", before(n), device=d) for n, d in ((4, "SC-0141"), (3, "SC-0142")))
    assert the_case("P014.step-overdue", overdue, first).state is State.RAISED
    assert the_case("P014.step-overdue", overdue, first, last).cleared_at == before(3)


def test_a_step_done_on_no_device_names_none() -> None:
    assert {due.says for due in due_by(RULE, before(20)) if due.cause == "seals-checked"} == {
        "Seals checked: not reported"
    }
