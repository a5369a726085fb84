"""Any table that a spreadsheet wrote reads back as it was; a bad row never costs the others."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.delimited import BadRow, Unreadable, read_rows

Rows = list[tuple[int, dict[str, str] | BadRow]]

ENCODINGS = {
    "utf-8": b"",
    "utf-8 with mark": b"\xef\xbb\xbf",
    "utf-16-le": b"\xff\xfe",
    "utf-16-be": b"\xfe\xff",
}
CELLS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
NAMES = st.lists(st.from_regex(r"[a-z][a-z_]{0,8}", fullmatch=True), min_size=1, max_size=6, unique=True)


def written(columns: list[str], rows: list[dict[str, str]], delimiter: str = ",", ending: str = "\r\n") -> str:
    out = io.StringIO(newline="")
    # The standard writer leaves a line break unquoted where it is not part of its own line ending.
    writer = csv.DictWriter(
        out,
        columns,
        delimiter=delimiter,
        lineterminator=ending,
        quoting=csv.QUOTE_MINIMAL if ending == "\r\n" else csv.QUOTE_ALL,
    )
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def read(data: bytes | str) -> Rows:
    return list(read_rows(data.encode() if isinstance(data, str) else data)[1])


def said(data: bytes | str) -> dict[int, str]:
    return {number: row.says for number, row in read(data) if isinstance(row, BadRow)}


@given(
    columns=NAMES,
    data=st.data(),
    encoding=st.sampled_from(sorted(ENCODINGS)),
    delimiter=st.sampled_from(",;\t"),
    ending=st.sampled_from(["\r\n", "\n", "\r"]),
)
def test_any_table_reads_back_the_same(
    columns: list[str], data: st.DataObject, encoding: str, delimiter: str, ending: str
) -> None:
    rows = data.draw(st.lists(st.fixed_dictionaries(dict.fromkeys(columns, CELLS)), max_size=5))
    order = data.draw(st.permutations(columns))
    text = written(order, rows, delimiter, ending)
    read_columns, read_back = read_rows(ENCODINGS[encoding] + text.encode(encoding.split()[0]))
    assert read_columns == order
    full = [(n, row) for n, row in enumerate(rows, 2) if any(value.strip() for value in row.values())]
    assert list(read_back) == full


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_a_mark_is_recognised(encoding: str) -> None:
    assert read("place,name\nP001,Žižkov\n".encode(encoding)) == [(2, {"place": "P001", "name": "Žižkov"})]


def test_a_header_in_another_case_is_the_same_header() -> None:
    columns, _ = read_rows(b" Place ,NAME,\nP001,x\n")
    assert columns == ["place", "name"]


def test_short_rows_are_filled_and_empty_rows_are_counted_but_passed_over() -> None:
    assert read("a,b\n1\n\n,\n2,3\n") == [(2, {"a": "1", "b": ""}), (5, {"a": "2", "b": "3"})]


def test_a_quoted_line_break_is_one_row() -> None:
    assert read('a,b\n"x\r\ny",1\nz,2\n') == [(2, {"a": "x\r\ny", "b": "1"}), (3, {"a": "z", "b": "2"})]


def test_a_semicolon_in_a_comma_file_is_only_text() -> None:
    assert read("a,b,c\n1;2;3;4,5,6\n") == [(2, {"a": "1;2;3;4", "b": "5", "c": "6"})]


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        (b"1,2,3", "more values than the 2 columns of the header"),
        (b"1,caf\xe9", 'column b: holds a byte (0xE9) that is not UTF-8; save the file as "CSV UTF-8"'),
        (b"1,\0", "column b: holds a NUL character"),
        (b'1,"x', "a quotation mark is never closed"),
        (b'1,"x"y', "a quotation mark in the wrong place"),
        (b"1," + b"x" * 200_000, "a value is too long, or a quotation mark is never closed"),
    ],
)
def test_a_bad_row_is_named_and_the_rows_around_it_are_kept(bad: bytes, says: str) -> None:
    rows = read(b"a,b\n7,8\n" + bad + b"\n9,10\n")
    assert rows[0] == (2, {"a": "7", "b": "8"})
    assert isinstance(rows[1][1], BadRow)
    assert (rows[1][0], rows[1][1].says) == (3, says)
    assert rows[2:] == [(4, {"a": "9", "b": "10"})]


def test_what_a_bad_row_held_can_be_written_out_again() -> None:
    (_, row), *_ = read(b"a,b\n1,caf\xe9\0\n")
    assert isinstance(row, BadRow)
    assert row.cells == ("1", "caf\\udce9\\x00")


def test_utf_16_cut_in_the_middle_of_a_character_loses_only_its_row() -> None:
    data = b"\xff\xfe" + "a,b\n1,2\n3,4".encode("utf-16-le") + b"\xe9"
    assert [number for number, row in read(data) if isinstance(row, BadRow)] == [3]


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "row 1: the file is empty"),
        (b"\xef\xbb\xbf", "row 1: the file is empty"),
        (b"\n1,2\n", "row 1: no column names"),
        (b"a,,b\n", "row 1: column 2 has no name"),
        (b"a,b,A\n", "row 1: column a is there twice"),
        (b"a,b\0\n", "row 1: column 2 cannot be read: holds a NUL character"),
        (b'"a,b\n', "row 1: a quotation mark is never closed"),
    ],
)
def test_a_file_that_is_no_table_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(Unreadable, match=says):
        read_rows(data)


@given(st.binary(max_size=300))
def test_no_bytes_whatever_break_the_reader(data: bytes) -> None:
    try:
        rows = read(data)
    except Unreadable:
        return
    numbers = [number for number, _ in rows]
    assert numbers == sorted(set(numbers))
    for _, row in rows:
        "".join(row.cells if isinstance(row, BadRow) else row.values()).encode()


def test_a_hundred_thousand_rows_are_read_quickly() -> None:
    data = b"key,place,kind,step,note\n" + b'k-%d,P001,step,open,"a ""b"" note"\n' % 7 * 100_000
    count = sum(1 for _ in read_rows(data)[1])
    assert count == 100_000


def test_many_unclosed_quotation_marks_do_not_make_reading_slow() -> None:
    assert len(said("a,b\n" + '1,"x\n' * 50_000)) == 50_000


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("value", [",", ";", "\t", "a,b;c", 'a;"b', ",;"])
def test_one_column_keeps_a_value_that_looks_like_another_delimiter(value: str, delimiter: str) -> None:
    text = written(["key"], [{"key": value}, {"key": "x"}], delimiter)
    kept = [row for row in ({"key": value}, {"key": "x"}) if row["key"].strip()]
    assert [row for _, row in read(b"\xfe\xff" + text.encode("utf-16-be"))] == kept
