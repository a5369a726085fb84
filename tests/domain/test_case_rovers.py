"""A case and its rover: sent, accepted, turned down, sent another; what was suggested and when somebody is expected."""

from itertools import permutations

import pytest

from county.domain.actions import take_action
from county.domain.cases import Action, Case, State
from county.domain.entries import Entry
from county.domain.milestones import Milestone, first_time
from county.errors import Refused
from tests.builders import a_hand, a_plan, a_roster, after, an_action, an_exception
from tests.looking import the_case

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"
EXPECTED = "2026-11-03T13:20:00Z"


def deed(action: str, minutes: float, **more: object) -> Entry:
    return an_action(NAME, action, after(minutes), **more)


def lived(*deeds: Entry) -> Case:
    """The case after these deeds, whatever the order in which they arrive."""
    first, *others = [the_case(NAME, *order) for order in permutations([JAM, *deeds])]
    assert all(other == first for other in others), "the order of arrival changes the case"
    return first


ASSIGNED = deed("assign", 62, rover="R03", suggested="R03", expected_at=EXPECTED)
ACCEPTED = deed("accept", 63, rover="R03")
TURNED_DOWN = deed("cannot", 64, rover="R03", note="flat tyre")


def test_a_rover_accepts_what_it_was_assigned() -> None:
    case = lived(ASSIGNED, ACCEPTED)
    assert (case.state, case.rover) == (State.ASSIGNED, "R03")
    assert (case.assigned_at, case.accepted_at, case.expected_at) == (after(62), after(63), after(80))


def test_an_acceptance_said_again_keeps_its_first_time() -> None:
    assert lived(ASSIGNED, ACCEPTED, deed("accept", 70, rover="R03")).accepted_at == after(63)


def test_an_acceptance_learned_after_the_rover_arrived_does_not_take_the_case_back() -> None:
    case = lived(ASSIGNED, deed("on-site", 70, rover="R03"), deed("accept", 71, rover="R03"))
    assert (case.state, case.on_site_at, case.accepted_at) == (State.ON_SITE, after(70), after(71))


def test_a_rover_that_takes_an_open_case_by_itself_has_it() -> None:
    case = lived(ACCEPTED)
    assert (case.state, case.rover, case.assigned_at, case.accepted_at) == (State.ASSIGNED, "R03", after(63), after(63))
    assert case.acknowledged_at == after(63)


def test_a_rover_that_cannot_gives_the_case_back_to_the_desk() -> None:
    case = lived(ASSIGNED, ACCEPTED, TURNED_DOWN)
    assert (case.state, case.rover) == (State.ACKNOWLEDGED, "")
    assert (case.acknowledged_at, case.assigned_at, case.accepted_at, case.expected_at) == (after(62), None, None, None)
    assert [step.note for step in case.steps] == ["", "", "flat tyre"]


def test_a_rover_that_cannot_after_it_set_out_gives_the_case_back_too() -> None:
    case = lived(ASSIGNED, deed("under-way", 63, rover="R03"), TURNED_DOWN)
    assert (case.state, case.rover, case.under_way_at) == (State.ACKNOWLEDGED, "", None)


def test_the_desk_may_say_it_for_the_rover_without_naming_it() -> None:
    case = lived(ASSIGNED, deed("cannot", 64, note="called in"))
    assert (case.state, case.rover) == (State.ACKNOWLEDGED, "")
    assert case.steps[-1].rover == "R03"


def test_what_was_turned_down_can_be_assigned_to_another_and_even_to_the_same() -> None:
    assert lived(ASSIGNED, TURNED_DOWN, deed("assign", 65, rover="R04")).rover == "R04"
    assert lived(ASSIGNED, TURNED_DOWN, deed("assign", 65, rover="R03")).rover == "R03"


def test_nobody_can_turn_down_what_another_has() -> None:
    case = lived(ASSIGNED, deed("cannot", 64, rover="R04", note="too far"))
    assert (case.state, case.rover) == (State.ASSIGNED, "R03")
    assert case.steps[-1].of_another


def test_turning_down_what_nobody_was_sent_to_only_says_that_it_was_seen() -> None:
    case = lived(TURNED_DOWN)
    assert (case.state, case.rover, case.acknowledged_at) == (State.ACKNOWLEDGED, "", after(64))
    assert lived(deed("on-site", 62), TURNED_DOWN).state is State.ON_SITE


