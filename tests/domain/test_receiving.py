"""Taking material in: what is asked, what is refused until two people have looked, and the reports it becomes."""

from dataclasses import replace
from datetime import timedelta

import pytest

from county.domain.custody import Custody, SealState, custody
from county.domain.entries import Entry
from county.domain.intake import take
from county.domain.receiving import Receiving, SealRead, differing, not_ticked, reports_of, seals_to_read
from county.errors import Refused
from tests.builders import CLOSES, a_hand, a_roster, a_step
from tests.custody import EVERYTHING, a_plan_with_items, all_but
from tests.looking import the_state

PLAN, ROSTER = a_plan_with_items(), a_roster()
LEFT, BACK = CLOSES + timedelta(hours=1), CLOSES + timedelta(hours=2)
BALLOTS, FRONT = ("used-ballots", ""), ("SC-0141", "front")
DEPARTED = (
    a_step("departed", LEFT, items=EVERYTHING),
    a_step("departed", LEFT, item="used-ballots", seal_number="55"),
    a_step("departed", LEFT, device="SC-0141", seal_position="front", seal_number="770001"),
)
ALL_THERE = Receiving(
    "P014", frozenset(EVERYTHING), {BALLOTS: SealRead("55")}, ("receiving clerk", "desk lead"), note="two bags"
)


def known(*entries: Entry) -> Custody:
    state = the_state(*entries, plan=PLAN)
    return custody(state.day.steps, state.expected, PLAN.items)


def taken(said: Receiving, of: Custody) -> list[Entry]:
    """The entries that intake makes of it: nothing that the form makes may be refused there."""
    return [take(each, a_hand(BACK), ROSTER, PLAN) for each in reports_of(said, "board-1", of, ROSTER)]


def open_questions(said: Receiving, of: Custody | None) -> dict[str, str]:
    with pytest.raises(Refused) as refused:
        reports_of(said, "board-1", of, ROSTER)
    return {problem.field: problem.says for problem in refused.value.problems}


def test_sealed_items_are_asked_for_and_every_seal_told_when_the_place_was_left() -> None:
    assert [(each.seal, each.says) for each in seals_to_read(known())] == [(BALLOTS, "Used ballots")]
    assert [(each.seal, each.says, each.item) for each in seals_to_read(known(*DEPARTED))] == [
        (BALLOTS, "Used ballots", "used-ballots"),
        (FRONT, "front of SC-0141", ""),
    ]


def test_it_becomes_one_report_of_the_place_and_one_of_each_seal_read() -> None:
    place, seal = taken(ALL_THERE, known(*DEPARTED))
    assert (place.key, place.text("step"), place.fields["items"]) == ("board-1", "received", EVERYTHING)
    assert (place.fields["roles"], place.text("note")) == (("receiving clerk", "desk lead"), "two bags")
    assert "items_missing" not in place.fields
    assert (seal.key, seal.text("item"), seal.text("seal_number")) == ("board-1.1", "used-ballots", "55")
    assert seal.fields["seal_intact"] is True


def test_a_devices_seal_is_told_of_the_device_and_may_be_left_out() -> None:
    said = replace(ALL_THERE, seals={**ALL_THERE.seals, FRONT: SealRead("770001")})
    assert taken(said, known(*DEPARTED))[2].device == "SC-0141"
    assert len(taken(replace(ALL_THERE, seals={**ALL_THERE.seals, FRONT: SealRead()}), known(*DEPARTED))) == 2


def test_what_is_not_ticked_is_written_down_as_not_there_only_after_two_people_looked() -> None:
    said = replace(ALL_THERE, back=frozenset(all_but("keys")))
    says = open_questions(said, known(*DEPARTED))["looked"]
    assert says == "Not ticked: Keys. Tick it, or say that two people looked."
    (place, *_) = taken(replace(said, looked=True), known(*DEPARTED))
    assert place.fields["items_missing"] == ("keys",)


def test_what_need_not_be_is_asked_after_only_where_it_left() -> None:
    said = replace(ALL_THERE, back=frozenset(all_but("provisional")))
    assert not_ticked(said, known()) == ()
    assert not_ticked(said, known(*DEPARTED)) == ("provisional",)


def test_what_was_checked_in_before_is_not_asked_for_again() -> None:
    before = a_step("received", BACK, items=all_but("keys"))
    assert not_ticked(Receiving("P014"), known(*DEPARTED, before)) == ("keys",)
    (place,) = taken(replace(ALL_THERE, back=frozenset(["keys"]), seals={}), known(*DEPARTED, before))
    assert place.fields["items"] == ("keys",)


def test_a_sealed_item_that_is_there_needs_its_seal_read_or_said_to_be_not_whole() -> None:
    says = open_questions(replace(ALL_THERE, seals={}), known(*DEPARTED))["seals"]
    assert says == "No number yet: Used ballots. Read it, or say that the seal is not whole."
    cut = replace(ALL_THERE, seals={BALLOTS: SealRead(whole=False)})
    assert taken(cut, known(*DEPARTED))[1].fields["seal_intact"] is False


@pytest.mark.parametrize("roles", [(), ("desk lead",), ("desk lead", "")])
def test_one_person_alone_takes_nothing_in(roles: tuple[str, ...]) -> None:
    assert "Two people" in open_questions(replace(ALL_THERE, roles=roles), known(*DEPARTED))["roles"]


def test_without_a_place_nothing_is_written_down() -> None:
    assert open_questions(Receiving(), None) == {"place": "Which place? Choose one."}


@pytest.mark.parametrize(
    ("read", "found"),
    [
        (SealRead("55"), []),
        (SealRead(" 5-5 "), []),
        (SealRead(), []),
        (SealRead("56"), [(BALLOTS, SealState.DIFFERS, "55")]),
        (SealRead("55", whole=False), [(BALLOTS, SealState.NOT_WHOLE, "55")]),
    ],
)
def test_a_difference_is_known_as_soon_as_the_number_is_typed(read: SealRead, found: list[object]) -> None:
    said = Receiving("P014", seals={BALLOTS: read})
    assert [(asked.seal, state, number) for asked, state, number in differing(said, known(*DEPARTED))] == found


def test_a_number_is_held_against_nothing_where_none_was_told() -> None:
    assert differing(Receiving("P014", seals={BALLOTS: SealRead("56")}), known()) == ()


def test_a_plan_without_items_takes_in_by_the_two_people_alone() -> None:
    state = the_state()
    bare = custody(state.day.steps, state.expected, ())
    (only,) = reports_of(Receiving("P014", roles=("rover", "desk lead")), "k", bare, ROSTER)
    assert "items" not in only
