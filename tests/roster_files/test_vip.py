"""VIP feeds, 3.0 to 6.0, in XML and in every flat dialect: an invented county reads the same from each."""

import zipfile
from datetime import time
from io import BytesIO

import pytest

from county.domain.roster import Roster
from county.roster_files.files import RosterFile
from county.roster_files.known import Known
from county.roster_files.reading import Reading, read_files
from tests.roster_lists import ELECTION

HALL = ("pl1", "Town Hall", "1 Main St", "Wren")
GRANGE = ("pl2", "Grange", "20 Mill Rd", "Wren")

XML_5 = """<?xml version="1.0" encoding="UTF-8"?>
<VipObject schemaVersion="5.2">
  <Election id="e1"><Date>2026-11-03</Date><HoursOpenId>h0</HoursOpenId></Election>
  <Locality id="loc1"><Name>WRENFIELD COUNTY</Name></Locality>
  <HoursOpen id="h0"><Schedule><Hours><StartTime>06:00:00-06:00</StartTime><EndTime>19:00:00-06:00</EndTime></Hours>
    <StartDate>2026-11-03</StartDate><EndDate>2026-11-03</EndDate></Schedule></HoursOpen>
  <HoursOpen id="h1"><Schedule><Hours><StartTime>12:00:00-06:00</StartTime><EndTime>24:00:00-06:00</EndTime></Hours>
    </Schedule></HoursOpen>
  <PollingLocation id="pl1"><AddressLine>1 Main St</AddressLine><AddressLine>Wren, NE 680010000</AddressLine>
    <LatLng><Latitude>41.9</Latitude><Longitude>-99.7</Longitude></LatLng><Name>Town Hall</Name></PollingLocation>
  <PollingLocation id="pl2"><AddressStructured><LocationName>Grange</LocationName><Line1>20 Mill Rd</Line1>
    <City>Wren</City><State>NE</State><Zip>68001</Zip></AddressStructured><HoursOpenId>h1</HoursOpenId></PollingLocation>
  <PollingLocation id="pl3"><AddressLine>3 Main St</AddressLine><IsDropBox>true</IsDropBox></PollingLocation>
  <PollingLocation id="pl4"><AddressLine>4 Main St</AddressLine><IsEarlyVoting>1</IsEarlyVoting><Name>Library</Name>
    </PollingLocation>
  <Precinct id="p1"><LocalityId>loc1</LocalityId><Name>Ward 1</Name><Number>1</Number>
    <PollingLocationIds>pl3 pl4 pl1</PollingLocationIds></Precinct>
  <Precinct id="p2a"><LocalityId>loc1</LocalityId><Name>Ward 2</Name><Number>2</Number>
    <PollingLocationIds>pl2</PollingLocationIds><PrecinctSplitName>a</PrecinctSplitName></Precinct>
  <Precinct id="p2b"><LocalityId>loc1</LocalityId><Name>Ward 2</Name><Number>2</Number>
    <PollingLocationIds>pl2</PollingLocationIds><PrecinctSplitName>b</PrecinctSplitName></Precinct>
  <Precinct id="p3"><LocalityId>loc1</LocalityId><Name>Ward 3</Name><Number>3</Number><IsMailOnly>true</IsMailOnly>
    </Precinct>
  <StreetSegment id="s1"><City>Wren</City><PrecinctId>p1</PrecinctId></StreetSegment>
</VipObject>
"""
FLAT_5 = {
    "election.txt": "id,date,hours_open_id\ne1,2026-11-03,h0\n",
    "locality.txt": "id,name,state_id\nloc1,Wrenfield,st1\n",
    "schedule.txt": "id,start_time,end_time,start_date,end_date,hours_open_id\n"
    "s0,06:00:00-06:00,19:00:00-06:00,2026-11-03,2026-11-03,h0\ns1,12:00:00-06:00,24:00:00-06:00,,,h1\n",
    "polling_location.txt": "id,name,structured_line_1,structured_city,structured_zip,hours_open_id,is_drop_box,"
    "is_early_voting,latitude,longitude\n"
    "pl1,Town Hall,1 Main St,Wren,68001,,false,false,41.9,-99.7\npl2,Grange,20 Mill Rd,Wren,68001,h1,,,,\n"
    "pl3,,3 Main St,Wren,,,true,,,\npl4,Library,4 Main St,Wren,,,,true,,\n",
    "precinct.txt": "id,locality_id,name,number,polling_location_ids,precinct_split_name,is_mail_only\n"
    "p1,loc1,Ward 1,1,pl3 pl4 pl1,,false\np2a,loc1,Ward 2,2,pl2,a,\np2b,loc1,Ward 2,2,pl2,b,\n"
    "p3,loc1,Ward 3,3,,,true\n",
    "street_segment.txt": "id,precinct_id\n1,p1\n",
    "state.txt": "id,name\nst1,Nebraska\n",
}
FLAT_3_ELEMENTS = {
    "election.txt": "id,date,polling_hours\ne1,2026-11-03,6 am - 7 pm\n",
    "locality.txt": "id,name\nloc1,WRENFIELD\n",
    "polling_location.txt": "id,address_location_name,address_line1,address_city,address_state,polling_hours\n"
    "pl1,Town Hall,1 Main St,Wren,NE,\npl2,Grange,20 Mill Rd,Wren,NE,noon - midnight\n",
    "early_vote_site.txt": "id,name,address_line1,start_date\nev1,Library,4 Main St,2026-10-20\n",
    "precinct.txt": "id,name,number,locality_id,mail_only,polling_location_id,early_vote_site_id\n"
    "p1,Ward 1,1,loc1,no,pl1,ev1\np2,Ward 2,2,loc1,no,pl2,\np3,Ward 3,3,loc1,yes,,\n",
}
FLAT_3_JOINED = {
    **{name: FLAT_3_ELEMENTS[name] for name in ("election.txt", "locality.txt", "polling_location.txt")},
    "precinct.txt": "name,number,locality_id,mail_only,id\n"
    "Ward 1,1,loc1,no,p1\nWard 2,2,loc1,no,p2\nWard 3,3,loc1,yes,p3\n",
    "precinct_split.txt": "name,precinct_id,id\na,p2,sp1\nb,p2,sp2\n",
    "precinct_polling_location.txt": "precinct_id,polling_location_id\np1,pl1\n",
    "precinct_split_polling_location.txt": "precinct_split_id,polling_location_id\nsp1,pl2\nsp2,pl2\n",
}
XML_3 = """<vip_object><election id="e1"><date>2026-11-03</date><polling_hours>6 am - 7 pm</polling_hours></election>
  <locality id="loc1"><name>Wrenfield</name></locality>
  <polling_location id="pl1"><address><location_name>Town Hall</location_name><line1>1 Main St</line1><city>Wren</city>
    <state>NE</state></address></polling_location>
  <polling_location id="pl2"><address><location_name>Grange</location_name><line1>20 Mill Rd</line1><city>Wren</city>
    </address><polling_hours>noon - midnight</polling_hours></polling_location>
  <precinct id="p1"><name>Ward 1</name><number>1</number><locality_id>loc1</locality_id>
    <polling_location_id>pl1</polling_location_id></precinct>
  <precinct id="p2"><name>Ward 2</name><number>2</number><locality_id>loc1</locality_id>
    <polling_location_id>pl2</polling_location_id></precinct>
  <precinct id="p3"><name>Ward 3</name><number>3</number><locality_id>loc1</locality_id><mail_only>yes</mail_only>
    </precinct></vip_object>
"""
XML_TYPED = """<v:VipObject xmlns:v="urn:feed" schemaVersion="6.0"><Election id="e1"><Date>2026-11-03</Date></Election>
  <Locality id="loc1"><Name>Wrenfield County</Name></Locality>
  <PollingLocation id="pl1"><AddressStructured><LocationName>Town Hall</LocationName><Line1>1 Main St</Line1>
    <City>Wren</City></AddressStructured><LocationType>InPersonDayOf</LocationType>
    <Schedule><TimeZone>America/Chicago</TimeZone><StartDate>2026-11-03</StartDate><EndDate>2026-11-03</EndDate>
      <Hours><StartTime>06:00:00</StartTime><EndTime>19:00:00</EndTime></Hours></Schedule></PollingLocation>
  <PollingLocation id="pl2"><AddressStructured><LocationName>Grange</LocationName><Line1>20 Mill Rd</Line1>
    <City>Wren</City></AddressStructured><LocationType>InPersonDayOf</LocationType>
    <Hours><Text language="en">Noon - Midnight</Text><Text language="es">mediodía</Text></Hours></PollingLocation>
  <PollingLocation id="pl3"><AddressStructured><Line1>3 Main St</Line1></AddressStructured>
    <LocationType>DropOff</LocationType></PollingLocation>
  <Precinct id="p1"><LocalityId>loc1</LocalityId><Name>Ward 1</Name><Number>1</Number>
    <PollingLocationId>pl3</PollingLocationId><PollingLocationId>pl1</PollingLocationId></Precinct>
  <Precinct id="p2"><LocalityId>loc1</LocalityId><Name>Ward 2</Name><Number>2</Number>
    <PollingLocationId>pl2</PollingLocationId></Precinct>
  <Precinct id="p3"><LocalityId>loc1</LocalityId><Name>Ward 3</Name><Number>3</Number><IsMailOnly>true</IsMailOnly>
    </Precinct></v:VipObject>
"""


