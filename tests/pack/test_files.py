"""The files of a pack: read back by other means, and the same bytes whenever they are written."""

import csv
import datetime
import hashlib
import io
import json
import zipfile
from dataclasses import replace
from pathlib import Path
from zoneinfo import ZoneInfo

import openpyxl
import pytest

from county.errors import BadCopy
from county.pack import verify
from county.pack.csv_file import csv_text
from county.pack.formulas import as_text_only
from county.pack.geo import geojson
from county.pack.record import Choice
from county.pack.table import Table, moment, number, table, text
from county.pack.workbook import workbook
from county.pack.writing import write_pack
from tests.builders import after
from tests.pack.a_record import a_day, a_record, kept

COUNTY = ZoneInfo("America/Chicago")
FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "=cmd|' /C calc'!A0")


def a_table(*texts: str) -> Table:
    columns = (text("said"), number("count"), moment("at", "When"))
    return table("said", "Said", "What was said.", columns, [(each, 3, after(90)) for each in texts])


def rows_of(content: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content, newline="")))


def test_csv_is_as_rfc_4180_has_it() -> None:
    content = csv_text(a_table('a "word", and\na line', "é"), COUNTY)
    assert content == (
        'said,count,at\r\n"a ""word"", and\na line",3,2026-11-03T07:30:00-06:00\r\né,3,2026-11-03T07:30:00-06:00\r\n'
    )
    assert rows_of(content)[1][0] == 'a "word", and\na line'


def test_what_nobody_told_is_empty_and_never_0() -> None:
    nothing = replace(a_table(), rows=((None, None, None),))
    assert rows_of(csv_text(nothing, COUNTY))[1] == ["", "", ""]


@pytest.mark.parametrize("formula", FORMULAS)
def test_no_text_becomes_a_formula(formula: str) -> None:
    assert rows_of(csv_text(a_table(formula), COUNTY))[1][0] == f"'{formula}"
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", ["=1+1"], [a_table(formula)], COUNTY)))
    for cell in (book["Said"]["A2"], book["Read this first"]["A1"]):
        assert (cell.data_type, cell.quotePrefix) == ("s", True)
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


@pytest.mark.parametrize("plain", ["P014", "5+5", "a=b", ""])
def test_other_text_stays_as_it_is(plain: str) -> None:
    assert as_text_only(plain) == plain


def test_a_workbook_has_a_sheet_a_subject_with_numbers_and_moments_as_such() -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", ["first"], [a_table("x", "#N/A", "true")], COUNTY)))
    assert book.sheetnames == ["Read this first", "Said"]
    sheet = book["Said"]
    assert [cell.value for cell in sheet[2]] == ["x", 3, datetime.datetime(2026, 11, 3, 7, 30)]  # noqa: DTZ001
    assert [sheet["A3"].data_type, sheet["A4"].data_type] == ["s", "s"]
    assert (sheet.freeze_panes, sheet.auto_filter.ref, sheet.print_title_rows) == ("B2", "A1:C4", "$1:$1")


@pytest.mark.parametrize(
    "said", ["a & <b>", " led in", "two\nlines", "x" * 40_000, "5+5", "\u201cquoted\u201d", "1E5", "0012"]
)
def test_a_workbook_gives_text_back_as_it_was_written(said: str) -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", ["first"], [a_table(said)], COUNTY)))
    assert book["Said"]["A2"].value == said[:32_767]


def test_a_workbook_keeps_numbers_and_leaves_empty_what_nobody_told() -> None:
    rows = (("x", 0, None), (None, 2.5, after(90.25)), ("", True, None))
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", [], [replace(a_table(), rows=rows)], COUNTY)))
    assert [cell.value for row in book["Said"].iter_rows(min_row=2) for cell in row] == [
        *("x", 0, None),
        *(None, 2.5, datetime.datetime(2026, 11, 3, 7, 30, 15)),  # noqa: DTZ001
        *(None, "yes", None),
    ]


def test_long_text_is_wrapped_in_a_row_high_enough_and_printed_as_wide_as_the_paper() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(workbook("t", ["first"], [a_table("word " * 40, "x")], COUNTY)))["Said"]
    for cell in (sheet["A2"], sheet["A3"], sheet["B2"], sheet["C2"]):
        assert (cell.alignment.wrap_text, cell.alignment.vertical) == (True, "top")
    assert sheet.row_dimensions[2].height > 100
    assert sheet.row_dimensions[3].height is None
    assert sheet["C2"].number_format == "yyyy-mm-dd hh:mm:ss"
    assert (sheet.page_setup.orientation, sheet.sheet_properties.pageSetUpPr.fitToPage) == ("landscape", True)


