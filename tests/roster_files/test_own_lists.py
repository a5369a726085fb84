"""Lists as counties send them: each of these invented ones has the faults of a real kind, and loads all the same."""

from datetime import time

import pytest

from county.domain.roster import Roster
from county.roster_files.files import RosterFile
from county.roster_files.known import Known
from county.roster_files.reading import Reading, read_files
from tests.roster_lists import ELECTION, read_list


def votes_at(roster: Roster) -> dict[str, str]:
    """Precinct to the name of the place where it votes; empty where at none."""
    return {each.precinct: place.name if (place := roster.place_of(each.place)) else "" for each in roster.precincts}


def hours(roster: Roster) -> dict[str, tuple[time | None, time | None]]:
    return {place.name: (place.opens, place.closes) for place in roster.places}


def wrong(reading: Reading) -> list[str]:
    return [str(problem) for problem in reading.problems if not problem.warning]


def warned(reading: Reading) -> list[str]:
    return [str(problem) for problem in reading.problems if problem.warning]


def noted(reading: Reading) -> list[str]:
    return [str(note) for note in reading.notes]


TWO_PLACES = {"1": "Town Hall", "2": "Grange"}
LISTS = {
    "other headers": """Precinct #,Polling Place Name,Addr 1,City,Open/Close
1,Town Hall,1 Main St,Wren,7am-8pm
2,Grange,20 Mill Rd,Wren,7am-8pm
""",
    "voting site": """PCT,Voting Site,Street Address,Municipality,Voting Hours
1,Town Hall,1 Main St,Wren,7 a.m. to 8 p.m.
2,Grange,20 Mill Rd,Wren,7 a.m. to 8 p.m.
""",
    "title rows above the header": """Wrenfield County,,,
Polling places for the General Election,,,
"November 3, 2026",,,

Precinct,Location,Address,Hours
1,Town Hall,1 Main St,7:00 am - 8:00 pm
2,Grange,20 Mill Rd,7:00 am - 8:00 pm
""",
    "header in two lines": """Precinct,Polling Place,,Hours,
Number,Name,Address,Open,Close
1,Town Hall,1 Main St,7:00 AM,8:00 PM
2,Grange,20 Mill Rd,7:00 AM,8:00 PM
""",
    "total row at the end": """Precinct,Polling Place,Address,Hours,Registered Voters
1,Town Hall,1 Main St,7 am - 8 pm,"1,200"
2,Grange,20 Mill Rd,7 am - 8 pm,800
TOTAL,,,,"2,000"
""",
    "notes at the end": """Precinct,Polling Place,Address,Hours
1,Town Hall,1 Main St,7 am - 8 pm
2,Grange,20 Mill Rd,7 am - 8 pm

* Subject to change until the board of elections has met,,,
"Questions? Call the office, 555-0100.",,,
""",
    "quoted line breaks": """"Precinct
Number","Polling
Place","Address","Hours"
1,"Town
Hall","1 Main St",7 am - 8 pm
2,Grange,"20
Mill Rd",7 am - 8 pm
""",
    "semicolons and tabs inside": """Precinct;Polling Place;Address;Hours
1;Town Hall;1 Main St;7 am - 8 pm
2;Grange;20 Mill Rd;7 am - 8 pm
""",
    "tabs": "Precinct\tPolling Place\tAddress\tHours\n1\tTown Hall\t1 Main St\t7-8\n2\tGrange\t20 Mill Rd\t7-8\n",
    "bars": "Precinct|Polling Place|Address|Hours\n1|Town Hall|1 Main St|7am-8pm\n2|Grange|20 Mill Rd|7am-8pm\n",
    "header repeated on every page": """Precinct,Polling Place,Address,Hours
1,Town Hall,1 Main St,7 am - 8 pm
Precinct,Polling Place,Address,Hours
2,Grange,20 Mill Rd,7 am - 8 pm
""",
    "humps in the header": """PrecinctNo,PollingPlaceName,PollingPlaceAddress,OpenTime,CloseTime
1,Town Hall,1 Main St,0700,2000
2,Grange,20 Mill Rd,0700,2000
""",
    "underscores": """pct_num,poll_loc_name,poll_addr,open_tm,close_tm
1,Town Hall,1 Main St,07:00:00,20:00:00
2,Grange,20 Mill Rd,07:00:00,20:00:00
""",
    "fractions of a day": """Precinct,Polling Place,Address,Opens,Closes
1,Town Hall,1 Main St,0.291666666666667,0.833333333333333
2,Grange,20 Mill Rd,0.291666666666667,0.833333333333333
""",
    "one row a place": """Polling Place,Address,Precincts,Hours
Town Hall,1 Main St,1,7a–7p
Grange,20 Mill Rd,2,7a–7p
""",
    "empty columns between": """,Precinct,,Polling Place,,Address,Hours
,1,,Town Hall,,1 Main St,7 am - 8 pm
,2,,Grange,,20 Mill Rd,7 am - 8 pm
""",
    "numbers that were made decimal": """Precinct,Polling Place,Address,Hours
1.0,Town Hall,1 Main St,7 am - 8 pm
2.0,Grange,20 Mill Rd,7 am - 8 pm
""",
    "house number apart": """Precinct,Site,St No,Street,City,Hours
1,Town Hall,1,Main St,Wren,7 am - 8 pm
2,Grange,20,Mill Rd,Wren,7 am - 8 pm
""",
    "other columns around": """ID,HD,SD,Precinct,Judge Name,Polling Location,Mailing Address,Address,Hours,Email
1,81,41,1,A. Quill,Town Hall,PO Box 7,1 Main St,7 am - 8 pm,a@example.gov
2,70,35,2,B. Rush,Grange,PO Box 8,20 Mill Rd,7 am - 8 pm,b@example.gov
""",
    "words run together, as maps export them": """OBJECTID,POLLINGID,NAME,FULLADD,OPERHOURS,NEXTELECT,PCTNO,X,Y
1,PL-01,Town Hall,1 Main St,7:00am-8:00pm,11/3/2026,1,-99.71234,41.90012
2,PL-02,Grange,20 Mill Rd,7:00am-8:00pm,11/3/2026,2,-99.61234,41.80012
""",
    "name and address in one cell": """Precinct,Polling Place Name & Address,Hours
1,"Town Hall, 1 Main St",7 am - 8 pm
2,"Grange, 20 Mill Rd",7 am - 8 pm
""",
    "place and address under one header": """Precinct,Polling Place and Address,Hours
1,"Town Hall, 1 Main St",7 am - 8 pm
2,"Grange
20 Mill Rd",7 am - 8 pm
""",
    "a column for each precinct": """Location Name,Address 1,Address 2,Open,Close,Pct 1,Pct 2
Town Hall,1 Main St,,7 am,8 pm,1,
Grange,20 Mill Rd,,7 am,8 pm,,2
""",
    "the day before the hours": """Precinct,Polling Place,Address,Hours
1,Town Hall,1 Main St,"Tuesday, November 3, 2026: 7:00 AM - 8:00 PM"
2,Grange,20 Mill Rd,"Tues. 11/3/2026 7:00 AM - 8:00 PM"
""",
    "number and name of the precinct in one cell": """Precinct Number and Name,Polling Place,Address,Hours
1 - North,Town Hall,1 Main St,7 am - 8 pm
2 - South,Grange,20 Mill Rd,7 am - 8 pm
""",
    "am and pm missing": """Precinct,Polling Place,Address,Hours
1,Town Hall,1 Main St,7:00 - 8:00
2,Grange,20 Mill Rd,7:00 - 8:00
""",
}


