"""POST /reports: each status of its contract, and what is kept or set aside at each."""

import hashlib
import json
import time
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
import rfc8785

from county.domain.receipts import Receipt
from county.domain.senders import Sender
from county.upkeep import issue_key, revoke_keys
from ingest.pace import Pace
from ingest.waiting import Item
from tests.an_office import set_up
from tests.ingest.an_office import House, a_house, a_report, answering


def test_a_report_is_kept_and_receipted(house: House) -> None:
    reply = house.post(a_report())
    assert reply.status == 201
    assert reply.body == {"key": "zero-1", "outcome": "kept", "seq": 2, "received_at": "2026-11-03T11:45:00Z"}
    assert reply.headers["content-type"] == "application/json"
    assert [entry["key"] for entry in house.ledger()] == ["zero-1"]


def test_the_same_report_again_is_already_held_and_named_by_the_entry_that_stands(house: House) -> None:
    first = house.post(a_report())
    again = house.post(a_report())
    assert again.status == 200
    assert again.body == first.body | {"outcome": "already-held"}
    assert len(house.ledger()) == 1


def test_the_same_key_with_other_content_is_a_conflict_and_both_are_kept(house: House) -> None:
    house.post(a_report())
    reply = house.post(a_report(public_counter=7))
    assert reply.status == 409
    assert reply.fields == ["key"]
    assert (reply["key"], reply["outcome"], reply["seq"]) == ("zero-1", "conflict", 2)
    assert [entry["public_counter"] for entry in house.ledger()] == [0]
    assert [(aside.key, aside.reason) for aside in house.aside()] == [("zero-1", "conflict")]
    assert json.loads(house.aside()[0].raw)["public_counter"] == 7


@pytest.mark.parametrize("header", ["", "Bearer", "Bearer ", "Bearer pr_nobody", "Basic {key}", "{key}"])
def test_without_a_good_key_nothing_is_taken(shared_house: House, header: str) -> None:
    told = {"Authorization": header.format(key=shared_house.desk_key)} if header else {}
    reply = shared_house.ask("POST", "/reports", json.dumps(a_report()).encode(), **told)
    assert reply.status == 401
    assert reply.fields == ["Authorization"]
    assert reply.headers["www-authenticate"].startswith("Bearer")
    assert shared_house.ledger() == []
    assert shared_house.aside() == []


def test_a_revoked_key_is_refused_within_two_seconds(house: House) -> None:
    assert house.post(a_report()).status == 201
    revoke_keys(house.office, Sender.at_place("P014"))
    time.sleep(1.5)
    assert house.post(a_report()).status == 401


def test_a_place_may_not_report_for_another_and_what_it_sent_is_set_aside(house: House) -> None:
    reply = house.post(a_report(place="P015", device="SC-0151"))
    assert reply.status == 403
    assert reply.fields == ["place"]
    assert house.ledger() == []
    assert [(aside.sender, aside.reason) for aside in house.aside()] == [("place:P014", "not-allowed")]


def test_a_desk_may_report_for_any_place(house: House) -> None:
    assert house.post(a_report(place="P015", device="SC-0151"), house.desk_key).status == 201
    assert house.ledger()[0]["by"] == "Front desk"


