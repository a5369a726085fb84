"""Keeping: one transaction for what is good, what is repeated, what conflicts and what was refused."""

import json
from dataclasses import replace

import pytest

from county import desk
from county.domain.receipts import Outcome
from county.domain.roster import Roster
from county.errors import UnknownKey
from county.store import ledger
from county.store.engine import reading
from county.upkeep import issue_key, revoke_keys
from county.wiring import Office
from tests.an_office import ROSTER
from tests.desk.reports import a_refusal, a_step


def test_each_item_has_its_receipt_in_order(office: Office) -> None:
    good, other = a_step("open", "05:29"), a_step("open", "05:28")
    receipts = desk.keep(office, [a_refusal(), good, good, other, a_step("open", "05:29", "P015")])
    assert [receipt.outcome for receipt in receipts] == [
        Outcome.REFUSED,
        Outcome.KEPT,
        Outcome.ALREADY_HELD,
        Outcome.CONFLICT,
        Outcome.KEPT,
    ]
    assert [receipt.seq for receipt in receipts] == [0, 2, 2, 2, 3]
    assert receipts[0].problems == a_refusal().problems
    assert receipts[0].says == "place: no place or precinct 'P999'; kind: is needed"


def test_a_conflict_is_set_aside_as_it_could_be_sent_again_and_both_can_be_read(office: Office) -> None:
    first, second = a_step("open", "05:29"), a_step("open", "05:28", note="really")
    desk.keep(office, [first])
    desk.keep(office, [second])
    [aside] = desk.set_aside_list(office)
    assert (aside.reason, aside.key, aside.sender) == ("conflict", second.key, "place:P014")
    assert json.loads(aside.raw) == {
        "key": "P014-open",
        "kind": "step",
        "place": "P014",
        "happened_at": "2026-11-03T11:28:00Z",
        "step": "open",
        "note": "really",
    }
    assert "entry 2" in aside.says
    assert desk.ledger_pages(office, 1)[0]["happened_at"] == "2026-11-03T11:29:00Z"


def test_a_conflict_told_again_and_again_is_set_aside_once(office: Office) -> None:
    desk.keep(office, [a_step("open", "05:29")])
    for _ in range(3):
        desk.keep(office, [a_step("open", "05:28"), a_refusal()])
    assert [aside.reason for aside in desk.set_aside_list(office)] == ["refused", "conflict"]
    assert [aside.reason for aside in desk.set_aside_list(office, 1)] == ["refused"]


def test_nothing_at_all_is_kept_where_one_cannot_be(office: Office) -> None:
    before = desk.last_seq(office)
    with pytest.raises(ValueError, match="hide"):
        desk.keep(office, [a_refusal(), a_step("open", "05:29"), a_step("closed", "05:29", digest="x")])
    assert desk.last_seq(office) == before
    assert desk.set_aside_list(office) == []


def test_nothing_asked_is_nothing_done(office: Office) -> None:
    assert desk.keep(office, []) == []


def test_the_ledger_is_given_from_a_number_on(office: Office) -> None:
    desk.keep(office, [a_step("open", f"05:{n}", key=f"k-{n}") for n in range(10, 15)])
    assert [page["seq"] for page in desk.ledger_pages(office, 2, 3)] == [3, 4, 5]
    assert desk.last_seq(office) == 6


def test_a_key_finds_its_sender_until_it_is_revoked(office: Office) -> None:
    place, front = desk.Sender.at_place("P014"), desk.Sender.at_desk("Front: left")
    tokens = [issue_key(office, who) for who in (place, front)]
    assert [desk.find_sender(office, token) for token in tokens] == [place, front]
    assert (place.place, front.place, front.shown) == ("P014", None, "Front: left")
    assert revoke_keys(office, place) == 1
    with pytest.raises(UnknownKey):
        desk.find_sender(office, tokens[0])
    with pytest.raises(UnknownKey):
        desk.find_sender(office, "pr_nobody")


def test_the_roster_is_given_as_it_stands(office: Office) -> None:
    assert desk.roster(office) == ROSTER
    assert desk.roster(office) != Roster()


def test_what_was_received_by_a_set_clock_says_so(office: Office) -> None:
    desk.keep(office, [replace(a_step("open", "05:29"), clock=office.clock.word)])
    with reading(office.engine) as connection:
        assert [entry.clock for entry in ledger.read(connection)] == ["set", "set"]
