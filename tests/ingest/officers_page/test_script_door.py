"""What the sheet's script sends and is answered."""

import json

import pytest

from tests.ingest.officers_page.a_county import County, a_phone, a_seal, a_step, a_zero, seal_number


def test_what_waited_is_kept_in_order_with_the_time_it_happened(county: County) -> None:
    phone = a_phone(county)
    forms = [
        a_step("staffed", officers_present="5", happened_at="2026-11-03T05:01:00.250-06:00"),
        a_seal(seal_number("SC-0141", "front"), happened_at="2026-11-03T05:03:00.500-06:00"),
        a_zero(happened_at="2026-11-03T05:09:00.750-06:00"),
    ]
    answer = phone.send(*forms)
    assert answer.status == 200
    assert [(r["key"], r["outcome"]) for r in answer["receipts"]] == [(form["key"], "kept") for form in forms]
    assert [(e["key"], e["happened_at"]) for e in county.told()] == [
        ("k-staffed", "2026-11-03T11:01:00.250000Z"),
        ("k-seals-checked-SC-0141-front", "2026-11-03T11:03:00.500000Z"),
        ("k-zero-report-SC-0141", "2026-11-03T11:09:00.750000Z"),
    ]


def test_one_round_trip_saves_a_step_and_says_how_things_stand(county: County) -> None:
    answer = a_phone(county).send(a_seal("111111"))
    task = answer["state"]["tasks"]["t-seals-checked-SC-0141-front"]
    assert task["stop"] is True
    assert "Leave the device as it is" in task["html"]
    assert "Seal number is not the one recorded" in answer["state"]["office"]


def test_an_answer_that_was_lost_is_given_again(county: County) -> None:
    phone = a_phone(county)
    forms = [a_step("staffed", officers_present="5"), a_step("powered")]
    first, second = phone.send(*forms), phone.send(*forms)
    assert [r["outcome"] for r in first["receipts"]] == ["kept", "kept"]
    assert [r["outcome"] for r in second["receipts"]] == ["already-held", "already-held"]
    assert len(county.told()) == 2


def test_trouble_told_after_the_opening_in_one_batch_is_an_interruption_and_the_batch_may_be_repeated(
    county: County,
) -> None:
    phone = a_phone(county)
    forms = [
        a_step("open", happened_at="2026-11-03T05:02:00-06:00"),
        {
            "form": "help",
            "key": "h1",
            "exception": "no-power",
            "vote": "no",
            "since": "5",
            "happened_at": "2026-11-03T05:08:00-06:00",
        },
        {
            "form": "over",
            "key": "h2",
            "exception": "no-power",
            "device": "",
            "happened_at": "2026-11-03T05:12:00-06:00",
        },
    ]
    for outcome in ("kept", "already-held"):
        assert [r["outcome"] for r in phone.send(*forms)["receipts"]] == [outcome] * 3
    assert [entry["kind"] for entry in county.told()] == ["step", "interruption", "interruption"]
    assert county.told()[1]["since"] == "2026-11-03T11:03:00Z"


def test_one_bad_form_does_not_cost_the_others_and_is_set_aside(county: County) -> None:
    answer = a_phone(county).send(
        a_step("staffed", officers_present="five"), a_step("powered"), a_step("staffed", key="k2")
    )
    assert [r["outcome"] for r in answer["receipts"]] == ["refused", "kept", "refused"]
    assert "officers_present: must be a whole number" in answer["receipts"][0]["says"]
    assert "officers_present: is needed" in answer["receipts"][2]["says"]
    assert {each.sender for each in county.house.aside()} == {"place:P014"}
    assert len(county.house.aside()) == 2
    assert [entry["step"] for entry in county.told()] == ["powered"]


def test_two_phones_see_each_others_steps_and_nothing_is_sent_where_nothing_changed(county: County) -> None:
    one, other = a_phone(county), a_phone(county)
    before = other.get("/state")
    assert before["tasks"] == {}
    assert other.get("/state", **{"if-none-match": before.headers["etag"]}).status == 304
    one.send(a_step("staffed", officers_present="5"))
    after = other.get("/state", **{"if-none-match": before.headers["etag"]})
    assert after.status == 200
    assert list(after["tasks"]) == ["t-staffed"]
    unchanged = other.get("/state", **{"if-none-match": after.headers["etag"]})
    assert (unchanged.status, unchanged.text) == (304, "")
    assert "office-now" in unchanged.headers


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[]",
        b"{}",
        b"\xff",
        b'{"forms": []}',
        b'{"forms": [1]}',
        b'{"forms": [{"a": 1}]}',
        b'{"forms": "x"}',
        json.dumps({"forms": [{"form": "step"}] * 51}).encode(),
        json.dumps({"forms": [{"note": "x" * 4_001}]}).encode(),
    ],
)
def test_what_is_no_form_is_refused_and_nothing_kept(shared_county: County, body: bytes) -> None:
    phone = a_phone(shared_county)
    before = len(shared_county.told())
    answer = phone.ask("POST", "/at/P014/reports", body, {"content-type": "application/json"})
    assert answer.status == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert len(shared_county.told()) == before


def test_a_stuck_phone_is_slowed_and_told_when_to_come_again(county: County) -> None:
    phone = a_phone(county)
    form = a_step("staffed", officers_present="5")
    # on a slow machine the allowance fills up again meanwhile, so it takes more than the allowance
    sent = (phone.send(form) for _ in range(3_000))
    busy = next(answer for answer in sent if answer.status == 429)
    assert int(busy.headers["retry-after"]) >= 1
    assert len(county.told()) == 1


def test_the_sheets_files_may_be_kept_for_good_and_the_worker_not(shared_county: County) -> None:
    phone = a_phone(shared_county)
    page = phone.get().text
    style = page.split('rel="stylesheet" href="')[1].split('"')[0]
    assert "immutable" in phone.ask("GET", style, None, {}).headers["cache-control"]
    worker = phone.ask("GET", "/at/-/worker.js", None, {})
    assert (worker.headers["cache-control"], worker.headers["service-worker-allowed"]) == ("no-cache", "/at/")
    assert style in worker.text
    assert phone.ask("GET", "/at/-/..%2Fdoor.py", None, {}).status == 404
    assert phone.ask("GET", "/at/-/nothing.css", None, {}).status == 404