@pytest.mark.parametrize("name", LISTS)
def test_a_list_with_faults_of_a_known_kind_loads(name: str) -> None:
    reading = read_list(LISTS[name])
    assert wrong(reading) == []
    assert votes_at(reading.roster) == TWO_PLACES
    assert [place.address for place in reading.roster.places] == ["1 Main St", "20 Mill Rd"]
    last = time(19) if name == "one row a place" else time(20)
    assert set(hours(reading.roster).values()) == {(time(7), last)}


@pytest.mark.parametrize("name", LISTS)
@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-16-be", "cp1252"])
def test_and_so_it_does_in_any_encoding(name: str, encoding: str) -> None:
    assert read_list(LISTS[name].encode(encoding)).roster == read_list(LISTS[name]).roster


def test_letters_of_windows_1252_are_read_and_said() -> None:
    reading = read_list("Precinct,Polling Place,Address\n1,Café “Süd”,1 Main St\n".encode("cp1252"))
    assert reading.roster.places[0].name == "Café “Süd”"
    assert "is not UTF-8 and is read as Windows-1252" in warned(reading)[0]


def test_a_place_of_several_precincts_is_one_place() -> None:
    reading = read_list(
        "Precinct,Precinct Name,Reg Voters,Polling Place,Address,City\n"
        "1,Ward 1,100,TOWN HALL,1 Main Street,Wren\n"
        "2,Ward 2,200,Town Hall,1 Main St.,WREN\n"
        "3,Ward 3,300,Grange,20 Mill Rd,Wren\n"
    )
    assert [(place.name, place.registered) for place in reading.roster.places] == [("TOWN HALL", 300), ("Grange", 300)]
    assert [(each.precinct, each.name, each.registered) for each in reading.roster.precincts] == [
        ("1", "Ward 1", 100),
        ("2", "Ward 2", 200),
        ("3", "Ward 3", 300),
    ]


