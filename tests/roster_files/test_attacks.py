"""Bombs, entities and files far too large: refused in one clear line, or read, within 500 MB of memory."""

import os
import subprocess
import sys
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import Workbook

from tests.roster_lists import read_list

ROOT = Path(__file__).parents[2]
MOST_MB = 500
LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE VipObject [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {n} "{f"&{p};" * 10}">' for p, n in zip("abcdefgh", "bcdefghi", strict=True))
    + "]><VipObject><Election id='e'><Date>&i;</Date></Election></VipObject>"
)
OUTSIDE = (
    '<!DOCTYPE VipObject [<!ENTITY file SYSTEM "file:///etc/hostname">]>'
    "<VipObject><PollingLocation id='p'><Name>&file;</Name></PollingLocation></VipObject>"
)


def workbook(**parts: bytes) -> bytes:
    """A workbook with some of its parts replaced."""
    book, out, changed = Workbook(), BytesIO(), BytesIO()
    book.active.append(["Precinct", "Polling Place"])
    book.save(out)
    with zipfile.ZipFile(out) as source, zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as target:
        for part in source.infolist():
            data = parts.get(Path(part.filename).stem)
            target.writestr(part.filename, source.read(part) if data is None else data)
    return changed.getvalue()


def said(data: bytes | str, name: str) -> list[str]:
    return [str(problem) for problem in read_list(data, name).problems]


@pytest.mark.parametrize("feed", [LAUGHS, OUTSIDE, LAUGHS.replace('"1.0"', '"1.0" encoding="UTF-16"')])
def test_a_feed_with_entities_of_its_own_is_refused_unread(feed: str) -> None:
    data = feed.encode("utf-16" if "UTF-16" in feed else "utf-8")
    assert said(data, "feed.xml") == [
        "feed.xml: holds a document type with entities of its own, which is not read: it may be an attack"
    ]


@pytest.mark.parametrize("part", ["sheet1", "workbook", "styles"])
def test_a_workbook_with_entities_is_refused_unread(part: str) -> None:
    assert said(workbook(**{part: LAUGHS.encode()}), "list.xlsx") == [
        "list.xlsx: holds a document type with entities of its own, which is not read: it may be an attack"
    ]


def test_a_feed_nested_without_end_is_refused() -> None:
    assert said("<VipObject>" + "<a>" * 100_000, "feed.xml") == [
        "feed.xml: line 1: elements are nested more than 64 deep"
    ]


def test_a_workbook_that_unpacks_without_end_is_refused() -> None:
    bomb = workbook(sheet1=b"<worksheet><sheetData>" + b" " * 60_000_000 + b"</sheetData></worksheet>")
    assert len(bomb) < 200_000
    assert said(bomb, "list.xlsx") == ["list.xlsx: unpacks to 57 MB; a list of places and precincts has 48 MB at most"]


def test_an_archive_that_unpacks_without_end_is_refused() -> None:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(6):
            archive.writestr(f"list{number}.csv", b"Precinct,Polling Place\n" + b"1,Hall\n" * 1_400_000)
    assert said(out.getvalue(), "lists.zip") == [
        "lists.zip: unpacks to 56 MB; a list of places and precincts has 48 MB at most"
    ]


def test_a_row_far_down_and_a_cell_far_right_cost_nothing() -> None:
    book, out = Workbook(), BytesIO()
    book.active.append(["Precinct", "Polling Place", "Address"])
    book.active.append([1, "Town Hall", "1 Main St"])
    book.active["XFD2"] = "far right"
    book.save(out)
    reading = read_list(out.getvalue(), "list.xlsx")
    assert [place.name for place in reading.roster.places] == ["Town Hall"]
    book.active["A1048576"] = "far down"
    book.save(out)
    assert said(out.getvalue(), "list.xlsx") == ["list.xlsx: has more than 100,000 rows; no county's list has so many"]


@pytest.mark.parametrize("data", [b"PK\x03\x04" + b"\0" * 50, workbook()[:200], b"PK\x03\x04"])
def test_a_damaged_archive_says_so(data: bytes) -> None:
    [problem] = said(data, "list.xlsx")
    assert problem.startswith("list.xlsx: is a damaged archive or workbook")


def peak_mb(file: Path) -> tuple[float, str]:
    """The most memory that reading a file took, in a process of its own, and what it said."""
    asked = (
        "import sys; from pathlib import Path; from tests.memory import peak_mb; from tests.roster_lists import read;"
        "found = read([Path(sys.argv[1])]); print(peak_mb(), len(found.roster.precincts), *found.problems[:1])"
    )
    run = subprocess.run(
        [sys.executable, "-c", asked, str(file)], cwd=ROOT, capture_output=True, text=True, check=True, timeout=120
    )
    peak, says = run.stdout.split(" ", 1)
    return float(peak), says.strip()


@pytest.mark.skipif(os.name == "nt", reason="memory is not measured there")
def test_a_csv_of_200_mb_is_refused_in_little_memory(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    line = b"1,Town Hall,1 Main St\n"
    with file.open("wb") as out:
        out.write(b"Precinct,Polling Place,Address\n")
        for _ in range(200):
            out.write(line * (1024 * 1024 // len(line)))
    try:
        peak, says = peak_mb(file)
    finally:
        file.unlink()
    assert says == "0 list.csv: has 200 MB; a list of places and precincts has 16 MB at most"
    assert peak < MOST_MB


@pytest.mark.skipif(os.name == "nt", reason="memory is not measured there")
def test_the_largest_list_that_is_read_fits_into_the_memory(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    cells = ",".join(f"{number % 1_000:03}" for number in range(1_300))
    rows = "".join(f"{n},Hall of ward {n},{n} Long Meadow Road,{cells}\n" for n in range(3_000))
    file.write_text(f"Precinct,Polling Place,Address\n{rows}")
    assert file.stat().st_size > 15_500_000
    peak, says = peak_mb(file)
    assert says == "3000"
    assert peak < MOST_MB


@pytest.mark.skipif(os.name == "nt", reason="memory is not measured there")
def test_a_feed_of_a_whole_state_is_read_as_it_comes(tmp_path: Path) -> None:
    file = tmp_path / "feed.xml"
    street = "<StreetSegment id='s'><City>Wren</City><StreetName>Long Meadow</StreetName><PrecinctId>p1</PrecinctId>"
    with file.open("w") as out:
        out.write("<VipObject><Locality id='l'><Name>Wrenfield</Name></Locality>")
        out.write((street + "</StreetSegment>\n") * 150_000)
        out.write(
            "<PollingLocation id='a'><AddressLine>1 Main St</AddressLine><Name>Hall</Name></PollingLocation>"
            "<Precinct id='p1'><LocalityId>l</LocalityId><Name>1</Name><PollingLocationIds>a</PollingLocationIds>"
            "</Precinct></VipObject>"
        )
    try:
        peak, says = peak_mb(file)
    finally:
        file.unlink()
    assert says == "1"
    assert peak < MOST_MB - 200