def test_what_a_rover_says_that_no_longer_has_the_case_stays_readable_and_moves_nothing() -> None:
    sent_another = deed("assign", 64, rover="R04", expected_at=EXPECTED)
    late = [deed("accept", 65, rover="R03"), deed("under-way", 66, rover="R03"), deed("on-site", 70, rover="R03")]
    case = the_case(NAME, JAM, ASSIGNED, sent_another, *late)
    assert (case.state, case.rover) == (State.ASSIGNED, "R04")
    assert (case.accepted_at, case.under_way_at, case.on_site_at) == (None, None, None)
    assert [step.of_another for step in case.steps] == [False, False, True, True, True]
    assert first_time(case, Milestone.ON_SITE) is None


def test_another_rover_is_expected_anew() -> None:
    case = lived(ASSIGNED, ACCEPTED, deed("assign", 65, rover="R04"))
    assert (case.rover, case.accepted_at, case.expected_at) == ("R04", None, None)


def test_what_was_said_last_of_when_it_comes_holds() -> None:
    later = deed("under-way", 66, rover="R03", expected_at="2026-11-03T13:31:00Z")
    assert lived(ASSIGNED, later).expected_at == after(91)
    assert lived(ASSIGNED, later, deed("on-site", 92, rover="R03")).expected_at == after(91)


def test_a_reopened_case_has_no_rover_and_nobody_is_expected() -> None:
    case = the_case(NAME, JAM, ASSIGNED, ACCEPTED, deed("clear", 75), deed("reopen", 80))
    assert (case.rover, case.accepted_at, case.expected_at) == ("", None, None)


@pytest.mark.parametrize(("rover", "overrides"), [("R03", False), ("R04", True)])
def test_another_rover_than_suggested_is_the_desks_own_choice_and_stays_on_record(rover: str, overrides: bool) -> None:
    case = lived(deed("assign", 62, rover=rover, suggested="R03"))
    assert (case.rover, case.steps[-1].suggested, case.steps[-1].overrides) == (rover, "R03", overrides)


def test_where_nothing_was_suggested_nothing_is_overridden() -> None:
    assert not lived(deed("assign", 62, rover="R04")).steps[-1].overrides


def test_turning_down_shows_that_it_was_seen_and_an_acceptance_that_it_was_assigned() -> None:
    turned_down, accepted = lived(TURNED_DOWN), lived(ACCEPTED)
    assert first_time(turned_down, Milestone.ACKNOWLEDGED) == after(64)
    assert first_time(accepted, Milestone.ASSIGNED) == after(63)


def taken(**raw: object) -> Entry:
    case = the_case(NAME, JAM)
    return take_action({"key": "k-1", **raw}, a_hand(), case, a_roster(), a_plan())


def test_what_a_rover_says_is_read_with_its_fields() -> None:
    entry = taken(action="assign", rover="R04", suggested="R03", expected_at="2026-11-03T07:20:00-06:00")
    assert dict(entry.fields) == {
        "case": NAME,
        "action": "assign",
        "rover": "R04",
        "suggested": "R03",
        "expected_at": "2026-11-03T13:20:00Z",
    }
    assert taken(action="cannot", note="flat tyre").text("action") == Action.CANNOT


@pytest.mark.parametrize(
    ("raw", "field"),
    [
        ({"action": "accept"}, "rover"),
        ({"action": "accept", "rover": "R99"}, "rover"),
        ({"action": "cannot", "rover": "R03"}, "note"),
        ({"action": "assign", "rover": "R03", "suggested": "R99"}, "suggested"),
        ({"action": "assign", "rover": "R03", "expected_at": "2026-11-03T07:20:00"}, "expected_at"),
        ({"action": "assign", "rover": "R03", "expected_at": "soon"}, "expected_at"),
        ({"action": "on-site", "rover": "R03", "expected_at": EXPECTED}, "expected_at"),
        ({"action": "accept", "rover": "R03", "suggested": "R03"}, "suggested"),
        ({"action": "acknowledge", "rover": "R03"}, "rover"),
    ],
)
def test_what_cannot_be_understood_is_refused_by_field(raw: dict[str, object], field: str) -> None:
    with pytest.raises(Refused) as refused:
        taken(**raw)
    assert [problem.field for problem in refused.value.problems] == [field]