def test_two_ids_of_one_place_are_both_known_afterwards() -> None:
    reading = read_list(
        "Site ID,Site Name,Address,Precinct\n"
        "A7,Town Hall,1 Main St,1\nB9,Town Hall,1 Main St,2\nC1,Grange,20 Mill Rd,3\n"
    )
    place = reading.roster.place_by_id["A7"]
    assert place.also == ("B9",)
    assert reading.roster.place_of("B9") is place
    assert "list.csv, row 2, column Site ID: A7 and B9 are one place" in noted(reading)


def test_several_precincts_in_one_cell_are_several_precincts() -> None:
    reading = read_list(
        'Polling Place,Address,Precincts Served\nTown Hall,1 Main St,"101, 102 & 105"\nGrange,20 Mill Rd,201; 202\n'
    )
    assert votes_at(reading.roster) == {
        "101": "Town Hall", "102": "Town Hall", "105": "Town Hall", "201": "Grange", "202": "Grange",
    }  # fmt: skip


def test_a_precinct_column_with_lists_in_it_is_known_by_its_values() -> None:
    reading = read_list('Polling Place,Address,Precinct\nTown Hall,1 Main St,"101, 102"\nGrange,20 Mill Rd,201\n')
    assert votes_at(reading.roster) == {"101": "Town Hall", "102": "Town Hall", "201": "Grange"}


def test_splits_of_a_precinct_are_one_precinct() -> None:
    reading = read_list(
        "Precinct,Split,Polling Place,Address,Registered\n"
        "1,A,Town Hall,1 Main St,100\n1,B,Town Hall,1 Main St,50\n2,,Grange,20 Mill Rd,70\n"
    )
    assert [(each.precinct, each.registered) for each in reading.roster.precincts] == [("1", 150), ("2", 70)]
    assert "list.csv, row 2, column Split: the 2 splits of 1 are one precinct" in noted(reading)


def test_splits_that_vote_apart_stand_apart() -> None:
    reading = read_list(
        "Precinct,Split,Polling Place,Address\n1,A,Town Hall,1 Main St\n1,B,Grange,20 Mill Rd\n2,,Grange,20 Mill Rd\n"
    )
    assert votes_at(reading.roster) == {"1-A": "Town Hall", "1-B": "Grange", "2": "Grange"}


def test_a_row_that_is_there_twice_counts_once() -> None:
    reading = read_list(
        "Precinct,Polling Place,Address,Registered\n1,Town Hall,1 Main St,100\n1,Town Hall,1 Main St,100\n"
        "2,Grange,20 Mill Rd,70\n"
    )
    assert [each.registered for each in reading.roster.precincts] == [100, 70]
    assert "list.csv, row 3, column Precinct: precinct 1 is told 2 times" in noted(reading)