def packed(files: dict[str, str]) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, said in files.items():
            archive.writestr(f"feed/{name}", said)
    return out.getvalue()


def read(*files: tuple[str, str | bytes]) -> Reading:
    held = [RosterFile.held(name, said if isinstance(said, bytes) else said.encode()) for name, said in files]
    return read_files(held, Known(ELECTION))


FEEDS: dict[str, list[tuple[str, str | bytes]]] = {
    "5.2 in XML": [("feed.xml", XML_5)],
    "5.2 in UTF-16": [("feed.xml", XML_5.replace('"UTF-8"', '"UTF-16"').encode("utf-16"))],
    "3.0 in XML": [("feed.xml", XML_3)],
    "6.0 in XML, places with a type": [("feed.xml", XML_TYPED)],
    "5.x in flat files": [*FLAT_5.items()],
    "5.x in flat files, called csv, by tabs": [
        (name.replace("txt", "csv"), said.replace(",", "\t")) for name, said in FLAT_5.items()
    ],
    "3.0 in flat files by element": [*FLAT_3_ELEMENTS.items()],
    "3.0 in flat files with join files": [*FLAT_3_JOINED.items()],
    "3.0 with a name before each file's": [(f"vip_31_{name}", said) for name, said in FLAT_3_JOINED.items()],
    "5.x in an archive": [("feed.zip", packed(FLAT_5))],
    "XML in an archive": [("feed.zip", packed({"feed.xml": XML_5}))],
}


