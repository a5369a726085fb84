"""The printed record: what a reviewer looks for is where the first page says, and in its words."""

import os
import re
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from county import desk, upkeep
from county.domain.entries import Entry
from county.pack import verify
from county.pack.printed.place_day import chosen
from county.pack.printed.printed_columns import PRINTED
from county.pack.printed.volumes import volumes
from county.pack.record import Choice, make_record
from county.pack.writing import write_pack
from county.setting_up import set_up
from county.settings import settings_from
from county.wiring import open_office
from tests.an_office import PLAN_TEXT, ROSTER
from tests.builders import a_note, a_step, after, before
from tests.desk.reports import a_step as a_report_of_a_step
from tests.pack.a_record import a_day, a_record, kept

NAMES = re.compile(r"\b(Ada|Rill|Tarn|Odessa|Marl)\b|555[ -]01")


def pages_of(file: Path) -> list[str]:
    """The text of each page, without its line ends."""
    document = pypdfium2.PdfDocument(file)
    try:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    finally:
        document.close()


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("printed") / "pack"
    write_pack(kept(a_day()), Choice(), folder)
    return folder


@pytest.fixture(scope="module")
def report(pack: Path) -> Sequence[str]:
    return pages_of(pack / "report.pdf")


def test_the_first_page_has_both_digests_and_how_to_verify_them(report: Sequence[str], pack: Path) -> None:
    first = report[0]
    head_here = verify.walk((pack / "ledger.jsonl").read_bytes().splitlines(keepends=True)).head
    assert first.startswith("General Election, Wrenfield County, November 3, 2026")
    for said in (a_record().digests[-1], head_here, "python verify.py --head DIGEST", "the digest of its own"):
        assert said in first
    assert "Names of staff are replaced" in first
    assert "Other names may stand in them" in first


def test_two_pages_on_how_to_read_it_lead_then_the_contents_then_the_day(report: Sequence[str]) -> None:
    assert "How to read this record" in report[0]
    assert "Where to look" in report[0]
    assert "Two times, and whose clock" in report[1]
    assert "Keep this record through September 3, 2028" in report[1]
    assert "Contents" in report[2]
    assert "The county’s day" in report[3]
    assert [page for number, page in enumerate(report, 1) if f"{number} of {len(report)}" not in page] == []


def test_a_reviewer_finds_when_a_place_opened_by_whose_clock_who_knew_when_what_was_done_and_how_long_it_took(
    report: Sequence[str],
) -> None:
    page = next(page for page in report if "P014 Mill Creek School" in page and "When did it open?" in page)
    for said in (
        "06:34:00, 34 min after its own opening, 06:00 (America/Chicago)",
        "the sender's; told by the place, by endpoint",
        "The office, 06:35:30, 90 s after it opened",
        "Not open at its opening time (stopped): acknowledged 06:03 by person 2; R03 assigned 06:04",
        "from raised, 06:00: acknowledged after 3 min, on site after 21 min, ended after",
        "06:03, 3 min by person 2",
        "R03 06:04",
        "06:21, 21 min",
        "the facts: the place opened",
    ):
        assert said in page, said


def test_from_the_first_page_it_is_two_looks_to_any_place(report: Sequence[str]) -> None:
    """The first page names the page of the index, the index the page of the place."""
    index = int(re.search(r"in this order\. (\d+)", report[0])[1])  # type: ignore[index]
    assert "Index of places" in report[index - 1]
    for place in ("P014 Mill Creek School", "P017"):
        page = int(re.search(rf"{place}\D*? (\d+)", report[index - 1])[1])  # type: ignore[index]
        assert place in report[page - 1]
        assert "When did it open?" in report[page - 1]