def test_a_precinct_at_two_places_is_for_a_person_to_decide() -> None:
    reading = read_list(
        "Precinct,Polling Place,Address\n1,Town Hall,1 Main St\n1,Grange,20 Mill Rd\n"
        "2,Grange,20 Mill Rd\n3,Grange,20 Mill Rd\n"
    )
    assert wrong(reading) == [
        "list.csv, row 3, column Polling Place: precinct 1 votes at L001 in row 2 and at L002 here"
    ]


def test_where_every_precinct_votes_at_every_place_they_are_vote_centres() -> None:
    rows = "".join(f"{n},{name}\n" for n in (1, 2, 3) for name in ("Town Hall,1 Main St", "Grange,20 Mill Rd"))
    reading = read_list(f"Precinct,Polling Place,Address\n{rows}")
    assert wrong(reading) == []
    assert [place.serves for place in reading.roster.places] == ["all", "all"]
    assert len(reading.roster.precincts_at["L001"]) == 3


def test_a_vote_centre_is_known_by_what_it_is_or_whom_it_serves() -> None:
    reading = read_list(
        "Location,Address,Type,Precinct\nTown Hall,1 Main St,Vote Center,\nGrange,20 Mill Rd,Polling place,1\n"
        "Court House,2 Main St,,ALL\n"
    )
    assert {place.name: place.serves for place in reading.roster.places} == {
        "Town Hall": "all", "Grange": "", "Court House": "all",
    }  # fmt: skip


@pytest.mark.parametrize("column", ["Type", "Location Type", "Category"])
def test_early_voting_and_drop_boxes_are_left_out_with_a_line_each(column: str) -> None:
    reading = read_list(
        f"Polling Place,Address,{column},Hours\nTown Hall,1 Main St,Election Day,7am-8pm\n"
        "Library,3 Main St,Early Voting,9am-5pm\nLibrary,3 Main St,Ballot Drop Box,24 hours\n"
        "Fair Hall,4 Main St,Early Voting & Election Day,7am-8pm\n"
    )
    assert [place.name for place in reading.roster.places] == ["Town Hall", "Fair Hall"]
    assert noted(reading)[:2] == [
        "list.csv, row 3: Library is for early voting, so it is left out of the day",
        "list.csv, row 4: Library is a drop box, so it is left out of the day",
    ]


def test_yes_under_early_voting_leaves_a_row_out_as_well() -> None:
    reading = read_list(
        "Polling Place,Address,Early Voting,Precinct\nTown Hall,1 Main St,No,1\nLibrary,3 Main St,Yes,\n"
    )
    assert [place.name for place in reading.roster.places] == ["Town Hall"]


@pytest.mark.parametrize("said", ["MAIL ONLY", "Vote by Mail", "Mail ballot precinct", "All-mail", "No polling place"])
def test_a_precinct_that_votes_by_mail_has_no_place_and_no_fault(said: str) -> None:
    reading = read_list(f"Precinct,Polling Place,Address\n1,Town Hall,1 Main St\n2,{said},\n")
    assert votes_at(reading.roster) == {"1": "Town Hall", "2": ""}
    assert "list.csv, row 3: precinct 2 votes by mail only, so at no place" in noted(reading)
    assert wrong(reading) + warned(reading) == []


def test_a_precinct_without_a_place_is_listed_for_a_person() -> None:
    reading = read_list("Precinct,Polling Place,Address\n1,Town Hall,1 Main St\n2,,\n")
    assert votes_at(reading.roster) == {"1": "Town Hall", "2": ""}
    assert warned(reading) == [
        "list.csv, row 3, column Polling Place: precinct 2 has no place here, and stands without one; "
        "is it the place of a row above?"
    ]