def test_control_characters_do_not_break_a_workbook() -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", [], [a_table("a\x00b\x0bc\ufffe")], COUNTY)))
    assert book["Said"]["A2"].value == "a\ufffdb\ufffdc\ufffd"


def test_what_is_too_long_for_a_sheet_goes_on_in_the_next(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("county.pack.workbook.MOST_ROWS", 2)
    book = openpyxl.load_workbook(io.BytesIO(workbook("t", [], [a_table("a", "b", "c", "d", "e")], COUNTY)))
    assert book.sheetnames == ["Read this first", "Said", "Said 2", "Said 3"]
    assert [book["Said 2"]["A2"].value, book["Said 2"]["A3"].value, book["Said 3"]["A2"].value] == ["c", "d", "e"]


def test_geojson_says_longitude_before_latitude_and_leaves_an_unknown_position_out() -> None:
    features = {each["id"]: each for each in json.loads(geojson(a_record()))["features"]}
    assert features["P014"]["geometry"] == {"type": "Point", "coordinates": [-89.4, 43.1]}
    assert features["P014"]["properties"]["minutes_late"] == 34
    assert features["P014"]["properties"]["opened_at"] == "2026-11-03T12:34:00Z"
    assert features["P017"]["geometry"] is None
    assert features["P017"]["properties"]["opened_at"] is None


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The pack of one ledger, written twice."""
    folder = tmp_path_factory.mktemp("packs")
    for name in ("once", "again"):
        write_pack(kept(a_day()), Choice(), folder / name)
    return folder / "once", folder / "again"


def test_the_same_ledger_gives_the_same_bytes(packs: tuple[Path, Path]) -> None:
    once, again = ({f.relative_to(p).as_posix(): f.read_bytes() for f in sorted(p.rglob("*.*"))} for p in packs)
    assert {"report.pdf", "activity_log.pdf", "workbook.xlsx", "ledger.jsonl", "csv/places.csv"} <= once.keys()
    assert [name for name in once.keys() | again.keys() if once.get(name) != again.get(name)] == []


def test_neither_pdf_nor_workbook_holds_the_time_of_exporting(packs: tuple[Path, Path]) -> None:
    year = str(datetime.datetime.now(datetime.UTC).year).encode()
    pdf = (packs[0] / "report.pdf").read_bytes()
    assert b"CreationDate" not in pdf or f"D:{year.decode()}".encode() not in pdf
    with zipfile.ZipFile(packs[0] / "workbook.xlsx") as parts:
        assert {part.date_time for part in parts.infolist()} == {(2000, 1, 1, 0, 0, 0)}
        assert b"2000-01-01T00:00:00Z" in parts.read("docProps/core.xml")


def test_every_file_is_listed_with_its_sum_and_the_verifier_agrees(packs: tuple[Path, Path]) -> None:
    listed = dict(line.split("  ")[::-1] for line in (packs[0] / verify.SUMS).read_text().splitlines())
    for name, digest in listed.items():
        assert hashlib.sha256((packs[0] / name).read_bytes()).hexdigest() == digest
    assert verify.main([str(packs[0])]) == 0


def test_a_pack_is_never_written_over_anything(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    (tmp_path / "there" / "x").write_text("x")
    with pytest.raises(BadCopy, match="not empty"):
        write_pack(kept(a_day()), Choice(), tmp_path / "there")
    assert [each.name for each in tmp_path.iterdir()] == ["there"]


def test_no_name_is_left_in_any_file(packs: tuple[Path, Path]) -> None:
    for file in sorted(packs[0].rglob("*.*")):
        if file.suffix in (".csv", ".jsonl", ".json", ".geojson", ".txt", ".toml"):
            words = file.read_text()
        elif file.suffix == ".xlsx":
            with zipfile.ZipFile(file) as parts:
                words = "".join(parts.read(name).decode() for name in parts.namelist() if name.endswith(".xml"))
        else:
            continue
        assert not [each for each in ("Ada Rill", "Bo Tarn", "Odessa", "555-01", "0143") if each in words], file.name
