"""Workbooks: dates and times as Excel keeps them, merged cells, several sheets, and what is hidden."""

from datetime import date, datetime, time, timedelta
from io import BytesIO
from typing import Any

from openpyxl import Workbook

from county.roster_files.reading import Reading
from tests.roster_files.test_own_lists import hours, noted, votes_at, warned, wrong
from tests.roster_lists import read_list

HEADER = ["Precinct", "Polling Place", "Address", "Open", "Close"]


def sheet(*rows: list[Any]) -> Workbook:
    book = Workbook()
    for row in rows:
        book.active.append(row)
    return book


def read(book: Workbook) -> Reading:
    out = BytesIO()
    book.save(out)
    return read_list(out.getvalue(), "list.xlsx")


def test_times_dates_and_numbers_as_a_spreadsheet_keeps_them() -> None:
    reading = read(
        sheet(
            [*HEADER, "Registered", "Election Date"],
            [1, "Town Hall", "1 Main St", time(7), time(20), 1200, date(2026, 11, 3)],
            [2, "Grange", "20 Mill Rd", 0.25, 0.75, 800.0, date(2026, 11, 3)],
            [
                3,
                "Library",
                "3 Main St",
                datetime.fromisoformat("1899-12-30T06:30"),
                timedelta(hours=24),
                "",
                date(2026, 11, 3),
            ],
        )
    )
    assert wrong(reading) + warned(reading) == []
    assert hours(reading.roster) == {
        "Town Hall": (time(7), time(20)), "Grange": (time(6), time(18)), "Library": (time(6, 30), time(0)),
    }  # fmt: skip
    assert [each.registered for each in reading.roster.precincts] == [1200, 800, None]


def test_a_place_merged_over_its_precincts_is_the_place_of_each() -> None:
    book = sheet(HEADER, [1, "Town Hall", "1 Main St"], [2], [3], [4, "Grange", "20 Mill Rd"])
    for merged in ("B2:B4", "C2:C4"):
        book.active.merge_cells(merged)
    reading = read(book)
    assert votes_at(reading.roster) == {"1": "Town Hall", "2": "Town Hall", "3": "Town Hall", "4": "Grange"}
    assert wrong(reading) + warned(reading) == []


def test_a_title_merged_over_all_columns_is_no_row() -> None:
    book = sheet(["Polling places, General Election"], [], HEADER, [1, "Town Hall", "1 Main St", "7 am", "8 pm"])
    book.active.merge_cells("A1:E1")
    assert votes_at(read(book).roster) == {"1": "Town Hall"}


def test_places_and_precincts_on_two_sheets_are_brought_together() -> None:
    book = sheet(["Site ID", "Site Name", "Address"], ["A1", "Town Hall", "1 Main St"], ["B2", "Grange", "20 Mill Rd"])
    book.active.title = "Sites"
    more = book.create_sheet("Precincts")
    for row in (["Pct", "Site ID"], [1, "A1"], [2, "B2"], [3, "A1"], [4, "C9"]):
        more.append(row)
    reading = read(book)
    assert votes_at(reading.roster) == {"1": "Town Hall", "2": "Grange", "3": "Town Hall", "4": ""}
    assert wrong(reading) == ["list.xlsx [Precincts], row 5, column Site ID: C9 is no place of these lists"]
    assert [(guess.sheet, guess.header_row) for guess in reading.guesses] == [("Sites", 1), ("Precincts", 1)]


def test_a_sheet_that_is_no_list_is_left_out_and_said() -> None:
    book = sheet(HEADER, [1, "Town Hall", "1 Main St", "7 am", "8 pm"])
    book.create_sheet("Read me").append(["This list was made by the county."])
    book.create_sheet("Old").append(["Precinct", "Polling Place"])
    book["Old"].sheet_state = "hidden"
    reading = read(book)
    assert wrong(reading) == []
    assert any(note.startswith("list.xlsx [Read me]: ") for note in noted(reading))
    assert len(reading.guesses) == 1


def test_the_five_tables_may_be_sheets_of_one_workbook() -> None:
    book = sheet(["place", "name"], ["P1", "Town Hall"])
    book.active.title = "places"
    for title, rows in {
        "devices": (["device", "place", "type", "protective_counter"], ["SC-1", "P1", "scanner", 48210]),
        "seals": (["device", "position", "number"], ["SC-1", "front", "004417"]),
    }.items():
        for row in rows:
            (book[title] if title in book else book.create_sheet(title)).append(row)
    roster = read(book).roster
    assert (len(roster.places), len(roster.devices), len(roster.seals)) == (1, 1, 1)
    assert roster.devices[0].protective_counter == 48210


def test_faults_of_formulas_are_blank() -> None:
    reading = read(
        sheet(HEADER, [1, "Town Hall", "1 Main St", "#REF!", "#N/A"], [2, "Grange", "2 Main St", "7am", "8pm"])
    )
    assert hours(reading.roster)["Town Hall"] == (None, None)


def test_a_workbook_without_anything_says_so() -> None:
    assert wrong(read(Workbook())) == ["list.xlsx: has no sheet with anything in it"]