@pytest.mark.parametrize("name", FEEDS)
def test_the_same_county_is_read_from_every_dialect(name: str) -> None:
    reading = read(*FEEDS[name])
    assert [str(problem) for problem in reading.problems] == []
    places = [(each.place, each.name, each.address, each.city) for each in reading.roster.places]
    assert places == [HALL, GRANGE]
    assert [(each.opens, each.closes) for each in reading.roster.places] == [(time(6), time(19)), (time(12), time(0))]
    assert {each.precinct: (each.name, each.place) for each in reading.roster.precincts} == {
        "1": ("Ward 1", "pl1"),
        "2": ("Ward 2", "pl2"),
        "3": ("Ward 3", ""),
    }


def test_what_is_not_of_the_day_is_left_out_with_a_line_each() -> None:
    assert [str(note) for note in read(("feed.xml", XML_5)).notes] == [
        "feed.xml, line 13: pl3 3 Main St is a drop box, so it is left out of the day",
        "feed.xml, line 14: pl4 Library is for early voting, so it is left out of the day",
        "feed.xml, line 22: precinct 3 votes by mail only, so at no place",
        "feed.xml, line 18, column split: the 2 splits of 2 are one precinct",
    ]


def problems(feed: str) -> list[str]:
    reading = read(("feed.xml", feed))
    assert all(problem.warning for problem in reading.problems)
    return [str(problem) for problem in reading.problems]


def test_references_to_nothing_are_named() -> None:
    said = problems(
        XML_5.replace("pl3 pl4 pl1", "pl9 pl1")
        .replace("<HoursOpenId>h1<", "<HoursOpenId>h9<")
        .replace(">pl2</PollingLocationIds><PrecinctSplitName>a", ">pl8</PollingLocationIds><PrecinctSplitName>a")
    )
    assert said[:3] == [
        "feed.xml, line 11, column HoursOpenId: h9 is not in the feed",
        "feed.xml, line 16, column PollingLocationIds: precinct 1 votes at pl9, which is not in the feed",
        "feed.xml, line 18, column PollingLocationIds: precinct 2 votes at pl8, which is not in the feed",
    ]


