"""What a rover's own key may do: act on the cases assigned to it, and on no other."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

import pytest

from county.domain.actions import take_action
from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.intake import Hand, take
from county.domain.moments import write_moment
from county.domain.rover_cases import ever_had, rover_then
from county.errors import NotAllowed
from tests.builders import a_hand, a_plan, a_roster, after, an_action, an_exception
from tests.looking import the_case

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"
ROSTER = a_roster()
OWN, OTHER = "R03", "R04"
NOTHING: Mapping[str, object] = MappingProxyType({})


def deed(action: str, minutes: float, **more: object) -> Entry:
    return an_action(NAME, action, after(minutes), **more)


def the_jam(*deeds: Entry) -> Case:
    return the_case(NAME, JAM, *deeds)


def hand(rover: str = OWN, minutes: float = 90) -> Hand:
    return replace(a_hand(), sender=f"rover:{rover}", by=rover, received_at=after(minutes), rover_only=rover)


def tapped(case: Case, action: str, minutes: float = 89, more: Mapping[str, object] = NOTHING) -> Entry:
    raw = {"key": f"t-{action}", "action": action, "happened_at": write_moment(after(minutes)), **more}
    return take_action(raw, hand(), case, ROSTER, a_plan())


ASSIGNED = deed("assign", 62, rover=OWN)
TO_ANOTHER = deed("assign", 70, rover=OTHER)


@pytest.mark.parametrize(
    ("action", "more"),
    [("accept", {}), ("under-way", {}), ("on-site", {}), ("clear", {}), ("cannot", {"note": "flat tyre"})],
)
def test_a_rover_does_its_own_and_says_so_in_its_own_name(action: str, more: Mapping[str, object]) -> None:
    entry = tapped(the_jam(ASSIGNED), action, more=more)
    assert entry.text("action") == action
    assert entry.sender == "rover:R03"
    assert entry.fields.get("rover", OWN) == OWN


@pytest.mark.parametrize("action", ["accept", "under-way", "on-site", "clear", "note", "cannot"])
def test_a_case_that_is_not_the_rovers_is_not_its_to_act_on(action: str) -> None:
    for case in (the_jam(), the_jam(deed("assign", 62, rover=OTHER))):
        with pytest.raises(NotAllowed, match="not assigned to you"):
            tapped(case, action, more={"note": "x"})


@pytest.mark.parametrize("action", ["acknowledge", "assign", "withdraw", "reopen", "effect"])
def test_the_desks_actions_are_not_the_rovers(action: str) -> None:
    needs = {"assign": {"rover": OWN}, "effect": {"effect": "record"}}.get(action, {})
    with pytest.raises(NotAllowed, match="for the desk"):
        tapped(the_jam(ASSIGNED), action, more=needs)


def test_a_rover_does_not_speak_for_another() -> None:
    with pytest.raises(NotAllowed, match="rover R03 only"):
        tapped(the_jam(ASSIGNED), "under-way", more={"rover": OTHER})


def test_what_a_rover_did_before_it_knew_that_the_case_went_to_another_is_kept_and_moves_nothing() -> None:
    case = the_jam(ASSIGNED, TO_ANOTHER)
    entry = tapped(case, "on-site", 71)
    after_it = the_jam(ASSIGNED, TO_ANOTHER, entry)
    assert (after_it.rover, after_it.on_site_at) == (OTHER, None)
    assert after_it.steps[-1].of_another


def test_only_who_has_the_case_ends_it() -> None:
    with pytest.raises(NotAllowed, match="rover R04's now"):
        tapped(the_jam(ASSIGNED, TO_ANOTHER), "clear", 71)
    with pytest.raises(NotAllowed, match="the desk's now"):
        tapped(the_jam(ASSIGNED, deed("cannot", 66, rover=OWN, note="flat tyre")), "clear", 71)


def test_a_rover_without_signal_cleared_it_while_it_was_still_its_own() -> None:
    entry = tapped(the_jam(ASSIGNED, TO_ANOTHER), "clear", 69)
    assert the_jam(ASSIGNED, TO_ANOTHER, entry).cleared_at == after(69)


def test_who_had_the_case_follows_its_steps() -> None:
    case = the_jam(ASSIGNED, deed("cannot", 65, rover=OWN, note="flat tyre"), TO_ANOTHER)
    assert [rover_then(case, after(minute)) for minute in (61, 62, 64, 65, 69, 70)] == ["", OWN, OWN, "", "", OTHER]
    assert ever_had(case, OWN)
    assert ever_had(case, OTHER)
    assert not ever_had(case, "R05")


def test_a_rovers_key_reports_for_no_place() -> None:
    with pytest.raises(NotAllowed, match="own cases only"):
        take({"key": "x", "kind": "note", "place": "P014", "note": "hello"}, hand(), ROSTER, a_plan())
