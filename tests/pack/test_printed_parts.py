"""What is printed of long tables: the worst first, nothing twice, and what is left out is said."""

from zoneinfo import ZoneInfo

import pytest

from county.pack.about import about
from county.pack.ledger_file import ledger_file
from county.pack.printed import activity_log, parts_by_place
from county.pack.printed.listing import listing
from county.pack.printed.part import Part
from county.pack.printed.printed_parts import printed_parts
from county.pack.record import Choice
from county.pack.subjects.ballots import COLUMNS as BALANCE
from county.pack.subjects.custody import COLUMNS as CUSTODY
from county.pack.subjects.lost import INTERRUPTIONS
from county.pack.subjects.missing import missing
from county.pack.subjects.openings import openings
from county.pack.subjects.quiet import rovers
from county.pack.table import Row, Table, moment, number, table, text
from tests.builders import after
from tests.pack.a_record import a_record

COUNTY = ZoneInfo("America/Chicago")


def places_of(part: Part) -> list[object]:
    return list(part.table.column("place"))


def a_balance(place: str, difference: int | None) -> Row:
    return (place, place, 100, 10, 1, 89, 89, difference, None, None, None, None if difference is not None else "paper")


def test_the_largest_difference_is_printed_first_and_what_balances_last() -> None:
    rows = [a_balance("P001", 0), a_balance("P002", 2), a_balance("P003", None), a_balance("P004", -9)]
    [part] = parts_by_place.balance(a_record(), table("ballot_balance", "Ballots", "", BALANCE, rows))
    assert places_of(part) == ["P004", "P002", "P003", "P001"]


def test_in_a_large_county_what_balances_is_counted_and_not_printed() -> None:
    rows = [a_balance(f"P{n:04}", 0 if n else 3) for n in range(120)]
    [part] = parts_by_place.balance(a_record(), table("ballot_balance", "Ballots", "", BALANCE, rows))
    assert places_of(part) == ["P0000"]
    assert part.says == "119 places were in balance; they are in the file alone."


def test_what_did_not_come_back_is_printed_before_what_did() -> None:
    well = ("P001", "", after(0), None, after(9), None, 9, "a", None, 3, None, None)
    out = ("P002", "", after(0), None, None, None, None, None, None, None, None, None)
    short = ("P003", "", after(0), None, after(9), None, 9, "a", "Keys", 3, None, None)
    [part] = parts_by_place.custody(a_record(), table("custody", "Custody", "", CUSTODY, [well, out, short]))
    assert places_of(part) == ["P003", "P002", "P001"]


def test_of_interruptions_those_that_stopped_voting_come_first_and_the_longest_of_them() -> None:
    rows = [
        (place, after(0), end and after(end), end, effect, "No power", None, None, None, "x", after(0), "yes")
        for place, end, effect in (
            ("A", 90, "impaired"),
            ("B", 5, "stopped"),
            ("C", 30, "stopped"),
            ("D", None, "stopped"),
        )
    ]
    [part] = parts_by_place.interruptions(a_record(), table("interruptions", "I", "", INTERRUPTIONS, rows))
    assert places_of(part) == ["D", "C", "B", "A"]


def test_places_not_reported_open_stand_apart_and_their_minutes_are_the_most_it_can_have_been() -> None:
    opened, never = parts_by_place.late(a_record(), openings(a_record()))
    assert places_of(opened) == ["P014"]
    assert places_of(never) == ["P017", "P016"]
    assert never.table.column("minutes") == ("at most 190", "at most 130")


def test_a_public_copy_prints_rovers_by_their_numbers_once() -> None:
    for choice, shown in ((Choice(), False), (Choice(names=True), True)):
        record = a_record(choice)
        [part] = parts_by_place.rovers(record, rovers(record))
        assert ("name" in part.columns) is shown


def test_places_with_the_same_gaps_stand_in_one_row_and_those_never_heard_from_are_named() -> None:
    county, gaps = printed_parts(a_record(), [missing(a_record())])
    assert county.says == "Never heard from: P017."
    assert set(gaps.table.column("places")) == {"P014", "P015", "P016"}
    told = [len(str(each).split("; ")) for each in gaps.table.column("missing")]
    assert told == sorted(told, reverse=True)


def test_places_alike_are_gathered() -> None:
    gaps = [
        ("P001", "step: Polls declared closed", "not reported", None),
        ("P002", "step: Polls declared closed", "not reported", None),
    ]
    some = table("missing", "M", "", missing(a_record()).columns, [(None, "no closing", "places", 2), *gaps])
    _, part = printed_parts(a_record(), [some])
    assert part.table.rows == ((2, "Polls declared closed", "P001, P002"),)


def a_long_table(rows: int, *, note: str | None) -> Table:
    columns = (text("place"), text("note", "Note"), number("count"))
    return table("t", "A title", "", columns, [(f"P{n}", note, n) for n in range(rows)])


def test_a_column_in_which_nothing_stands_takes_no_room_in_a_long_table_and_is_named() -> None:
    told = listing(a_long_table(30, note=None), {"place": 4.0, "note": 9.0, "count": 0}, COUNTY)
    assert told["head"] == ["Place", "Count"]
    assert told["says"] == "Empty in every row here, so left out: Note."
    assert listing(a_long_table(30, note="x"), {"place": 4.0, "note": 9.0, "count": 0}, COUNTY)["says"] == ""


def test_what_is_not_printed_is_named_with_its_file_and_sheet() -> None:
    told = listing(a_long_table(2_000, note="x"), {"place": 4.0, "note": 0, "count": 4}, COUNTY, most=50)
    assert told["more"] == "1,950 more in csv/t.csv, and in the workbook's sheet “A title”."


@pytest.mark.parametrize("word", ["SC-0001234", "10:05:34\u00a0+1\u00a0d", "acknowledged", "P" * 14])
def test_a_column_is_as_wide_as_its_longest_word(word: str) -> None:
    columns = (text("said"), text("more"))
    told = listing(table("t", "T", "", columns, [(word, "x")]), {"said": 3.0, "more": 0}, COUNTY)
    widths = told["widths"]
    assert isinstance(widths, list)
    assert widths[0] >= 0.46 * len(word)


def test_what_the_clock_noticed_of_many_places_in_one_minute_is_one_line_of_the_activity_log() -> None:
    columns = (moment("at"), text("activity"), text("by"), text("place"), number("seq"))
    rows = [(after(0.001 * n), "Not open", "clock", f"P{n:03}", n) for n in range(50)]
    rows += [(after(0), "Case P001.other: acknowledged", "person 1", "P001", 99)]
    said = activity_log.told(
        a_record(), about(a_record(), ledger_file(a_record())), table("activity_log", "A", "", columns, rows)
    )["rows"]
    assert len(said) == 2  # type: ignore[arg-type]
    assert "Not open. 50 places: P000, P001, " in said[0][1]  # type: ignore[index]
    assert "P039 and 10 more, in csv/activity_log.csv (clock)" in said[0][1]  # type: ignore[index]
    assert said[1][1] == "P001: Case other: acknowledged (person 1)"  # type: ignore[index]
