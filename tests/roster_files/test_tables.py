"""Roster tables are read from any spreadsheet's CSV; every problem names file, row and column."""

import csv
import io
from datetime import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from tests.roster_lists import read_tables

PLACES = "place,name,opens,closes,latitude,longitude,zone\nP001,Town Hall,,,41.9,-99.7,North\nP002,School,,,41.8,-99.8,"
PRECINCTS = "precinct,name,place,registered\n101,Ward 1,P001,900\n102,Ward 2,P002,800"
DEVICES = "device,place,type,protective_counter\nSC-0011,P001,scanner,48210\nSC-0021,P002,scanner,"
SEALS = "device,position,number\nSC-0011,front,004417\nSC-0011,auxiliary,004418"
ROVERS = "rover,name,zone,skills,carries,starts,ends\nR01,Ada Quillon,North,scanner; bmd,seals|tape,4:30 am,20:30"
ALL = {"places": PLACES, "precincts": PRECINCTS, "devices": DEVICES, "seals": SEALS, "rovers": ROVERS}


def read(folder: Path, **tables: str | bytes) -> tuple[Roster, list[str], list[str]]:
    """The roster, what stands in its way, and what is only worth a look."""
    files = []
    for name, said in tables.items():
        files.append(folder / f"{name}.csv")
        files[-1].write_bytes(said if isinstance(said, bytes) else said.encode())
    roster, problems = read_tables(files)
    return roster, [str(p) for p in problems if not p.warning], [str(p) for p in problems if p.warning]


def test_the_five_tables_make_a_roster(tmp_path: Path) -> None:
    roster, wrong, _ = read(tmp_path, **ALL)
    assert not wrong
    assert roster == Roster(
        places=(
            Place("P001", "Town Hall", latitude=41.9, longitude=-99.7, zone="North"),
            Place("P002", "School", latitude=41.8, longitude=-99.8),
        ),
        precincts=(Precinct("101", "Ward 1", "P001", 900), Precinct("102", "Ward 2", "P002", 800)),
        devices=(
            Device("SC-0011", "P001", "scanner", protective_counter=48210),
            Device("SC-0021", "P002", "scanner"),
        ),
        seals=(Seal("SC-0011", "front", "004417"), Seal("SC-0011", "auxiliary", "004418")),
        rovers=(
            Rover("R01", "Ada Quillon", "North", "", None, None, ("scanner", "bmd"), ("seals", "tape"), time(4, 30),
                  time(20, 30)),
        ),
    )  # fmt: skip


def test_a_file_with_another_name_is_known_by_its_header(tmp_path: Path) -> None:
    roster, wrong, _ = read(tmp_path, list1=PLACES, list2=PRECINCTS, list3=DEVICES, list4=SEALS, list5=ROVERS)
    assert not wrong
    assert [len(t) for t in (roster.places, roster.precincts, roster.devices, roster.seals, roster.rovers)] == [
        2, 2, 2, 2, 1,
    ]  # fmt: skip


def test_one_table_alone_is_read_without_asking_for_the_others(tmp_path: Path) -> None:
    roster, wrong, _ = read(tmp_path, devices=DEVICES)
    assert not wrong
    assert [device.place for device in roster.devices] == ["P001", "P002"]


def test_one_table_may_come_in_two_files(tmp_path: Path) -> None:
    roster, wrong, _ = read(tmp_path, north="place,name\nP001,A", south="place,name\nP002,B\nP001,C")
    assert [place.name for place in roster.places] == ["A", "B"]
    assert wrong == ["south.csv, row 3, column place: P001 is already in north.csv, row 2"]


@pytest.mark.parametrize(
    ("zone", "expected"),
    [("North", ("North", "")), ("America/Denver", ("", "America/Denver")), ("", ("", ""))],
)
def test_a_zone_with_a_slash_is_a_time_zone(tmp_path: Path, zone: str, expected: tuple[str, str]) -> None:
    roster, _, _ = read(tmp_path, places=f"place,name,zone\nP001,A,{zone}")
    assert (roster.places[0].zone, roster.places[0].time_zone) == expected


def test_the_optional_columns_are_read(tmp_path: Path) -> None:
    roster, wrong, _ = read(tmp_path, places="place,name,time_zone,route,serves\nP001,A,America/Denver,D3,ALL")
    assert not wrong
    place = roster.places[0]
    assert (place.time_zone, place.route, place.serves) == ("America/Denver", "D3", "all")