def test_a_wrong_offset_is_said_and_the_wall_time_taken() -> None:
    feed = XML_5.replace("06:00:00-06:00", "06:00:00-05:00")
    assert problems(feed) == [
        "feed.xml, line 5, column HoursOpen: says -05:00, but America/Chicago is at -06:00 on 2026-11-03; "
        "the wall time is taken"
    ]
    assert read(("feed.xml", feed)).roster.places[0].opens == time(6)


def test_a_precinct_of_early_voting_only_is_left_out_and_said() -> None:
    feed = XML_5.replace("pl3 pl4 pl1", "pl3 pl4")
    assert "precinct 1 has only early voting and drop boxes" in problems(feed)[0]
    assert [each.precinct for each in read(("feed.xml", feed)).roster.precincts] == ["2", "3"]


def test_two_records_of_one_place_are_joined_and_both_ids_known() -> None:
    feed = XML_5.replace(
        '<PollingLocation id="pl3">',
        '<PollingLocation id="pl7"><AddressLine>1 MAIN STREET</AddressLine><AddressLine>Wren, NE 68001</AddressLine>'
        '<Name>TOWN HALL</Name></PollingLocation>\n<PollingLocation id="pl3">',
    ).replace(
        "<PollingLocationIds>pl2</PollingLocationIds><PrecinctSplitName>a",
        "<PollingLocationIds>pl7</PollingLocationIds><PrecinctSplitName>a",
    )
    reading = read(("feed.xml", feed))
    assert reading.roster.place_by_id["pl1"].also == ("pl7",)
    assert {each.precinct: each.place for each in reading.roster.precincts} == {
        "1": "pl1", "2-a": "pl1", "2-b": "pl2", "3": "",
    }  # fmt: skip


def test_of_a_states_feed_only_the_county_is_read() -> None:
    feed = XML_5.replace(
        "</VipObject>",
        '<Locality id="loc2"><Name>QUILLTON</Name></Locality>'
        '<PollingLocation id="pl50"><AddressLine>9 Elm St</AddressLine><Name>Court House</Name></PollingLocation>'
        '<Precinct id="p50"><LocalityId>loc2</LocalityId><Name>Ward 1</Name><Number>1</Number>'
        "<PollingLocationIds>pl50</PollingLocationIds></Precinct></VipObject>",
    )
    reading = read(("feed.xml", feed))
    assert [str(problem) for problem in reading.problems] == []
    assert [place.place for place in reading.roster.places] == ["pl1", "pl2"]
    assert "feed.xml, line 25: 1 other localities are left out" in [str(note) for note in reading.notes]


def test_a_states_feed_without_the_county_is_refused() -> None:
    feed = XML_5.replace("WRENFIELD COUNTY", "ASH").replace(
        "</VipObject>",
        '<Locality id="loc2"><Name>QUILLTON</Name></Locality><Precinct id="p50"><LocalityId>loc2</LocalityId>'
        "<Name>W</Name><Number>1</Number></Precinct></VipObject>",
    )
    reading = read(("feed.xml", feed))
    wrong = [str(problem) for problem in reading.problems if not problem.warning]
    assert wrong == ["feed.xml, line 4, column Name: is ASH, QUILLTON; the plan says Wrenfield County"]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ("<VipObject><b></VipObject>", "line 1: is no well-formed XML (mismatched tag)"),
        ("<html><body/></html>", "is a web page"),
        ("<kml></kml>", "is XML, but no feed of polling places: its outermost element is kml"),
        ('<?xml version="1.0" encoding="nonsense-7"?><a/>', "cannot be read as XML: unknown encoding: nonsense-7"),
        ("<VipObject/>", ""),
    ],
)
def test_xml_that_is_no_feed_says_so(said: str, says: str) -> None:
    reading = read(("feed.xml", said))
    assert reading.roster == Roster()
    assert [says in str(problem) for problem in reading.problems] == ([True] if says else [])