@pytest.mark.parametrize("precinct", ["14A", "14B"])
def test_a_precinct_stands_for_the_place_where_it_votes(house: House, precinct: str) -> None:
    assert house.post(a_report(place=precinct)).status == 201
    assert house.ledger()[0]["place"] == "P014"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"place": "P999"}, "place"),
        ({"place": None}, "place"),
        ({"key": None}, "key"),
        ({"key": "has space"}, "key"),
        ({"key": "k" * 65}, "key"),
        ({"kind": "vote"}, "kind"),
        ({"step": "lunch"}, "step"),
        ({"device": "SC-9999"}, "device"),
        ({"device": "SC-0151"}, "device"),
        ({"copeis": 3}, "copeis"),
        ({"public_counter": -1}, "public_counter"),
        ({"public_counter": 10**9}, "public_counter"),
        ({"public_counter": 10**400}, "public_counter"),
        ({"public_counter": 3.0}, "public_counter"),
        ({"public_counter": True}, "public_counter"),
        ({"public_counter": [0]}, "public_counter"),
        ({"note": "a\0b"}, "note"),
        ({"note": "\ud800"}, "note"),
        ({"note": "n" * 2001}, "note"),
        ({"note": {"a": 1}}, "note"),
        ({"happened_at": "yesterday"}, "happened_at"),
        ({"happened_at": "2026-11-31T05:41:00-06:00"}, "happened_at"),
        ({"happened_at": 1793704860}, "happened_at"),
        ({"votes_for_smith": 12}, "votes_for_smith"),
        ({"\ud800\0": 1}, "\ud800\0"),
    ],
)
def test_what_cannot_be_understood_is_refused_by_field_and_set_aside(
    shared_house: House, wrong: dict[str, object], field: str
) -> None:
    before = len(shared_house.aside())
    reply = shared_house.post(a_report(**wrong))
    assert reply.status == 422
    assert reply.fields == [field]
    assert reply["outcome"] == "refused"
    assert shared_house.ledger() == []
    assert len(shared_house.aside()) == before + 1
    assert shared_house.aside()[0].reason == "refused"


def test_a_refused_report_sent_again_is_set_aside_once(house: House) -> None:
    for _ in range(3):
        assert house.post(a_report(copeis=3)).status == 422
    assert len(house.aside()) == 1
    assert json.loads(house.aside()[0].raw) == a_report(copeis=3)


def test_every_wrong_field_is_named_at_once(house: House) -> None:
    reply = house.post(a_report(copies=-1, signers="two", copeis=3))
    assert sorted(reply.fields) == ["copeis", "copies", "signers"]


@pytest.mark.parametrize(
    ("told", "stamp", "happened_at"),
    [
        (None, "received", "2026-11-03T11:45:00Z"),
        ("2026-11-03T05:41:00", "received", "2026-11-03T11:45:00Z"),
        ("2026-11-03T05:48:00-06:00", "clock-ahead", "2026-11-03T11:45:00Z"),
        ("2126-11-03T05:41:00-06:00", "clock-ahead", "2026-11-03T11:45:00Z"),
        ("2026-11-03T05:46:00-06:00", "told", "2026-11-03T11:46:00Z"),
        ("2026-11-03t11:41:00z", "told", "2026-11-03T11:41:00Z"),
    ],
)
def test_a_time_that_cannot_be_used_gives_way_to_the_time_of_receipt_and_says_so(
    house: House, told: str | None, stamp: str, happened_at: str
) -> None:
    assert house.post(a_report(happened_at=told)).status == 201
    entry = house.ledger()[0]
    assert (entry["stamp"], entry["happened_at"]) == (stamp, happened_at)
    assert "told_at" in entry if told and stamp != "told" else "told_at" not in entry


def test_a_batch_answers_each_report_in_order(house: House) -> None:
    reports = [
        a_report(),
        a_report(),
        a_report(copies=2),
        a_report(key="bad", copeis=1),
        a_report(key="far", place="P015", device="SC-0151"),
        "not a report",
        a_report(key="n-1", kind="note", step=None, device=None, public_counter=None, protective_counter=None,
                 copies=None, signers=None),
    ]  # fmt: skip
    reply = house.post({"reports": reports})
    assert reply.status == 200
    outcomes = ["kept", "already-held", "conflict", "refused", "refused", "refused", "kept"]
    assert [receipt["outcome"] for receipt in reply["receipts"]] == outcomes
    assert [receipt["key"] for receipt in reply["receipts"]] == ["zero-1", "zero-1", "zero-1", "bad", "far", "", "n-1"]
    assert all(receipt["says"] for receipt in reply["receipts"] if receipt["outcome"] in ("conflict", "refused"))
    assert reply["receipts"][3]["errors"] == [{"field": "copeis", "says": "no such field"}]
    assert [entry["key"] for entry in house.ledger()] == ["zero-1", "n-1"]