def test_hours_that_say_none_are_listed_for_a_person_and_the_plans_stand() -> None:
    reading = read_list(
        "Precinct,Polling Place,Address,Hours\n1,Town Hall,1 Main St,Contact County\n2,Grange,20 Mill Rd,\n"
        "3,Library,3 Main St,* Noon - 8:00 pm\n4,School,4 Main St,9:00AM-7:00PM MT\n"
    )
    assert hours(reading.roster) == {
        "Town Hall": (None, None), "Grange": (None, None),
        "Library": (time(12), time(20)), "School": (time(9), time(19)),
    }  # fmt: skip
    assert [place.time_zone for place in reading.roster.places] == ["", "", "", "America/Denver"]
    assert warned(reading) == [
        "list.csv, row 2, column Hours: 'Contact County' says no opening and closing time; ask, and until then the "
        "plan's 06:00 to 19:00 stand",
        "list.csv, row 4, column Hours: '* Noon - 8:00 pm' is taken for 12:00 to 20:00, but is marked for a note",
        "list.csv, row 5, column Hours: '9:00AM-7:00PM MT' means America/Denver",
        "list.csv, row 3, column Hours: the hours of Grange are blank; ask, and until then the plan's 06:00 to 19:00 "
        "stand",
    ]


def test_the_same_doubt_is_said_once() -> None:
    rows = "".join(f"{n},Hall {n},{n} Main St,7-8\n" for n in range(1, 31))
    reading = read_list(f"Precinct,Polling Place,Address,Hours\n{rows}")
    assert warned(reading) == ["list.csv, row 2, column Hours: '7-8' is taken for 07:00 to 20:00; so do 29 more rows"]


def test_a_total_that_is_not_the_sum_is_said() -> None:
    reading = read_list(
        "Precinct,Polling Place,Address,Registered\n1,Town Hall,1 Main St,100\n2,Grange,20 Mill Rd,70\nTotal,,,180\n"
    )
    assert "list.csv, row 4: is a total of 180; the rows above it come to 170" in noted(reading)


def test_coordinates_are_mended_or_left_out() -> None:
    reading = read_list(
        "Precinct,Polling Place,Address,Lat,Long\n1,A Hall,1 Main St,41.91,-99.72\n2,B Hall,2 Main St,-99.73,41.92\n"
        "3,C Hall,3 Main St,41.93,99.74\n4,D Hall,4 Main St,1022899.1,1989116.5\n5,E Hall,5 Main St,,\n"
        "6,F Hall,6 Main St,43.9,-99.7\n7,G Hall,7 Main St,0,0\n"
    )
    assert [(place.latitude, place.longitude) for place in reading.roster.places] == [
        (41.91, -99.72), (41.92, -99.73), (41.93, -99.74), (None, None), (None, None), (43.9, -99.7), (None, None),
    ]  # fmt: skip
    assert wrong(reading) == []
    said = "\n".join(warned(reading))
    for words in (
        "row 3, column Lat: -99.73 and 41.92 are swapped",
        "row 4, column Lat: 41.93 and 99.74 lack the minus",
        "row 5, column Lat: '1022899.1' is no coordinate",
        "row 8, column Lat: 0 and 0 is in the Atlantic",
        "row 7, column Lat: 43.9 is far from the others",
    ):
        assert words in said


def test_rows_of_other_counties_are_left_out() -> None:
    reading = read_list(
        "County,Precinct,Polling Place,Address\nWRENFIELD,1,Town Hall,1 Main St\nQuillton,1,Court House,9 Elm St\n"
    )
    assert [place.name for place in reading.roster.places] == ["Town Hall"]
    assert "list.csv, row 1: rows of 1 other counties are left out" in noted(reading)


def test_a_list_of_other_counties_only_is_refused() -> None:
    reading = read_list("County,Precinct,Polling Place,Address\nA,1,Town Hall,1 Main St\nB,1,Court House,9 Elm St\n")
    assert wrong(reading) == ["list.csv, row 1, column County: is A, B; the plan says Wrenfield County"]


def test_a_list_for_another_election_is_said() -> None:
    reading = read_list("Election Date,Precinct,Polling Place,Address\n11/06/2018,1,Town Hall,1 Main St\n")
    assert warned(reading) == [
        "list.csv, row 1, column Election Date: is 2018-11-06; the plan's election is on 2026-11-03"
    ]


