"""Lists that were published: read whole, with every line that a person should see, and none besides.

Sources: Lewis and Clark County, Montana 2016, and Alamance County, North Carolina 2018: Center for Public Integrity /
Stateline, us-polling-places, CC BY 4.0. Albemarle County, Virginia 2013: the Voting Information Project's sample feed
for specification 5.2, CC BY 4.0. The counts beside them are those of the sources themselves.
"""

from datetime import date, time

from county.domain.plan import Election
from county.roster_files.known import Known
from county.roster_files.reading import Reading
from tests.reference import reference_file
from tests.roster_lists import read


def reading_of(name: str, county: str, zone: str, day: date) -> Reading:
    election = Election("General Election", county, day, zone, time(6), time(19))
    return read([reference_file(name)], Known(election))


def test_lewis_and_clark_county_2016() -> None:
    name = "mt_lewis_clark_2016.csv"
    reading = reading_of(name, "Lewis & Clark County", "America/Denver", date(2016, 11, 8))
    roster = reading.roster
    assert (len(roster.places), len(roster.precincts)) == (18, 37)
    assert sum(precinct.registered or 0 for precinct in roster.precincts) == 44_093
    at_noon = roster.place_of("P33a")
    assert at_noon is not None
    assert (at_noon.name, at_noon.opens, at_noon.closes) == ("DEARBORN COMMUNITY CNTR", time(12), time(20))
    assert {(place.opens, place.closes) for place in roster.places if place != at_noon} == {(time(7), time(20))}
    assert [str(problem) for problem in reading.problems] == [
        f"{name}, row 37, column Polling Place Hours: "
        "'* Noon - 8:00 pm' is taken for 12:00 to 20:00, but is marked for a note"
    ]
    assert [problem.warning for problem in reading.problems] == [True]
    assert [str(note) for note in reading.notes] == [
        f"{name}, row 1: 18 places have no id in the list; they are called L001 to L018, and will be when it is loaded "
        "again"
    ]
    [guess] = reading.guesses
    assert guess.doubts == ()
    assert guess.columns["name"] == ("Polling Place Location",)
    assert [header[:22] for header in guess.left_out] == [
        "HD", "SD", "Polling Place Zip", "Late Registration Loca", "Late Registration Addr",
    ]  # fmt: skip


def test_alamance_county_2018() -> None:
    name = "nc_alamance_2018_raw_utf16.tsv"
    reading = reading_of(name, "Alamance County", "America/New_York", date(2018, 11, 6))
    roster = reading.roster
    assert (len(roster.places), len(roster.precincts)) == (37, 37)
    assert {place.place for place in roster.places} == {str(number) for number in range(1, 38)}
    assert roster.place_by_id["1"].address == "3328 DOCTOR PICKETT RD"
    assert {(place.opens, place.latitude) for place in roster.places} == {(None, None)}
    assert reading.problems == ()
    assert [str(note) for note in reading.notes] == [
        f"{name}, row 1: no hours are said; every place keeps the plan's, 06:00 to 19:00"
    ]
    assert reading.guesses[0].doubts == ()


def test_the_sample_feed_of_the_voting_information_project() -> None:
    name = "sample_feed_v5.xml"
    reading = reading_of(name, "Albemarle County", "America/New_York", date(2013, 11, 5))
    roster = reading.roster
    # 27 records: a drop box, a site of early voting at the address of pl81274, and 25 places of the day
    assert len(roster.places) == 25
    assert {"pl00000", "pl81273"}.isdisjoint(roster.place_by_id)
    assert roster.place_by_id["pl81274"].city == "Charlottesville"
    # 32 precincts: five in two splits each, one only of early voting; the one by mail only is at no place
    assert len(roster.precincts) == 32 - 5 - 1
    assert [precinct.precinct for precinct in roster.precincts if not precinct.place] == ["9999"]
    assert {(place.opens, place.closes) for place in roster.places} == {(time(6), time(19))}
    assert sum(place.latitude is None for place in roster.places) == 9
    assert [(str(problem), problem.warning) for problem in reading.problems] == [
        (
            f"{name}, line 1753, column PollingLocationIds: precinct 0000 has only early voting and drop boxes, "
            "so it is left out of the day",
            True,
        ),
        (
            f"{name}, line 1595, column latitude: 41.229539, -73.987085 is far from the others, "
            "which lie near 38.0652, -78.5041",
            True,
        ),
    ]
    assert [str(note) for note in reading.notes] == [
        f"{name}, line 1505: pl00000 2775 Hydraulic Rd is a drop box, so it is left out of the day",
        f"{name}, line 1520: pl81273 ALBEMARLE HIGH SCHOOL is for early voting, so it is left out of the day",
        f"{name}, line 1762: precinct 9999 votes by mail only, so at no place",
        *(
            f"{name}, line {line}, column split: the 2 splits of {precinct} are one precinct"
            for line, precinct in ((1797, "0201"), (1844, "0504"), (1864, "0502"), (1902, "0101"), (1976, "0401"))
        ),
    ]


def test_the_sample_feed_in_a_county_of_another_zone_and_year() -> None:
    reading = reading_of("sample_feed_v5.xml", "Wrenfield County", "America/Chicago", date(2026, 11, 3))
    assert {(place.opens, place.closes) for place in reading.roster.places} == {(time(6), time(19))}
    said = [str(problem) for problem in reading.problems if problem.warning]
    assert len(said) == len(reading.problems)
    for words in (
        "column Date: is 2013-11-05; the plan's election is on 2026-11-03",
        "column Name: is ALBEMARLE COUNTY; the plan says Wrenfield County",
        "column HoursOpen: says -05:00, but America/Chicago is at -06:00 on 2013-11-05; the wall time is taken",
    ):
        assert any(words in each for each in said), words
