"""The sheet without script: each step a plain form, its answer the next page."""

import re
from html import unescape

import pytest

from county.domain.exception_kinds import EXCEPTION_KINDS
from tests.ingest.officers_page.a_county import County, Plain, a_phone, a_seal, a_step, a_zero, seal_number


def shown(page: str) -> str:
    """A page as it reads: its words without tags."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


def now_of(page: str) -> str:
    """The step that the page shows first."""
    found = re.search(r'<section id="([^"]+)"[^>]*class="[^"]*\bnow\b', page)
    assert found
    return found[1]


def test_the_sheet_is_the_plans_steps_for_the_devices_of_the_place(shared_county: County) -> None:
    page = a_phone(shared_county).get().text
    anchors = re.findall(r'<section id="(t-[^"]+)"', page)
    assert anchors == [
        "t-staffed",
        "t-site-ready",
        "t-seals-checked-BM-0141-front",
        "t-seals-checked-SC-0141-auxiliary",
        "t-seals-checked-SC-0141-front",
        "t-seals-checked-SC-0142-front",
        "t-powered",
        "t-boxes-empty-SC-0141",
        "t-boxes-empty-SC-0142",
        "t-pollbooks-ready",
        "t-setup-confirmed-SC-0141",
        "t-setup-confirmed-SC-0142",
        "t-zero-report-SC-0141",
        "t-zero-report-SC-0142",
        "t-open",
        "t-closed",
        "t-last-voter",
        "t-results-printed-SC-0141",
        "t-results-printed-SC-0142",
        "t-balanced",
        "t-departed",
    ]
    words = shown(page)
    assert "Seals compared with the numbers recorded at final testing" in words
    assert "Front seal of ballot-marking device BM-0141" in words
    assert "due 05:15" in words


def test_a_step_is_kept_and_the_next_one_shown(county: County) -> None:
    phone = a_phone(county)
    assert now_of(phone.get().text) == "t-staffed"
    answer = phone.post(**a_step("staffed", officers_present="5", note="all sworn"))
    assert (answer.status, answer.headers["location"]) == (303, "/at/P014?told=t-staffed")
    page = phone.get("?told=t-staffed").text
    assert now_of(page) == "t-site-ready"
    assert "At the central office: Officers present and sworn." in shown(page)
    (entry,) = county.told()
    assert entry["sender"] == "place:P014"
    assert entry["door"] == "sheet"
    assert (entry["officers_present"], entry["note"], entry["stamp"]) == (5, "all sworn", "received")


def test_the_same_form_sent_twice_is_one_report(county: County) -> None:
    phone = a_phone(county)
    form = a_step("staffed", officers_present="5")
    assert [phone.post(**form).status for _ in range(3)] == [303, 303, 303]
    assert len(county.told()) == 1


def test_the_same_form_with_other_words_is_set_aside_and_said_so(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_step("staffed", officers_present="5"))
    answer = phone.post(**a_step("staffed", officers_present="4"))
    assert answer.status == 409
    assert "Both are kept" in answer.text
    assert [each.reason for each in county.house.aside()] == ["conflict"]


def test_what_is_missing_is_asked_for_and_nothing_typed_is_lost(county: County) -> None:
    phone = a_phone(county)
    answer = phone.post(**a_zero(copies="", note='3 tapes, "torn" <b>'))
    assert answer.status == 422
    assert now_of(answer.text) == "t-zero-report-SC-0141"
    assert 'value="48,224"' in answer.text
    assert "3 tapes, &#34;torn&#34; &lt;b&gt;" in answer.text
    assert "is needed" in answer.text
    assert county.told() == []
    assert county.house.aside() == []


@pytest.mark.parametrize("typed", ["12a", "-1", "1.5", "9999999999", "٤١٢", "1e3"])
def test_a_number_that_is_none_is_asked_for_again(shared_county: County, typed: str) -> None:
    answer = a_phone(shared_county).post(**a_step("staffed", officers_present=typed))
    assert answer.status == 422
    assert "must be a whole number" in answer.text


def test_a_seal_that_differs_is_said_at_once_with_the_countys_instruction(county: County) -> None:
    phone = a_phone(county)
    answer = phone.post(**a_seal("111111"))
    assert answer.headers["location"].endswith("#t-seals-checked-SC-0141-front")
    words = shown(phone.get().text)
    assert "The number typed is not the number on record for this seal." in words
    assert "Leave the device as it is, with the seal on." in words
    assert "The central office has been told." in words
    (case,) = county.house.get("/cases").body
    assert case["exception"] == "seal-mismatch"


def test_what_was_recorded_is_on_no_page_before_or_after_the_found_number_is_typed(county: County) -> None:
    phone = a_phone(county)
    everything = [phone.get().text, phone.get("/state").text]
    everything += [phone.send(a_seal("111111", position=position)).text for position in ("front", "auxiliary")]
    everything.append(phone.send(a_zero(protective_counter="1")).text)
    everything += [phone.get().text, phone.get("/state").text]
    everything += [phone.get(path).text for path in re.findall(r'(?:src|href)="(/at/-/[^"]+)"', everything[0])]
    assert county.house.get("/cases").text.count("-mismatch") >= 2
    recorded = [seal_number("SC-0141", "front"), seal_number("SC-0141", "auxiliary"), "48224", "48,224"]
    assert not any(number in text for number in recorded for text in everything)


@pytest.mark.parametrize(
    ("form", "said", "instruction"),
    [
        (a_zero(public_counter="7"), "SC-0141 started at 7, not 0", "Take no ballot on this scanner"),
        (a_zero(copies="1"), "1 of 3 copies", "Print or sign what is missing"),
        (a_zero(signers="1"), "1 of 2 signers", "Print or sign what is missing"),
        (a_zero(protective_counter="48225"), "not the number on record for this device", "Hold the device."),
        (a_seal("", seal_intact="cut"), "The seal was reported as not whole.", "keep every piece of the seal"),
        (a_seal("", seal_intact="missing"), "The seal was reported as not whole.", "keep every piece of the seal"),
    ],
)
def test_what_differs_is_said_at_once(county: County, form: dict[str, str], said: str, instruction: str) -> None:
    phone = a_phone(county)
    phone.post(**form)
    page = phone.get().text
    section = page[page.index(f'<section id="{form["anchor"]}"') :].split("</section>")[0]
    reports = section[: min(section.find(end) % len(section) for end in ("<form", '<p class="bare"'))]
    assert said in shown(reports)
    assert instruction in shown(reports)
    assert "The central office has been told." in shown(reports)
    assert "go on" not in shown(section).lower()


def test_a_good_report_raises_nothing(county: County) -> None:
    phone = a_phone(county)
    for form in (a_zero(), a_seal(seal_number("SC-0141", "front"))):
        assert "#" not in phone.post(**form).headers["location"]
    assert county.house.get("/cases").body == []


def test_a_number_typed_wrong_is_put_right_and_both_stay(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_zero(copies="1"))
    again = phone.get("?again=t-zero-report-SC-0141").text
    assert 'name="corrects" value="k-zero-report-SC-0141"' in again
    right = a_zero(copies="3", public_counter="", protective_counter="", signers="", key="k-right")
    phone.post(**right, corrects="k-zero-report-SC-0141")
    first, second = county.told()
    assert (first["copies"], second["kind"], second["copies"]) == (1, "correction", 3)
    assert county.house.get("/cases").body == []
    assert "3" in shown(phone.get().text)


def test_help_in_two_taps_reaches_the_office(county: County) -> None:
    phone = a_phone(county)
    page = phone.get().text
    assert 'href="#help"' in page
    words = shown(page)
    assert words.index("Call 911 first.") < words.index("Threat to people")
    assert "This board does not call 911." in words
    phone.post(form="help", key="h1", exception="scanner-jam", device="SC-0141")
    (entry,) = county.told()
    assert (entry["kind"], entry["exception"], entry["device"]) == ("exception", "scanner-jam", "SC-0141")
    assert "Scanner jam" in shown(phone.get().text)


def test_every_kind_of_danger_can_be_told(shared_county: County) -> None:
    page = a_phone(shared_county).get().text
    dangers = [kind.key for kind in EXCEPTION_KINDS.values() if kind.effect == "danger"]
    assert dangers
    assert all(f'value="{kind}"' in page for kind in dangers)


def opened(county: County) -> Plain:
    phone = a_phone(county)
    phone.post(**a_step("open"))
    return phone


def test_while_open_trouble_that_stops_voting_is_an_interruption_until_it_is_over(county: County) -> None:
    phone = opened(county)
    phone.post(form="help", key="h1", exception="no-power", vote="no", since="15", fallback="paper ballots, by torch")
    phone.post(form="over", key="h2", exception="no-power", device="")
    phone.post(form="over", key="h2", exception="no-power", device="")
    _, began, ended = county.told()
    assert (began["kind"], began["effect"], began["fallback"]) == ("interruption", "stopped", "paper ballots, by torch")
    assert began["since"] < began["happened_at"]
    assert (ended["kind"], ended["ends"]) == ("interruption", True)
    assert [case["state"] for case in county.house.get("/cases?state=all").body if case["exception"] == "no-power"] == [
        "cleared"
    ]


def test_trouble_told_twice_by_the_same_form_is_told_once(county: County) -> None:
    phone = opened(county)
    form = {"form": "help", "key": "h1", "exception": "no-power", "vote": "slower", "since": "5"}
    assert [phone.post(**form).status for _ in range(2)] == [303, 303]
    assert county.house.aside() == []


def test_where_nobody_can_vote_it_is_the_places_trouble_and_not_a_devices(county: County) -> None:
    phone = opened(county)
    phone.post(form="help", key="h1", exception="scanner-fault", vote="no", device="SC-0141")
    entry = county.told()[-1]
    assert "device" not in entry
    assert entry["note"] == "SC-0141"


def test_what_was_sent_by_mistake_is_taken_back_and_stays_readable(county: County) -> None:
    phone = a_phone(county)
    phone.post(form="help", key="h1", exception="scanner-jam")
    page = phone.get().text
    assert 'name="corrects" value="h1"' in page
    phone.post(form="withdraw", key="h2", corrects="h1")
    assert [entry["kind"] for entry in county.told()] == ["exception", "correction"]
    assert county.house.get("/cases").body == []


def test_who_took_it_up_and_who_is_coming_is_shown_from_the_case(county: County) -> None:
    phone = a_phone(county)
    phone.post(form="help", key="h1", exception="scanner-jam")
    (case,) = county.house.get("/cases").body
    assert "Nobody there has taken it up yet." in shown(phone.get().text)
    said = []
    for number, action in enumerate(("acknowledge", "assign", "under-way", "on-site", "clear")):
        more = {"rover": "R03"} if action == "assign" else {}
        county.house.act(case["case"], {"key": f"a{number}", "action": action} | more)
        phone.send({"form": "note", "key": f"n{number}", "note": "look again"})
        said.append(shown(phone.get().text))
    assert "Taken up by the central office 05:15." in said[0]
    assert "Rover R03, Ana Invented, is asked to come, 05:15." in said[1]
    assert "Rover R03, Ana Invented, is on the way, 05:15." in said[2]
    assert "expected about" not in "".join(said)
    assert "Rover R03, Ana Invented, is with you, 05:15." in said[3]
    assert "Scanner jam, since" not in said[4]


def test_when_the_rover_is_expected_is_shown_until_it_is_there(county: County) -> None:
    phone = a_phone(county)
    phone.post(form="help", key="h1", exception="scanner-jam")
    (case,) = county.house.get("/cases").body
    said = []
    for number, (action, at) in enumerate(
        (("assign", "05:52"), ("accept", "05:49"), ("under-way", ""), ("on-site", ""))
    ):
        more = {"expected_at": f"2026-11-03T{at}:00-06:00"} if at else {}
        county.house.act(case["case"], {"key": f"a{number}", "action": action, "rover": "R03"} | more)
        phone.send({"form": "note", "key": f"n{number}", "note": "look again"})
        said.append(shown(phone.get("/state")["office"]))
    assert "Rover R03, Ana Invented, expected about 05:52." in said[0]
    assert "Rover R03, Ana Invented, is coming, 05:15." in said[1]
    assert "expected about 05:49" in said[1]
    assert "expected about 05:49" in said[2]
    assert "expected" not in said[3]


def test_a_count_is_the_places_numbers_and_each_scanners_counter(county: County) -> None:
    phone = opened(county)
    phone.post(
        form="count",
        key="c1",
        anchor="count",
        check_ins="41",
        in_line="6",
        note="busy",
        **{"counter.SC-0141": "20", "counter.SC-0142": "1,021"},
    )
    _, place, first, second = county.told()
    assert (place["check_ins"], place["in_line"], place["note"], place["key"]) == (41, 6, "busy", "c1")
    assert (first["device"], first["public_counter"], first["key"]) == ("SC-0141", 20, "c1.1")
    assert (second["device"], second["public_counter"], second["key"]) == ("SC-0142", 1021, "c1.2")


def test_an_empty_count_is_asked_for(shared_county: County) -> None:
    answer = a_phone(shared_county).post(form="count", key="c9", anchor="count")
    assert answer.status == 422
    assert "type at least one number" in answer.text


def test_a_time_typed_is_the_places_own_time(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_step("open", clock_time="05:10", by_clock="wall", in_line="12"))
    (entry,) = county.told()
    assert (entry["happened_at"], entry["stamp"]) == ("2026-11-03T11:10:00Z", "told")
    assert (entry["note"], entry["in_line"]) == ("Time by the clock on the wall.", 12)


def test_a_time_typed_that_is_still_to_come_was_yesterdays(county: County) -> None:
    phone = a_phone(county)
    phone.post(**a_step("open", clock_time="23:50"))
    assert county.told()[0]["happened_at"] == "2026-11-03T05:50:00Z"


def test_a_script_typed_as_a_note_is_shown_as_text(county: County) -> None:
    phone = a_phone(county)
    evil = "<script>alert(1)</script><img src=x onerror=alert(2)>'\"&"
    phone.post(**a_step("staffed", officers_present="5", note=evil))
    phone.post(**a_seal(evil))
    phone.post(**a_step("boxes-empty", "SC-0141", note=evil))
    phone.post(form="help", key="h1", exception="other", note=evil)
    for text in (phone.get().text, phone.get("/state").text, phone.get(f"?told={evil.replace(' ', '%20')}").text):
        assert "<script>alert" not in text
        assert "<img" not in text
    assert "<script>alert(1)</script>" in unescape(phone.get().text)


def test_a_form_larger_than_any_is_refused_in_words(shared_county: County) -> None:
    phone = a_phone(shared_county)
    assert phone.post_body(b"a=1&" * 5_000).status == 413
    assert phone.post_body(b"form=step&note=" + b"x" * 5_000_000).status == 413


def test_a_form_of_no_kind_is_refused(shared_county: County) -> None:
    answer = a_phone(shared_county).post(form="vote", key="x")
    assert answer.status == 422
    assert "is none of the sheet&#39;s forms" in answer.text


def test_a_note_longer_than_the_ledger_takes_is_said_and_not_lost(shared_county: County) -> None:
    answer = a_phone(shared_county).post(**a_step("staffed", key="long", officers_present="4", note="x" * 2_001))
    assert answer.status == 422
    assert "x" * 2_001 in answer.text


def test_any_step_can_be_done_without_script_not_only_the_next(county: County) -> None:
    phone = a_phone(county)
    page = phone.get().text
    task = "t-zero-report-SC-0142"
    assert f'name="anchor" value="{task}"' not in page
    section = page[page.index(f'<section id="{task}"') :].split("</section>")[0]
    way = unescape(re.findall(r'href="([^"]+)"', section)[0])
    assert way == f"?step={task}#{task}"
    asked = phone.get(way.split("#")[0]).text
    assert f'name="anchor" value="{task}"' in asked
    fields = set(re.findall(r'name="(\w+)"', asked[asked.index(f'<section id="{task}"') :].split("</section>")[0]))
    assert {"public_counter", "protective_counter", "copies", "signers", "note", "key"} <= fields
    phone.post(**a_zero("SC-0142", protective_counter="48,224"))
    page = phone.get().text
    done = page[page.index(f'<section id="{task}"') :].split("</section>")[0]
    assert f'href="?again={task}#{task}"' in done


def test_the_office_says_that_it_is_a_rehearsal_and_by_which_clock(shared_county: County) -> None:
    assert "Rehearsal, not the real day. Not the real clock." in shown(a_phone(shared_county).get().text)