@pytest.mark.parametrize("header", ["Voter ID,Last Name,First Name,Address,Precinct", "First Name,Last Name,DOB,City"])
def test_a_list_of_voters_is_not_read(header: str) -> None:
    reading = read_list(f"{header}\n1,Doe,J.,1 Main St,2\n")
    assert reading.roster == Roster()
    assert wrong(reading) == [
        "list.csv: looks like a list of voters; nothing of theirs is read here, and nothing of it is kept"
    ]


def test_ids_of_the_list_are_kept_and_never_those_of_a_precinct() -> None:
    reading = read_list(
        "Precinct,Site ID,Polling Place,Address\n"
        "1,2,Town Hall,1 Main St\n2,7,Grange,20 Mill Rd\n3,A 9/b,Hall,3 Elm St\n"
    )
    assert wrong(reading) == []
    assert [place.place for place in reading.roster.places] == ["L2", "7", "A-9-b"]
    assert votes_at(reading.roster) == {"1": "Town Hall", "2": "Grange", "3": "Hall"}


def test_an_id_that_stands_for_two_places_is_not_used() -> None:
    reading = read_list("Precinct,Site ID,Polling Place,Address\n1,5,Town Hall,1 Main St\n2,5,Grange,20 Mill Rd\n")
    assert votes_at(reading.roster) == TWO_PLACES
    assert warned(reading)[0] == (
        "list.csv, row 3, column Site ID: 5 is Town Hall in row 2 and Grange here, so this id is not used"
    )


def test_places_loaded_again_in_another_order_keep_their_ids() -> None:
    header = "Precinct,Polling Place,Address\n"
    first = read_list(f"{header}1,Town Hall,1 Main St\n2,Grange,20 Mill Rd\n").roster
    again = f"{header}9,Court House,5 Elm St\n2,GRANGE,20 Mill Road\n1,New Town Hall,1 Main St\n"
    second = read_list(again, known=Known(ELECTION, standing=first)).roster
    assert {place.name: place.place for place in first.places} == {"Town Hall": "L001", "Grange": "L002"}
    assert {place.name: place.place for place in second.places} == {
        "New Town Hall": "L001", "GRANGE": "L002", "Court House": "L003",
    }  # fmt: skip


def test_what_a_list_has_no_column_for_stays_as_it_stands() -> None:
    places = "place,name,address,zone,phone,latitude,longitude\nP1,Town Hall,1 Main St,North,555-0101,41.9,-99.7\n"
    standing = read_list(places, "places.csv").roster
    roster = read_list(
        "Precinct,Polling Place,Address,Phone\n1,Town Hall,1 Main St,555-0102\n", known=Known(ELECTION, standing)
    ).roster
    [place] = roster.places
    assert (place.place, place.zone, place.phone, place.latitude) == ("P1", "North", "555-0102", 41.9)


def test_a_precinct_list_beside_a_places_table_only_says_who_votes_where() -> None:
    files = [
        RosterFile.held("places.csv", b"place,name,address\nP1,Town Hall,1 Main St\nP2,Grange,20 Mill Rd\n"),
        RosterFile.held("who.csv", b"Precinct,Polling Place\n1,Town Hall\n2,GRANGE\n3,Library\n"),
    ]
    reading = read_files(files, Known(ELECTION))
    assert [place.place for place in reading.roster.places] == ["P1", "P2"]
    assert {each.precinct: each.place for each in reading.roster.precincts} == {"1": "P1", "2": "P2", "3": ""}
    assert wrong(reading) == ["who.csv, row 4, column Polling Place: Library is not among the places"]


def test_an_id_that_no_list_explains_is_named() -> None:
    reading = read_list("Precinct,Site ID\n1,A7\n2,A8\n")
    assert wrong(reading) == [
        "list.csv, row 2, column Site ID: A7 is no place of these lists",
        "list.csv, row 3, column Site ID: A8 is no place of these lists",
    ]


def test_two_names_at_one_address_are_asked_about() -> None:
    reading = read_list("Precinct,Polling Place,Address\n1,Town Hall,1 Main St\n2,Town Hall Annex,1 Main Street\n")
    assert warned(reading) == [
        "list.csv, row 3, column Address: Town Hall Annex has the address of Town Hall in row 2; are they one?"
    ]