@pytest.mark.parametrize(
    ("table", "rows", "says"),
    [
        ("places", ",A", "row 2, column place: is empty"),
        ("places", "P 1,A", "row 2, column place: 'P 1' is no id"),
        ("places", "P1/2,A", "row 2, column place: 'P1/2' is no id"),
        ("places", "P1,", "row 2, column name: is empty"),
        ("places", "P1,A\nP1,B", "row 3, column place: P1 is already in places.csv, row 2"),
        ("places", '"P1","A\nB"', "row 2, column name: holds a line break"),
        ("places", "P1," + "A" * 301, "row 2, column name: is longer than 300"),
        ("places", "P1,A,0600", "row 2, column opens: '0600' is not a time of day"),
        ("places", "P1,A,06:00,25:00", "row 2, column closes: '25:00' is not a time of day"),
        ("places", "P1,A,13:00 pm", "row 2, column opens: '13:00 pm' is not a time of day"),
        ("places", "P1,A,07:00,06:00", "row 2, column closes: 06:00 is not after opens 07:00"),
        ("places", "P1,A,,,99.1,-99", "row 2, column latitude: '99.1' is not degrees from -90 to 90"),
        ("places", 'P1,A,,,41.9,"-99,7"', "row 2, column longitude: '-99,7' is not degrees from -180 to 180"),
        ("places", "P1,A,,,nan,-99", "row 2, column latitude: 'nan' is not degrees"),
        ("places", "P1,A,,,41.9,", "row 2, column longitude: is empty, though the other coordinate is given"),
        ("places", "P1,A,,,0,0", "row 2, column latitude: 0 and 0 is in the Atlantic"),
        ("places", "P1,A,,,,,North/East", "row 2, column zone: 'North/East' is not a time zone"),
        ("places", "P1,A,,,,,,-1", "row 2, column registered: '-1' is not a whole number"),
        ("places", "P1,A,,,,,,1.5", "row 2, column registered: '1.5' is not a whole number"),
        ("places", 'P1,A,,,,,,"12,34"', "row 2, column registered: '12,34' is not a whole number"),
        ("places", "P1,A,,,,,,9999999999", "row 2, column registered: '9999999999' is not a whole number"),
        ("places", "P1,A,,,,,,,some", "row 2, column serves: 'some' must be all"),
        ("places", "P1,A,,,,,,,,Mars/Base", "row 2, column time_zone: 'Mars/Base' is not a time zone"),
        ("places", "P1,A,,,,,,,,,surplus", "row 2: more values than the 10 columns of the header"),
        ("precincts", "101,Ward,P009", "row 2, column place: P009 is not among the places"),
        ("precincts", "P002,Ward,P001", "row 2, column precinct: P002 is also the id of a place it does not vote at"),
        ("devices", "SC-1,P009,scanner", "row 2, column place: P009 is not among the places"),
        ("devices", "SC-1,P001,", "row 2, column type: is empty"),
        ("devices", "SC-1,P001,scanner,-4", "row 2, column protective_counter: '-4' is not a whole number"),
        ("seals", "SC-9,front,004417", "row 2, column device: SC-9 is not among the devices"),
        ("seals", "SC-0011,front,1\nSC-0011,Front,2", "row 3, column position: SC-0011 front is already in seals.csv"),
        ("rovers", "R01,,", "row 2, column name: is empty"),
    ],
)
def test_what_cannot_be_loaded_is_named(tmp_path: Path, table: str, rows: str, says: str) -> None:
    headers = {
        "places": "place,name,opens,closes,latitude,longitude,zone,registered,serves,time_zone",
        **{name: said.split("\n")[0] for name, said in ALL.items() if name != "places"},
    }
    given = ALL if table != "places" else {}
    _, wrong, _ = read(tmp_path, **{**given, table: f"{headers[table]}\n{rows}"})
    assert any(problem.startswith(f"{table}.csv, {says}") for problem in wrong), wrong


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        (
            {"seals": "device,position,number\nSC-1,front,77\nSC-2,front,77"},
            "seals.csv, row 3, column number: 77 is also in seals.csv, row 2",
        ),
        (
            {"devices": "device,place,type,serial,model\nA,P,scanner,7,M\nB,P,scanner,7,M"},
            "devices.csv, row 3, column serial: 7 is also in devices.csv, row 2",
        ),
        (
            {"devices": "device,place,type\nA,P,scaner"},
            "devices.csv, row 2, column type: scaner is not one of scanner, bmd, pollbook; is it meant?",
        ),
        (
            {"places": "place,name,latitude,longitude\nA,A,41.9,-99.7\nB,B,41.8,-99.6\nC,C,41.8,99.6"},
            "places.csv, row 4, column longitude: 99.6 is far from the others, which lie near -99.6",
        ),
        (
            {"places": PLACES, "precincts": "precinct,place\n1,P001"},
            "places.csv, row 3, column place: no precinct votes at P002",
        ),
        (
            {"places": PLACES, "devices": "device,place,type\nA,P001,scanner"},
            "places.csv, row 3, column place: P002 has no scanner",
        ),
        (
            {"places": PLACES, "rovers": "rover,name,zone\nR,A,West"},
            "rovers.csv, row 2, column zone: no place is in zone West",
        ),
        (
            {"places": "place,name,party\nA,A,x"},
            "places.csv, row 1, column party: means nothing in places and is left out",
        ),
    ],
)
def test_what_is_worth_a_look_is_listed_and_stands_in_nobodys_way(
    tmp_path: Path, tables: dict[str, str], says: str
) -> None:
    _, wrong, warned = read(tmp_path, **tables)
    assert not wrong
    assert says in warned


