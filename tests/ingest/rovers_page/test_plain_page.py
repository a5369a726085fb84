"""The rover's page as any browser shows it: what is assigned, in order, and buttons that need no script."""

import re
from datetime import UTC, datetime

import pytest

from county.domain.travel import Spot, Travel
from tests.ingest.rovers_page.a_county import JAM, POWER, ROSTER, County, Plain, a_phone, a_tap


def text_of(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", html))


def test_nothing_assigned_is_said_so(county: County) -> None:
    page = a_phone(county).get()
    assert page.status == 200
    assert "Nothing is assigned to you." in page.text


def test_an_assignment_says_where_what_to_bring_what_is_the_matter_and_the_countys_instruction(county: County) -> None:
    county.jam()
    page = a_phone(county).get().text
    assert 'href="geo:41.900000,-99.700000"' in page
    assert 'href="tel:555-0114"' in page
    said = text_of(page)
    assert "Next: Mill School." in said
    assert "P014 · 12 Mill Road, Seat" in said
    assert "Scanner jam, SC-0141" in said
    assert "Skill scanner" in said
    assert "paper across the sensor" in said
    assert "Two officers open only what the county&#39;s sheet allows." in said
    assert "Call 911 first." in said
    for word in ("Accepted", "Under way", "On site", "Cleared", "Cannot"):
        assert word in said


def test_what_the_rover_does_not_have_is_said(county: County) -> None:
    county.jam("R04")
    assert "scanner (not on your list: ask the central office)" in text_of(a_phone(county, "R04").get().text)


def test_a_place_without_coordinates_is_said_so_and_has_no_way(county: County) -> None:
    county.trouble("P016", "no-power")
    county.assign("P016.no-power")
    page = a_phone(county).get().text
    assert "geo:" not in page
    assert "No coordinates are on the list for this place." in page


def test_danger_says_911_first_and_loud(county: County) -> None:
    county.trouble("P016", "threat")
    county.assign("P016.threat")
    page = a_phone(county).get().text
    assert re.search(r'<div class="danger"><p><b>Danger to anyone\? <a href="tel:911">Call 911 first', page)


def test_what_was_recorded_at_final_testing_is_not_shown(county: County) -> None:
    wrong = {"kind": "step", "step": "zero-report", "device": "SC-0141", "public_counter": 0, "copies": 3, "signers": 3}
    report = {"key": "z1", "place": "P014", "protective_counter": 777, **wrong}
    assert county.house.post(report, county.house.desk_key).status == 201
    for case in county.house.get("/cases").body:
        county.assign(case["case"])
    page = a_phone(county).get().text
    assert "Two people at every seal and counter" in page


def test_the_way_and_its_minutes_are_by_the_countys_own_reckoning(county: County) -> None:
    county.jam()
    rover, place = ROSTER.rovers[0], ROSTER.places[0]
    minutes = Travel().minutes(
        Spot(rover.rover, rover.latitude, rover.longitude), Spot(place.place, place.latitude, place.longitude)
    )
    assert f"Way there, {round(minutes)} min" in text_of(a_phone(county).get().text)


def test_where_the_rover_is_comes_first_then_where_it_goes_then_its_stops(county: County) -> None:
    county.jam()
    county.trouble("P015", "no-power")
    county.assign(POWER)
    phone = a_phone(county)
    assert [each["case"] for each in phone.state()["assignments"]] == [POWER, JAM]
    assert phone.post(**a_tap("under-way", JAM)).status == 303
    assert [each["case"] for each in phone.state()["assignments"]] == [JAM, POWER]
    assert phone.post(**a_tap("on-site", POWER)).status == 303
    assert [each["case"] for each in phone.state()["assignments"]] == [POWER, JAM]


def test_every_step_is_a_form_and_is_kept_in_the_rovers_name(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    for action in ("accept", "under-way", "on-site"):
        answer = phone.post(**a_tap(action))
        assert (answer.status, answer.headers["location"]) == (303, f"/rover/R03?told={JAM}#a-P014-scanner-jam-SC-0141")
    assert "At the central office: Mill School." in phone.get(f"?told={JAM}").text
    assert phone.post(**a_tap("clear", note="cleared the path")).status == 303
    case = county.case(JAM)
    assert case["state"] == "cleared"
    assert all(case[f"{step}_at"] for step in ("assigned", "accepted", "under_way", "on_site", "cleared"))
    assert [(entry["action"], entry["by"], entry["door"]) for entry in county.actions()] == [
        (action, "R03", "rover") for action in ("accept", "under-way", "on-site", "clear")
    ]
    assert "06:30 Mill School: scanner jam" in text_of(phone.get().text)


def test_a_form_sent_twice_is_kept_once(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    for _ in range(2):
        assert phone.post(**a_tap("accept", key="once")).status == 303
    assert len(county.actions()) == 1


def test_cannot_needs_its_reason_and_gives_the_case_back(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    answer = phone.post(**a_tap("cannot"))
    assert answer.status == 422
    assert "Not sent: a few words are needed." in answer.text
    assert county.house.aside() == []
    assert phone.post(**a_tap("cannot", key="k2", note="flat tyre on the county road")).status == 303
    assert (county.case(JAM)["state"], county.case(JAM)["rover"]) == ("acknowledged", None)
    assert phone.state()["assignments"] == []


def test_a_case_that_went_to_another_is_not_ended_and_the_tap_is_set_aside(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    county.assign(JAM, "R04")
    answer = phone.post(**a_tap("clear", note="done"))
    assert answer.status == 422
    assert "this case is rover R04&#39;s now" in answer.text
    assert county.case(JAM)["state"] == "assigned"
    (aside,) = county.house.aside()
    assert (aside.sender, aside.reason, aside.source) == ("rover:R03", "not-allowed", f"action on {JAM}")


@pytest.mark.parametrize("action", ["assign", "withdraw", "reopen", "acknowledge", "effect", "", "x"])
def test_a_form_made_by_hand_does_no_more_than_the_buttons(county: County, action: str) -> None:
    county.jam()
    phone = a_phone(county)
    assert phone.post(**a_tap(action, key="k1", rover="R03", note="x", effect="record")).status == 422
    assert county.actions() == []


def test_when_the_rover_is_expected_follows_from_the_tap_alone(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    tap = a_tap("under-way", minutes="12", happened_at="2026-11-03T06:28:00-06:00")
    first, again = phone.send(tap), phone.send(tap)
    assert [answer["receipts"][0]["outcome"] for answer in (first, again)] == ["kept", "already-held"]
    (entry,) = county.actions()
    assert datetime.fromisoformat(entry["expected_at"]) == datetime(2026, 11, 3, 12, 40, tzinfo=UTC)
    assert "Expected there 06:40" in text_of(phone.get().text)


def test_what_waited_is_kept_in_order_with_the_time_it_happened(county: County) -> None:
    county.jam()
    taps = [
        a_tap("accept", happened_at="2026-11-03T06:30:01-06:00"),
        a_tap("under-way", happened_at="2026-11-03T06:30:02-06:00"),
        a_tap("clear", case="P099.nothing", key="k-no", happened_at="2026-11-03T06:30:03-06:00"),
        a_tap("on-site", happened_at="2026-11-03T06:30:04-06:00"),
    ]
    answer = a_phone(county).send(*taps)
    assert answer.status == 200
    assert [receipt["outcome"] for receipt in answer["receipts"]] == ["kept", "kept", "refused", "kept"]
    assert "there is no case P099.nothing" in answer["receipts"][2]["says"]
    assert [(entry["action"], entry["happened_at"][11:19]) for entry in county.actions()] == [
        ("accept", "12:30:01"),
        ("under-way", "12:30:02"),
        ("on-site", "12:30:04"),
    ]
    assert answer["state"]["assignments"][0]["reached"] == 3


def test_an_unchanged_state_is_not_sent_again(county: County) -> None:
    county.jam()
    phone = a_phone(county)
    phone.get("/state")
    tag = phone.get("/state").headers["etag"]
    answer = phone.get("/state", **{"if-none-match": tag})
    assert (answer.status, answer.text) == (304, "")


def test_everything_for_the_first_load_is_under_sixty_kilobytes(county: County) -> None:
    county.jam()
    county.trouble("P015", "no-power")
    county.assign(POWER)
    phone = a_phone(county)
    page = phone.get().text
    paths = ["/rover/R03", *re.findall(r'(?:src|href)="(/rover/-/[^"]+)"', page)]
    assert len(paths) == 6
    sizes = [
        int(phone.ask("GET", path, None, {"accept-encoding": "identity"}).headers["content-length"]) for path in paths
    ]
    assert sum(sizes) < 60_000, sizes


def test_a_page_may_load_nothing_from_elsewhere(county: County) -> None:
    policy = a_phone(county).get().headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy


def test_what_is_typed_is_shown_as_text(county: County) -> None:
    evil = "<img src=x onerror=alert(1)><script>alert(2)</script>"
    county.trouble("P014", "scanner-jam", device="SC-0141", note=evil)
    county.assign(JAM)
    page = a_phone(county).get().text
    assert "<img" not in page
    assert "<script>alert" not in page
    assert "&lt;script&gt;" in page


def test_unknown_rovers_are_said_so(county: County) -> None:
    answer = Plain(county, "R99%3Cscript%3E").get()
    assert answer.status == 404
    assert "No such rover" in answer.text
    assert "<script>" not in answer.text