def test_what_is_set_aside_of_a_batch_is_each_report_as_it_was_written(house: House) -> None:
    first, second = '{ "key":"a", "place": 1e400 }', '{"key":"b", "key":"c"}'
    good = json.dumps(a_report())
    body = f'{{\n "reports" : [ {first} ,{good},\t{second} ] }}'
    reply = house.send(body.encode())
    assert [receipt["outcome"] for receipt in reply["receipts"]] == ["refused", "kept", "refused"]
    assert {aside.raw for aside in house.aside()} == {first, second}


def test_an_empty_batch_is_answered_with_no_receipts(shared_house: House) -> None:
    reply = shared_house.post({"reports": []})
    assert (reply.status, reply.body) == (200, {"receipts": []})


def test_five_hundred_reports_are_taken_at_once_and_one_more_is_too_large(house: House) -> None:
    many = [a_report(key=f"k-{n}") for n in range(501)]
    reply = house.post({"reports": many})
    assert reply.status == 413
    assert reply.fields == ["body"]
    assert [aside.reason for aside in house.aside()] == ["too-large"]
    assert house.ledger() == []
    receipts = house.post({"reports": many[:500]})["receipts"]
    assert [receipt["seq"] for receipt in receipts] == list(range(2, 502))


@pytest.mark.parametrize(
    ("batch", "fields"),
    [
        ({"reports": {}}, ["reports"]),
        ({"reports": None}, ["reports"]),
        ({"reports": [], "note": "x"}, ["note"]),
        ([], [""]),
        ("text", [""]),
        (7, [""]),
        (None, [""]),
        ({}, ["key", "kind", "place"]),
    ],
)
def test_what_is_neither_a_report_nor_a_batch_is_refused(shared_house: House, batch: object, fields: list[str]) -> None:
    reply = shared_house.post(batch)
    assert reply.status == 422
    assert sorted(reply.fields) == fields


def test_more_requests_than_the_pace_allows_are_answered_with_when_to_come_again(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with a_house(tmp_path_factory.mktemp("busy") / "data", Pace(a_minute=2, timer=lambda: 0.0)) as house:
        assert [house.post(a_report(key=key)).status for key in ("a", "b")] == [201, 201]
        reply = house.post(a_report(key="c"))
        assert reply.status == 429
        assert reply.headers["retry-after"] == "30"
        assert reply.fields == [""]
        assert house.post(a_report(key="d"), house.desk_key).status == 201
        assert house.post(a_report(key="e"), issue_key(house.office, Sender.at_place("P015"))).status == 403


def test_the_pace_of_a_place_is_the_settings(tmp_path: Path) -> None:
    office = set_up(tmp_path / "data")
    slow = replace(office, settings=replace(office.settings, requests_a_minute=1))
    with answering(slow, pace=None) as house:
        assert [house.post(a_report(key=key)).status for key in ("a", "b")] == [201, 429]


def test_where_nothing_can_be_kept_the_sender_is_told_to_come_again(tmp_path: Path) -> None:
    with a_house(tmp_path / "data", keep=_broken) as house:
        for body in (a_report(), a_report(copeis=1), {"reports": [a_report()]}):
            reply = house.post(body)
            assert reply.status == 503
            assert int(reply.headers["retry-after"]) > 0
            assert reply.fields == [""]
        assert house.ledger() == []


def test_where_too_much_waits_the_sender_is_told_to_come_again(tmp_path: Path) -> None:
    with a_house(tmp_path / "data") as house:
        house.writer.most_waiting = 1
        reply = house.post({"reports": [a_report(key="a"), a_report(key="b")]})
        assert reply.status == 429
        assert int(reply.headers["retry-after"]) > 0
        assert reply.fields == [""]
        assert house.post(a_report()).status == 201


def _broken(items: Sequence[Item]) -> list[Receipt]:
    raise ValueError("broken for the test")


def test_the_ledger_gives_each_entry_chained_to_the_one_before(house: House) -> None:
    for n in range(3):
        house.post(a_report(key=f"k-{n}"))
    entries = house.get("/ledger").body
    previous = "0" * 64
    for seq, entry in enumerate(entries, 1):
        digest = entry.pop("digest")
        assert entry["seq"] == seq
        assert entry["previous"] == previous
        assert hashlib.sha256(previous.encode() + rfc8785.dumps(entry)).hexdigest() == digest
        previous = digest
    assert len(entries) == 4