def test_a_vote_centre_needs_no_precinct_of_its_own(tmp_path: Path) -> None:
    roster, wrong, warned = read(
        tmp_path, places="place,name,serves\nP001,A,\nP002,B,all", precincts="precinct,name,place\n1,W,P001"
    )
    assert not wrong + warned
    assert [p.precinct for p in roster.precincts_at["P002"]] == ["1"]


def test_a_row_that_cannot_be_read_is_not_reported_again_by_those_who_name_it(tmp_path: Path) -> None:
    _, wrong, _ = read(
        tmp_path, places="place,name,registered\nP001,A,many", devices="device,place,type\nSC-1,P001,scanner"
    )
    assert wrong == ["places.csv, row 2, column registered: 'many' is not a whole number from 0 to 999,999,999"]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        (b"", "places.csv: row 1: the file is empty"),
        (b"PK\x03\x04xyz", "places.csv: is a damaged archive or workbook"),
        (b"\xd0\xcf\x11\xe0xyz", "places.csv: is a workbook of the old kind (.xls)"),
        (b"%PDF-1.7", "places.csv: is a PDF"),
        (b"<html><table>", "places.csv: is a web page"),
        (b"place,city\nP001,x", "places.csv, row 1, column name: is missing; places cannot be read without it"),
        (b"place,name\nP001,\x81", "places.csv, row 2: column name: holds a byte (0x81)"),
    ],
)
def test_a_file_that_is_not_the_table_it_is_called_says_so(tmp_path: Path, said: bytes, says: str) -> None:
    _, wrong, _ = read(tmp_path, places=said)
    assert [problem[: len(says)] for problem in wrong] == [says]


def test_a_file_that_is_no_table_of_the_roster_says_what_is_wanted(tmp_path: Path) -> None:
    _, wrong, _ = read(tmp_path, results="ward,total\n1,2")
    assert wrong[0].startswith("results.csv: row 1: is the header of no table of the roster, and no row below is; ")
    assert "they need places (place, name)" in wrong[0]


def test_a_file_that_is_not_there_says_so(tmp_path: Path) -> None:
    _, problems = read_tables([tmp_path / "places.csv"])
    assert [str(problem) for problem in problems] == ["places.csv: cannot be opened: No such file or directory"]


NAMES = st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp", "Zs"]), min_size=1, max_size=20)
PLACE = st.fixed_dictionaries(
    {
        "name": NAMES,
        "latitude": st.decimals(40, 41, places=4).map(str),
        "longitude": st.decimals(-101, -99, places=4).map(str),
        "registered": st.integers(0, 999_999_999).map(str),
    }
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    places=st.lists(PLACE, min_size=1, max_size=6),
    order=st.permutations(["place", "name", "latitude", "longitude", "registered"]),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
    delimiter=st.sampled_from(",;\t"),
)
def test_the_same_table_in_any_encoding_delimiter_and_order_is_the_same_roster(
    tmp_path: Path, places: list[dict[str, str]], order: list[str], encoding: str, delimiter: str
) -> None:
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, order, delimiter=delimiter)
    writer.writeheader()
    writer.writerows(place | {"place": f"P{number:03}"} for number, place in enumerate(places, 1))
    roster, wrong, _ = read(tmp_path, places=out.getvalue().encode(encoding))
    assert not wrong
    assert roster.places == tuple(
        Place(
            f"P{number:03}",
            place["name"].strip(),
            latitude=float(place["latitude"]),
            longitude=float(place["longitude"]),
            registered=int(place["registered"]),
        )
        for number, place in enumerate(places, 1)
    )


def test_two_thousand_places_with_their_devices_and_seals_are_read_quickly(tmp_path: Path) -> None:
    places = "place,name,latitude,longitude\n" + "".join(f"P{n},Hall {n},41.9,-99.7\n" for n in range(2_000))
    devices = "device,place,type\n" + "".join(f"SC-{n},P{n // 5},scanner\n" for n in range(10_000))
    seals = "device,position,number\n" + "".join(f"SC-{n // 2},{n % 2},{n}\n" for n in range(20_000))
    roster, wrong, _ = read(tmp_path, places=places, devices=devices, seals=seals)
    assert not wrong
    assert len(roster.seals) == 20_000


def test_a_table_in_windows_1252_is_read_and_said_to_be_looked_at(tmp_path: Path) -> None:
    roster, wrong, warned = read(tmp_path, places="place,name\nP001,Café “Süd”".encode("cp1252"))
    assert (wrong, [place.name for place in roster.places]) == ([], ["Café “Süd”"])
    assert warned == ["places.csv: is not UTF-8 and is read as Windows-1252; look at letters with accents"]
