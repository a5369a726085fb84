"""GET /picture, /cases and /ledger: the shapes of the contract, who may read what, and nothing acknowledged missing."""

import pytest

from county.domain.senders import Sender
from county.upkeep import issue_key
from ingest.clock_loop import turn
from tests.ingest.an_office import House, a_report

PICTURE = {"as_of", "election", "totals", "places"}
PLACE = {
    "place", "name", "standing", "last_step", "opened_at", "minutes_late", "lost_minutes", "last_heard_at",
    "open_cases",
}  # fmt: skip
CASE = {
    "case", "place", "device", "exception", "effect", "raised_at", "raised_by", "state", "rover", "told",
    "acknowledged_at", "assigned_at", "under_way_at", "on_site_at", "cleared_at", "says",
}  # fmt: skip
STANDINGS = ["unheard", "preparing", "ready", "late", "open", "impaired", "stopped", "closed", "received"]


def standings(house: House, path: str = "/picture") -> dict[str, str]:
    return {place["place"]: place["standing"] for place in house.get(path).body["places"]}


def test_the_picture_has_the_contract_s_shape(house: House) -> None:
    picture = house.get("/picture").body
    assert set(picture) >= PICTURE
    assert picture["as_of"] == "2026-11-03T11:45:00Z"
    assert picture["election"] == "General Election"
    assert list(picture["totals"]) == STANDINGS
    assert picture["totals"]["unheard"] == 2
    assert sum(picture["totals"].values()) == len(picture["places"])
    assert all(set(place) >= PLACE for place in picture["places"])


def test_a_report_is_in_the_picture_that_is_asked_for_after_its_receipt(house: House) -> None:
    for number in range(5):
        assert house.post(a_report(key=f"k-{number}")).status == 201
    assert standings(house) == {"P014": "preparing", "P015": "unheard"}
    assert house.get("/picture").body["places"][0]["last_heard_at"] == "2026-11-03T11:45:00Z"


def test_the_picture_as_known_and_as_happened_at_a_time(house: House) -> None:
    house.post(a_report(happened_at="2026-11-03T05:30:00-06:00"))
    before, between = "2026-11-03T05:29:00-06:00", "2026-11-03T05:31:00-06:00"
    assert standings(house, f"/picture?at={before}&view=happened")["P014"] == "unheard"
    assert standings(house, f"/picture?at={between}&view=happened")["P014"] == "preparing"
    assert standings(house, f"/picture?at={between}&view=known")["P014"] == "unheard"
    assert standings(house, f"/picture?at={between}")["P014"] == "unheard"
    assert house.get(f"/picture?at={between}").body["as_of"] == "2026-11-03T11:31:00Z"
    assert standings(house, "/picture?view=happened")["P014"] == "preparing"


@pytest.mark.parametrize("at", ["2026-11-03T11:31:00+00:00", "2026-11-03T11:31:00%2B00:00", "2026-11-03T11:31:00Z"])
def test_a_plus_in_a_query_may_be_written_as_it_is(shared_house: House, at: str) -> None:
    assert shared_house.get(f"/picture?at={at}").body["as_of"] == "2026-11-03T11:31:00Z"


def test_a_place_s_key_sees_its_own_place_only(house: House) -> None:
    house.post(a_report(public_counter=3))
    house.post(a_report(place="P015", device="SC-0151", public_counter=3), house.desk_key)
    picture = house.get("/picture", house.place_key).body
    assert [place["place"] for place in picture["places"]] == ["P014"]
    assert sum(picture["totals"].values()) == 1
    assert {case["place"] for case in house.get("/cases", house.place_key).body} == {"P014"}
    assert {case["place"] for case in house.get("/cases").body} == {"P014", "P015"}


@pytest.mark.parametrize("path", ["/picture?place=P015", "/picture?place=15", "/cases?place=P015", "/ledger"])
def test_a_place_s_key_may_not_read_more_than_its_place(shared_house: House, path: str) -> None:
    reply = shared_house.get(path, shared_house.place_key)
    assert reply.status == 403
    assert reply.fields == ["Authorization"]


@pytest.mark.parametrize("asked", ["P014", "14A", "14B"])
def test_one_place_may_be_asked_for_by_its_own_or_a_precinct_s_id(shared_house: House, asked: str) -> None:
    assert list(standings(shared_house, f"/picture?place={asked}")) == ["P014"]
    reply = shared_house.get(f"/picture?place={asked}", shared_house.place_key)
    assert [place["place"] for place in reply["places"]] == ["P014"]


@pytest.mark.parametrize("path", ["/picture", "/cases", "/ledger", "/picture?at=nonsense"])
def test_nothing_is_read_without_a_key(shared_house: House, path: str) -> None:
    assert shared_house.get(path, "pr_nobody").status == 401
    assert shared_house.ask("GET", path).status == 401


def test_cases_have_the_contract_s_shape_worst_first(house: House) -> None:
    house.post(a_report(public_counter=3, copies=1))
    cases = house.get("/cases").body
    assert [case["exception"] for case in cases] == ["nonzero-start-count", "zero-report-short"]
    assert all(set(case) >= CASE for case in cases)
    first = cases[0]
    assert first["case"] == "P014.nonzero-start-count.SC-0141"
    assert (first["device"], first["effect"], first["state"]) == ("SC-0141", "stopped", "raised")
    assert first["raised_at"] == "2026-11-03T11:41:00Z"
    assert first["acknowledged_at"] is None


def test_cases_that_have_ended_are_shown_when_all_are_asked_for(house: House) -> None:
    house.post(a_report(public_counter=3))
    case = house.get("/cases").body[0]["case"]
    assert house.act(case, {"key": "a-1", "action": "clear", "note": "device held"}).status == 201
    assert house.get("/cases").body == house.get("/cases?state=open").body == []
    assert [case["state"] for case in house.get("/cases?state=all").body] == ["cleared"]


def test_the_ledger_is_read_in_pages(house: House) -> None:
    for number in range(5):
        house.post(a_report(key=f"k-{number}"))
    assert [entry["seq"] for entry in house.get("/ledger?after=2&limit=3").body] == [3, 4, 5]
    assert [entry["seq"] for entry in house.get("/ledger?after=5").body] == [6]
    assert house.get("/ledger?after=6").body == []


def test_what_the_clock_raised_is_seen(house: House) -> None:
    assert turn(house.office, house.following) > 0
    assert {case["raised_by"] for case in house.get("/cases").body} == {"clock"}


def test_a_desk_key_reads_everything(house: House) -> None:
    second = issue_key(house.office, Sender.at_desk("Back desk"))
    assert len(house.get("/picture", second).body["places"]) == 2


def test_a_place_on_its_way_has_a_forecast_and_one_that_is_not_heard_from_or_is_open_has_none(house: House) -> None:
    house.post(a_report())
    first, second = house.get("/picture").body["places"]
    assert 0 <= first["chance_late"] <= 1
    assert first["likely_open_at"] >= "2026-11-03T12:00:00Z"
    assert (second["chance_late"], second["likely_open_at"]) == (None, None)
    then = house.get("/picture?view=known&at=2026-11-03T05:45:00-06:00").body["places"][0]
    assert (then["chance_late"], then["likely_open_at"]) == (first["chance_late"], first["likely_open_at"])
    assert house.get("/picture?view=happened").body["places"][0]["likely_open_at"] is None
    house.post(a_report(key="k-open", step="open"))
    assert house.get("/picture").body["places"][0]["chance_late"] is None