def test_a_file_without_a_header_says_what_is_wanted() -> None:
    reading = read_list("1,Town Hall,1 Main St\n2,Grange,20 Mill Rd\n")
    assert "any other list needs at least a column with the place's name" in wrong(reading)[0]


def test_duplicate_headers_get_names_of_their_own() -> None:
    reading = read_list("Precinct,Name,Name,Address\n1,Ward One,Town Hall,1 Main St\n2,Ward Two,Grange,20 Mill Rd\n")
    assert reading.guesses[0].headers == ("Precinct", "Name", "Name (2)", "Address")


@pytest.mark.parametrize("rows", [0, 1, 3])
def test_no_row_is_lost_or_made(rows: int) -> None:
    said = "".join(f"{n},Hall {n},{n} Main St\n" for n in range(rows))
    assert len(read_list(f"Precinct,Polling Place,Address\n{said}").roster.precincts) == rows


def test_a_ward_and_its_district_make_up_a_precinct_and_are_asked_about() -> None:
    reading = read_list(
        "Municipality,Ward,District,Polling Place,Street\nWren,1,1,Town Hall,1 Main St\nWren,1,2,Town Hall,1 Main St\n"
        "Wren,2,1,Grange,20 Mill Rd\n"
    )
    assert votes_at(reading.roster) == {"1-1": "Town Hall", "1-2": "Town Hall", "2-1": "Grange"}
    assert reading.guesses[0].doubts == ("'Ward' is taken for the precinct; its header hardly says so",)


def test_city_state_and_zip_in_one_cell_give_the_city() -> None:
    reading = read_list('Precinct,Polling Place,Address,City/State/Zip\n1,Town Hall,1 Main St,"St. Wren, NE 68001"\n')
    assert reading.roster.places[0].city == "St. Wren"


@pytest.mark.parametrize(
    "said",
    [
        "Scanner ID,Polling Place,Address,Serial #\nSC-1,Town Hall,1 Main St,77\n",
        "Seal Number,Location,Address\n4417,Town Hall,1 Main St\n",
        "Rover,Phone,Location\nAda,555-0100,Town Hall\n",
    ],
)
def test_a_list_of_devices_is_not_taken_for_all_the_places_there_are(said: str) -> None:
    reading = read_list(said)
    assert reading.roster == Roster()
    assert "looks like a list of devices, seals or rovers; name its columns as the tables do" in wrong(reading)[0]


def test_two_columns_of_times_are_known_by_their_values_and_asked_about() -> None:
    reading = read_list("Precinct,Polling Place,Address,A,B\n1,Town Hall,1 Main St,7:00 AM,8 PM\n")
    assert hours(reading.roster) == {"Town Hall": (time(7), time(20))}
    assert reading.guesses[0].doubts == ("'A' and 'B' are taken for opens and closes by their values",)


def test_a_place_that_is_written_once_for_several_rows_is_theirs() -> None:
    reading = read_list(
        "Polling Place,Address,Precinct,Hours\n"
        "Town Hall,1 Main St,1,7am-8pm\n,,2,\n,,3,\nGrange,20 Mill Rd,4,7am-8pm\n,,5,\nTOTAL,,,\n"
    )
    assert votes_at(reading.roster) == {
        "1": "Town Hall", "2": "Town Hall", "3": "Town Hall", "4": "Grange", "5": "Grange",
    }  # fmt: skip
    assert warned(reading) == [
        "list.csv, row 3, column Polling Place: is blank, and the place of the row above is taken; so do 2 more rows"
    ]


@pytest.mark.parametrize("said", ["2-Jan", "2026-01-02", "2026-01-02 00:00:00"])
def test_a_precinct_that_a_spreadsheet_made_a_date_is_taken_for_what_was_typed(said: str) -> None:
    reading = read_list(f"Precinct,Polling Place,Address\n1-1,Town Hall,1 Main St\n{said},Grange,20 Mill Rd\n")
    assert votes_at(reading.roster) == {"1-1": "Town Hall", "1-2": "Grange"}
    assert warned(reading) == [
        f"list.csv, row 3, column Precinct: '{said}' was made a date by a spreadsheet, and is taken for 1-2"
    ]
