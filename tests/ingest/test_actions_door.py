"""POST /cases/{case}/actions: a case's way from raised to cleared, and what is refused."""

import pytest

from tests.ingest.an_office import House, a_report

CASE = "P014.nonzero-start-count.SC-0141"


@pytest.fixture
def raised(house: House) -> House:
    """An office with one open case."""
    assert house.post(a_report(public_counter=3)).status == 201
    return house


def state(house: House) -> str:
    cases = house.get("/cases?state=all").body
    return str(next(case["state"] for case in cases if case["case"] == CASE))


def test_a_case_goes_its_way_and_every_step_is_an_entry(raised: House) -> None:
    steps = [
        ({"action": "acknowledge"}, "acknowledged"),
        ({"action": "assign", "rover": "R03"}, "assigned"),
        ({"action": "under-way"}, "under-way"),
        ({"action": "on-site"}, "on-site"),
        ({"action": "clear", "note": "device held, spare in use"}, "cleared"),
        ({"action": "reopen"}, "raised"),
        ({"action": "withdraw", "note": "misread"}, "withdrawn"),
    ]
    for number, (action, reached) in enumerate(steps):
        reply = raised.act(CASE, {"key": f"a-{number}", **action})
        assert (reply.status, reply["outcome"]) == (201, "kept")
        assert state(raised) == reached
    entries = [entry for entry in raised.ledger() if entry["kind"] == "action"]
    assert [entry["action"] for entry in entries] == [action["action"] for action, _ in steps]
    assert {(entry["by"], entry["sender"], entry["door"]) for entry in entries} == {
        ("Front desk", "desk:Front desk", "endpoint")
    }


def test_the_same_action_again_is_already_held_and_another_under_its_key_is_a_conflict(raised: House) -> None:
    assert raised.act(CASE, {"key": "a-1", "action": "acknowledge"}).status == 201
    assert raised.act(CASE, {"key": "a-1", "action": "acknowledge"}).status == 200
    reply = raised.act(CASE, {"key": "a-1", "action": "clear"})
    assert (reply.status, reply.fields) == (409, ["key"])
    assert state(raised) == "acknowledged"


def test_a_place_s_key_may_not_act(raised: House) -> None:
    reply = raised.act(CASE, {"key": "a-1", "action": "clear"}, raised.place_key)
    assert (reply.status, reply.fields) == (403, ["Authorization"])
    assert state(raised) == "raised"


@pytest.mark.parametrize("case", ["P014.silent", "P999.silent", "P014", "nonsense", "a/b", "%00", "x" * 3000])
def test_a_case_that_is_not_there_is_not_found(raised: House, case: str) -> None:
    reply = raised.act(case, {"key": "a-1", "action": "acknowledge"})
    assert (reply.status, reply.fields) == (404, ["path"])


@pytest.mark.parametrize(
    ("action", "fields"),
    [
        ({"action": "acknowledge"}, ["key"]),
        ({"key": "a-1"}, ["action"]),
        ({"key": "a-1", "action": "shrug"}, ["action"]),
        ({"key": "a-1", "action": "assign"}, ["rover"]),
        ({"key": "a-1", "action": "assign", "rover": "R99"}, ["rover"]),
        ({"key": "a-1", "action": "effect", "effect": "bad"}, ["effect"]),
        ({"key": "a-1", "action": "note", "note": "a\0b"}, ["note"]),
        ({"key": "a-1", "action": "clear", "noot": "x"}, ["noot"]),
        ([], ["body"]),
        ("x", ["body"]),
    ],
)
def test_an_action_that_cannot_be_understood_is_refused_by_field_and_set_aside(
    raised: House, action: object, fields: list[str]
) -> None:
    reply = raised.act(CASE, action)
    assert (reply.status, reply.fields) == (422, fields)
    assert [aside.source for aside in raised.aside()] == [f"action on {CASE}"]
    assert state(raised) == "raised"


def test_an_action_that_says_a_field_twice_is_refused(raised: House) -> None:
    body = b'{"key": "a-1", "action": "clear", "action": "note"}'
    reply = raised.ask("POST", f"/cases/{CASE}/actions", body, raised.desk_key)
    assert (reply.status, reply.fields) == (422, ["action"])
