"""The printed rover sheet: its blocks, its words, and that it is the same bytes every time."""

import io
import time
from pathlib import Path

import pypdfium2
import pytest

from county.cli import main
from county.domain.dispatch import suggest
from county.domain.entries import Entry
from county.domain.picture import Picture
from county.domain.plan_file import parse_plan
from county.domain.rover_cases import in_order
from county.rover_sheet.printing import sheets_pdf, sheets_png
from county.rover_sheet.sheet import Sheet, sheets_of
from county.settings import settings_from
from county.upkeep import load_roster
from county.wiring import open_office
from tests.builders import a_step, after, an_action, an_exception
from tests.ingest.officers_page.a_county import PLAN
from tests.ingest.rovers_page.a_county import JAM, POWER, ROSTER

THE_PLAN = parse_plan(PLAN, "plan.toml")
NOW = after(40)
ICS_204 = (
    "1. Incident Name",
    "2. Operational Period",
    "3. Branch, Division, Group, Staging Area",
    "4. Operations Personnel",
    "5. Resources Assigned",
    "6. Work Assignments",
    "7. Special Instructions",
    "8. Communications",
    "9. Prepared by",
)
"""Blocks 1 to 9 of ICS form 204, Federal Emergency Management Agency."""
ASSIGNED = (
    an_exception("scanner-jam", after(20), device="SC-0141", note="paper <b> #x *y* _z_ $w$"),
    an_exception("no-power", after(25), place="P015"),
    an_action(JAM, "assign", after(30), rover="R03"),
    an_action(POWER, "assign", after(31), rover="R03", place="P015"),
)


def sheets(*entries: Entry) -> list[Sheet]:
    picture = Picture.of(ROSTER, THE_PLAN, entries)
    found = suggest(picture.cases(), ROSTER, THE_PLAN, THE_PLAN.dispatch, NOW)
    return sheets_of(picture, found, NOW, ROSTER.rovers)


def text_of(pdf: bytes) -> list[str]:
    """What every page says, its lines run together."""
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def test_every_block_has_its_name_and_every_rover_its_page() -> None:
    pages = text_of(sheets_pdf(sheets(*ASSIGNED), THE_PLAN, NOW))
    assert len(pages) == len(ROSTER.rovers)
    for page in pages:
        assert [name for name in ICS_204 if name not in page] == []
        assert "General Election, Wrenfield County" in page
        assert "this is not that form" in page
        assert "REHEARSAL" in page
        assert "Danger to anyone? Call 911 first." in page


def test_the_work_stands_in_order_with_all_that_is_needed_there() -> None:
    own, other = sheets(*ASSIGNED)
    assert [each.where for each in own.work] == ["P015, Grange Hall", "P014, Mill School"]
    jam = own.work[1]
    assert (jam.address, jam.phone, jam.what) == ("12 Mill Road, Seat", "555-0114", "Scanner jam, SC-0141")
    assert (jam.since, jam.state, jam.wanted) == ("06:20", "assigned", (("Skill", "scanner"),))
    assert [kind for kind, _ in own.instructions] == ["No power", "Scanner jam"]
    assert own.reach == (
        ("Central office", "555-0100 (telephone)"),
        ("Grange Hall", "555-0115 (telephone)"),
        ("Mill School", "555-0114 (telephone)"),
    )
    assert other.work == ()
    page = text_of(sheets_pdf([own], THE_PLAN, NOW))[0]
    assert "paper <b> #x *y* _z_ $w$" in page
    assert "Two officers open only what the county's sheet allows." in page


def test_without_assignments_there_are_lines_to_write_on() -> None:
    page = text_of(sheets_pdf(sheets(), THE_PLAN, NOW))[0]
    assert "Nothing is assigned as of 11/03/2026 06:40 CST." in page


def test_the_same_sheet_is_the_same_bytes() -> None:
    first = sheets_pdf(sheets(*ASSIGNED), THE_PLAN, NOW)
    time.sleep(1.1)  # a file that held its own date would differ by now
    assert sheets_pdf(sheets(*reversed(ASSIGNED)), THE_PLAN, NOW) == first
    assert sheets_pdf(sheets(*ASSIGNED[1:]), THE_PLAN, NOW) != first


def test_what_was_recorded_at_final_testing_is_not_carried_to_the_place() -> None:
    entries = (
        a_step("zero-report", after(5), device="SC-0141", public_counter=0, protective_counter=7, copies=3, signers=3),
        an_exception("seal-broken", after(6), device="SC-0141", note="recorded 4711"),
        an_action("P014.seal-broken.SC-0141", "assign", after(7), rover="R03"),
    )
    (work,) = sheets(*entries)[0].work
    assert work.says == "The seal was reported as not whole."
    assert "4711" not in "".join(text_of(sheets_pdf(sheets(*entries), THE_PLAN, NOW)))


def test_many_assignments_run_on_to_more_pages() -> None:
    kinds = [kind for kind in THE_PLAN.exception_kinds if kind not in ("threat", "medical", "fire", "evacuation")][:20]
    entries = [an_exception(kind, after(5), place="P016") for kind in kinds]
    entries += [an_action(f"P016.{kind}", "assign", after(6), rover="R03", place="P016") for kind in kinds]
    made = sheets(*entries)[:1]
    assert len(made[0].work) == len(kinds)
    assert len(sheets_png(made, THE_PLAN, NOW, 20)) > 1


def test_where_the_rover_is_comes_first_and_what_no_stop_knows_last() -> None:
    picture = Picture.of(
        ROSTER, THE_PLAN, (*ASSIGNED, an_action(POWER, "on-site", after(35), rover="R03", place="P015"))
    )
    cases = [case for case in picture.cases() if case.rover == "R03"]
    assert [case.case for case in in_order(cases, [JAM])] == [POWER, JAM]


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A data folder with plan and roster."""
    folder = tmp_path / "data"
    folder.mkdir()
    (folder / "plan.toml").write_text(PLAN)
    office = open_office(settings_from({"POLLRISE_DATA": str(folder)}))
    load_roster(office, ROSTER)
    office.engine.dispose()
    return folder


def run(data: Path, *words: str) -> int:
    return main(
        ("rovers", "sheet", *words), {"POLLRISE_DATA": str(data), "POLLRISE_NOW": "2026-11-03T06:40:00-06:00x0"}
    )


def test_the_command_writes_every_sheet_or_one(data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "rovers.pdf"
    assert run(data, "--out", str(out)) == 0
    assert capsys.readouterr().out == f"wrote 2 sheets to {out}\n"
    assert len(text_of(out.read_bytes())) == 2
    assert run(data, "--out", str(out), "--rover", "R04") == 0
    assert "Assignment list: rover R04" in text_of(out.read_bytes())[0]


@pytest.mark.parametrize(
    "words", [("--out", "nowhere/r.pdf"), ("--out", "."), ("--out", "r.pdf", "--rover", "R99"), ()]
)
def test_what_cannot_be_done_is_said_in_one_line(
    data: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(data)
    try:
        code = run(data, *words)
    except SystemExit as ended:
        code = int(str(ended.code))
    assert code == 2
    assert capsys.readouterr().err.count("\n") == 1
