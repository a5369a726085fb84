"""Any table written by us, in any encoding, with any delimiter, in any order of columns, reads back the same."""

import csv
import io
from io import BytesIO

from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from county.roster_files.column_maps import ColumnMap, read_maps, write_maps
from county.roster_files.fields import FIELDS
from tests.roster_lists import read_list

WORDS = st.sampled_from(
    ["Oak", "Mill", "Žižkov", "St. Mary’s", "O'Neil", "Ñuñoa", 'the "Old"', "Ward; 7", "A, B", "x | y"]
)
NAMES = st.lists(WORDS, min_size=1, max_size=3).map(lambda words: f"{' '.join(words)} Hall")
ROWS = st.lists(
    st.fixed_dictionaries(
        {
            "Polling Place": NAMES,
            "Street": st.builds(
                "{} {} Rd".format, st.integers(1, 9999), st.sampled_from(["Oak", "Mill", "Elm, Apt 2"])
            ),
            "City": st.sampled_from(["Wren", "Žižkov", ""]),
            "Registered Voters": st.integers(0, 99_999).map(str),
            "Hours": st.sampled_from(["7:00 am - 8:00 pm", "6 am - 7 pm", "Noon - 8 pm"]),
        }
    ),
    min_size=1,
    max_size=6,
)
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le with mark", "utf-16-be with mark")


def encoded(text: str, encoding: str) -> bytes:
    name, _, marked = encoding.partition(" ")
    return f"\ufeff{text}".encode(name) if marked else text.encode(name)


def written(columns: list[str], rows: list[dict[str, str]], delimiter: str) -> str:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, delimiter=delimiter)
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


@settings(max_examples=60, deadline=None)
@given(
    rows=ROWS,
    order=st.permutations(["Precinct", "Polling Place", "Street", "City", "Registered Voters", "Hours"]),
    encoding=st.sampled_from(ENCODINGS),
    delimiter=st.sampled_from(",;\t|"),
    above=st.integers(0, 3),
)
def test_an_own_list_reads_back_the_same(
    rows: list[dict[str, str]], order: list[str], encoding: str, delimiter: str, above: int
) -> None:
    numbered = [row | {"Precinct": str(number)} for number, row in enumerate(rows, 1)]
    usual = read_list(written(["Precinct", *rows[0]], numbered, ","))
    titles = "".join(f"Title {number}\r\n" for number in range(above))
    reading = read_list(encoded(titles + written(order, numbered, delimiter), encoding))
    assert reading.roster == usual.roster
    assert {each.precinct: each.registered for each in reading.roster.precincts} == {
        row["Precinct"]: int(row["Registered Voters"]) for row in numbered
    }
    for row in numbered:
        place = reading.roster.place_of(row["Precinct"])
        assert place is not None
        assert place.address.startswith(row["Street"].split(",")[0])


@settings(max_examples=20, deadline=None)
@given(rows=ROWS)
def test_a_workbook_says_what_the_same_rows_in_a_text_file_say(rows: list[dict[str, str]]) -> None:
    numbered = [{"Precinct": str(number)} | row for number, row in enumerate(rows, 1)]
    book, out = Workbook(), BytesIO()
    columns = list(numbered[0])
    for cells in (columns, *([row[column] for column in columns] for row in numbered)):
        book.active.append(cells)
    book.save(out)
    text = written(columns, numbered, ",")
    assert read_list(out.getvalue(), "list.xlsx").roster == read_list(text).roster


HEADER = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12).filter(
    lambda text: bool(text.split())
)


@given(
    st.lists(
        st.builds(
            ColumnMap,
            name=st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=8),
            headers=st.lists(HEADER, min_size=1, max_size=3, unique=True).map(
                lambda h: tuple(" ".join(x.split()) for x in h)
            ),
            columns=st.dictionaries(
                st.sampled_from(sorted(FIELDS)),
                st.lists(HEADER, min_size=1, max_size=2).map(lambda h: tuple(" ".join(x.split()) for x in h)),
            ),
        ),
        max_size=3,
        unique_by=lambda each: each.name,
    )
)
def test_column_maps_read_back_the_same(maps: list[ColumnMap]) -> None:
    assert read_maps(write_maps(maps), "columns.toml") == tuple(maps)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=400), st.sampled_from(["list.csv", "places.csv", "precinct.txt", "feed.xml", "list.xlsx"]))
def test_no_bytes_whatever_break_the_reading(data: bytes, name: str) -> None:
    read_list(data, name)


ODD = st.sampled_from(["", "1", "Precinct", "Polling Place", "Address", "7-8", "TOTAL", "é\n", "id", "-99"])


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.lists(ODD, max_size=5), max_size=7),
    st.sampled_from(["list.csv", "places.csv", "precinct.txt", "polling_location.txt"]),
)
def test_no_table_whatever_breaks_the_reading(rows: list[list[str]], name: str) -> None:
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    read_list(out.getvalue(), name)