@pytest.fixture
def two_a_volume(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("county.pack.record.A_VOLUME", 2)
    monkeypatch.setattr("county.pack.printed.volumes.A_VOLUME", 2)
    monkeypatch.setattr("county.pack.printed.place_day.EVERY_UP_TO", 1)


@pytest.mark.usefixtures("two_a_volume")
def test_of_a_large_county_the_index_names_volume_and_page_of_every_place_and_there_are_the_answers(
    tmp_path: Path,
) -> None:
    write_pack(kept(a_day()), Choice(), tmp_path / "pack")
    report = pages_of(tmp_path / "pack" / "report.pdf")
    [at] = re.findall(r"in this order\. (\d+)", report[0])
    found = re.findall(r"(P01[4-7])\D*(\d): (\d+)", report[int(at) - 1])
    assert [(place, volume) for place, volume, _ in found] == [
        ("P014", "1"),
        ("P015", "1"),
        ("P016", "2"),
        ("P017", "2"),
    ]
    in_full = []
    for place, number, page in found:
        volume = pages_of(tmp_path / "pack" / f"place_days_{number}.pdf")
        day = volume[int(page) - 1]
        for asked in (
            "When did it open?",
            "By whose clock?",
            "Who knew when?",
            "What was done?",
            "How long did it take?",
        ):
            assert place in day
            assert asked in day
        in_full += [place] if f"{place} " in day and "Minute by minute" in " ".join(volume[int(page) - 1 :]) else []
    assert "P014" in in_full
    glance = pages_of(tmp_path / "pack" / "places_at_a_glance.pdf")[0]
    assert [f"{volume}: {page}" in glance for _, volume, page in found] == [True] * 4
    assert "Places at a glance" not in report[2]
    assert "places_at_a_glance.pdf" in report[0]


@pytest.mark.usefixtures("two_a_volume")
def test_in_short_a_place_has_its_answers_and_its_cases_and_not_every_minute(tmp_path: Path) -> None:
    write_pack(kept(a_day()), Choice(), tmp_path / "pack")
    volume = pages_of(tmp_path / "pack" / "place_days_1.pdf")
    short = next(page for page in volume if "Days in short" in page and "P015" in page)
    assert "05:59:00, in time; own opening 06:00" in short
    assert "Minute by minute: csv/entries.csv" in short
    assert "Happened Known From What" not in short


def test_every_column_has_room_on_the_paper() -> None:
    """Letters on a line of 7 inches at 8.5 points, less a column's own margins; five at least are left."""
    left = {name: (7 * 72 - 7 * len(columns)) / 8.5 - sum(columns.values()) for name, columns in PRINTED.items()}
    assert {name: round(room, 1) for name, room in left.items() if room < 5} == {}


def test_what_was_put_right_stays_beside_what_replaced_it(report: Sequence[str]) -> None:
    whole = " ".join(report)
    numbers = {entry.seq: entry for entry in a_day()}
    correction = next(seq for seq, entry in numbers.items() if entry.text("reason") == "read again by two officers")
    withdrawal = next(seq for seq, entry in numbers.items() if entry.text("reason") == "told of the wrong place")
    assert f"public counter 211, check-ins 215, people in line 12 Put right by entry {correction}" in whole
    assert f"Withdrawn by entry {withdrawal}" in whole


def test_what_is_missing_is_said_as_missing(report: Sequence[str]) -> None:
    whole = " ".join(report)
    assert "Not reported open (own opening 06:00, America/Chicago)" in whole
    assert "at most 190 min: it was not reported open" in whole
    assert "places not reported open" in whole
    assert "Nothing was reported." in whole


def test_nothing_that_was_typed_can_command_the_typesetter(tmp_path: Path) -> None:
    """Marks of the typesetter's language come out as they were typed."""
    typed = '#panic("x") $x^2$ *b* _i_ @ref <label> \\ // [#read("/etc/passwd")]'
    entries = (a_step("open", before(1)), a_note(after(5), typed))
    write_pack(kept([entry_numbered(entry, n) for n, entry in enumerate(entries, 1)]), Choice(), tmp_path / "pack")
    assert typed in " ".join(pages_of(tmp_path / "pack" / "report.pdf"))


def test_no_name_is_printed(pack: Path) -> None:
    for file in ("report.pdf", "activity_log.pdf"):
        assert NAMES.findall(" ".join(pages_of(pack / file))) == []


def test_the_activity_log_has_the_blocks_of_the_form_and_claims_nothing(pack: Path) -> None:
    first = pages_of(pack / "activity_log.pdf")[0]
    for block in (
        "Incident Name", "Operational Period", "ICS Position", "Home Agency (and Unit)", "Resources Assigned",
        "Activity Log", "Notable Activities", "Prepared by",
    ):  # fmt: skip
        assert block in first
    assert "does not claim to comply" in first


def test_a_large_county_has_those_days_printed_in_full_that_are_worth_it_and_those_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("county.pack.printed.place_day.EVERY_UP_TO", 1)
    days = {
        choice: [now.place.place for now in chosen(make_record(kept(a_day()), choice))]
        for choice in (Choice(), Choice(places=("P015",)), Choice(every_place=True))
    }
    assert list(days.values()) == [
        ["P014", "P016", "P017"],
        ["P014", "P015", "P016", "P017"],
        ["P014", "P015", "P016", "P017"],
    ]


def test_many_days_are_bound_in_volumes_none_left_out() -> None:
    places = list(make_record(kept(a_day()), Choice()).places) * 60
    assert [len(each) for each in volumes(places)] == [100, 100, 40]


def test_neither_the_clock_nor_the_machine_bears_on_the_pack(tmp_path: Path) -> None:
    environ = {"POLLRISE_DATA": str(tmp_path / "data")}
    settings = settings_from(environ)
    set_up(settings)
    settings.plan.write_text(PLAN_TEXT)
    office = open_office(settings)
    upkeep.load_roster(office, ROSTER)
    desk.keep(office, [a_report_of_a_step("open", "06:20"), a_report_of_a_step("open", "05:58", place="P015")])
    office.engine.dispose()
    sums = []
    for name, zone, seed in (("a", "UTC", "1"), ("b", "Pacific/Auckland", "2")):
        run = [sys.executable, "-m", "county", "export", "--out", str(tmp_path / name)]
        more = {"TZ": zone, "PYTHONHASHSEED": seed, "LC_ALL": "C"}
        subprocess.run(run, env={**os.environ, **environ, **more}, check=True, capture_output=True)
        sums.append((tmp_path / name / verify.SUMS).read_text())
    assert sums[0] == sums[1]


def entry_numbered(entry: Entry, number: int) -> Entry:
    return replace(entry, seq=number)
