"""What each role may write down at the board: every kind of entry and every action, walked, asked at that moment."""

from itertools import product

import pytest

from county import desk, handing_over, settling, staffing
from county.domain.cases import Action
from county.domain.entries import Entry, Kind
from county.domain.intake import Hand
from county.domain.people import Person, Role
from county.domain.receipts import SetAside
from county.errors import NotAllowed
from county.wiring import Office
from tests.an_office import at

# who may write what down at the board; a kind or an action without a line here makes the test fail
NOBODY: tuple[Role, ...] = ()
DESK, LEAD = (Role.DESK, Role.LEAD), (Role.LEAD,)
KINDS: dict[str, tuple[Role, ...]] = {
    "step": DESK,
    "count": DESK,
    "exception": DESK,
    "interruption": DESK,
    "note": DESK,
    "correction": DESK,
    "message-seen": DESK,
    "message": DESK,
    "set-aside-outcome": DESK,
    "hand-over": DESK,
    "roster": LEAD,
    "plan": LEAD,
    "person": LEAD,
    # the clock and the office's own loops write these
    "raised": NOBODY,
    "notice": NOBODY,
    "device-log": NOBODY,
}
ACTIONS: dict[str, tuple[Role, ...]] = {action.value: DESK for action in Action} | {"withdraw": LEAD, "effect": LEAD}


def an_entry(office: Office, key: str, kind: Kind, name: str, **fields: object) -> Entry:
    """Anything written down at the board by this person."""
    now = at("05:30")
    return Entry(key, kind, "P014", now, now, name, "board", f"board:{name}", fields)


def kept(office: Office, entry: Entry) -> bool:
    """Whether the desk takes it; where it does not, nothing is written down."""
    before = desk.last_seq(office)
    try:
        desk.keep(office, [entry])
    except NotAllowed:
        assert desk.last_seq(office) == before
        return False
    return desk.last_seq(office) == before + 1


def everybody(office: Office) -> dict[Role, str]:
    """One person of each role."""
    names = {role: f"{role.value.title()} Person" for role in Role}
    for role, name in names.items():
        staffing.add_person(office, Person(name, role))
    return names


def test_each_kind_of_entry_is_for_the_roles_it_is_for(office: Office) -> None:
    names = everybody(office)
    kinds = {kind.value for kind in Kind} - {"action"}
    assert kinds == set(KINDS), "a kind without a line in the table"
    for role, kind in product(Role, sorted(kinds)):
        told = an_entry(office, f"k-{role}-{kind}", Kind(kind), names[role])
        assert kept(office, told) is (role in KINDS[kind]), (role, kind)


def test_each_action_is_for_the_roles_it_is_for(office: Office) -> None:
    names = everybody(office)
    assert {action.value for action in Action} == set(ACTIONS)
    for role, action in product(Role, Action):
        told = an_entry(office, f"a-{role}-{action}", Kind.ACTION, names[role], case="P014.fire", action=action.value)
        assert kept(office, told) is (role in ACTIONS[action.value]), (role, action)


def test_nobody_writes_under_a_name_without_an_account_or_whose_account_has_ended(office: Office) -> None:
    names = everybody(office)
    assert not kept(office, an_entry(office, "k-1", Kind.NOTE, "Nobody", note="x"))
    assert not kept(office, an_entry(office, "k-2", Kind.NOTE, names[Role.DESK].upper(), note="x"))
    staffing.end_account(office, names[Role.DESK])
    assert not kept(office, an_entry(office, "k-3", Kind.NOTE, names[Role.DESK], note="x"))


def test_a_changed_role_counts_from_that_moment(office: Office) -> None:
    names = everybody(office)
    assert kept(office, an_entry(office, "k-1", Kind.NOTE, names[Role.DESK], note="x"))
    staffing.change_role(office, names[Role.DESK], Role.VIEWER)
    assert not kept(office, an_entry(office, "k-2", Kind.NOTE, names[Role.DESK], note="x"))


def test_one_that_may_not_be_written_takes_the_whole_batch_with_it(office: Office) -> None:
    names = everybody(office)
    good = an_entry(office, "k-1", Kind.NOTE, names[Role.DESK], note="x")
    bad = an_entry(office, "k-2", Kind.NOTE, names[Role.VIEWER], note="x")
    before = desk.last_seq(office)
    with pytest.raises(NotAllowed, match="is here as viewer, who may not write down a report"):
        desk.keep(office, [good, bad])
    assert desk.last_seq(office) == before


def test_what_was_set_aside_is_settled_by_the_desk_alone(office: Office) -> None:
    names = everybody(office)
    item = SetAside("k", "place:P014", "endpoint", at("05:20"), "refused", (), "{}", number=1)
    for role in Role:
        hand = Hand(f"board:{names[role]}", names[role], "board", at("05:30"))
        if role in DESK[:1]:
            assert settling.dismiss(office, item, "a test", hand).seq
        elif role not in DESK:
            with pytest.raises(NotAllowed, match="may not settle"):
                settling.dismiss(office, item, "a test", hand)


def test_the_desk_is_handed_over_by_those_who_have_it(office: Office) -> None:
    names = everybody(office)
    handing_over.leave(office, names[Role.DESK], "Call Mill Creek back")
    seq = desk.last_seq(office)
    for role in (Role.VIEWER, Role.ROVER):
        with pytest.raises(NotAllowed, match="may not hand over the desk"):
            handing_over.take_over(office, names[role], seq)
    handing_over.take_over(office, names[Role.LEAD], seq)
    assert desk.ledger_pages(office)[-1]["took"] == seq
