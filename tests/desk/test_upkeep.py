"""Roster, keys and people: loaded, issued, added; what was heard from never disappears."""

import zlib
from dataclasses import replace
from datetime import time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import text

from county import desk, upkeep
from county.domain.people import read_name
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.domain.roster_changes import Change, Did
from county.domain.roster_digest import read_written_roster, roster_digest, written_roster
from county.domain.senders import Sender
from county.errors import BadRoster, NotFound, Refused
from county.store.engine import writing
from county.wiring import Office
from tests.an_office import ROSTER, later
from tests.desk.reports import a_step


def test_loading_is_an_entry_that_says_how_much_changed(office: Office) -> None:
    [entry] = desk.ledger_pages(office)
    assert (entry["kind"], entry["place"], entry["clock"]) == ("roster", "", "set")
    assert (entry["added"], entry["changed"], entry["removed"]) == (9, 0, 0)
    assert entry["roster_digest"] == roster_digest(ROSTER)


def test_loading_the_same_again_changes_nothing_and_writes_nothing(office: Office) -> None:
    shuffled = replace(ROSTER, places=ROSTER.places[::-1])
    assert upkeep.load_roster(office, shuffled).changes == ()
    assert desk.last_seq(office) == 1


def test_back_and_forth_is_written_each_time(office: Office) -> None:
    other = replace(ROSTER, rovers=(Rover("R04", "Rover Four"),))
    for roster in (other, ROSTER, other):
        upkeep.load_roster(office, roster)
    assert desk.last_seq(office) == 4
    assert desk.roster(office) == other


def test_a_check_tells_what_a_load_would_do_and_does_nothing(office: Office) -> None:
    given = Roster(places=(replace(ROSTER.places[0], phone="555-0114", name="Mill"), Place("P020", "Library")))
    with pytest.raises(BadRoster) as refused:
        upkeep.check_roster(office, given)
    assert [str(problem) for problem in refused.value.problems] == [
        "precincts: 15 votes at P015, which is no place of the roster",
        "devices: SC-0151 is at P015, which is no place of the roster",
    ]
    whole = replace(given, precincts=ROSTER.precincts[:2], devices=ROSTER.devices[:1])
    loading = upkeep.check_roster(office, whole)
    assert loading.changes == (
        Change(Did.CHANGED, "places", "P014", ("name", "phone")),
        Change(Did.ADDED, "places", "P020"),
        Change(Did.REMOVED, "places", "P015"),
        Change(Did.REMOVED, "precincts", "15"),
        Change(Did.REMOVED, "devices", "SC-0151"),
    )
    assert desk.roster(office) == ROSTER
    assert upkeep.load_roster(office, whole) == loading
    assert desk.roster(office) == loading.after


def test_a_table_not_given_stays(office: Office) -> None:
    upkeep.load_roster(office, Roster(rovers=(Rover("R04", "Rover Four"),)))
    assert desk.roster(office) == replace(ROSTER, rovers=(Rover("R04", "Rover Four"),))


def test_a_place_heard_from_stays_with_all_that_is_its_own(office: Office) -> None:
    desk.keep(office, [a_step("open", "05:29")])
    given = Roster(
        places=(Place("P020", "Library"),),
        precincts=(Precinct("20", "Twenty", "P020"),),
        devices=(Device("SC-0201", "P020", "scanner"),),
        seals=(Seal("SC-0201", "ballot-box", "B1"),),
    )
    loading = upkeep.load_roster(office, given)
    assert loading.stay == ("P014",)
    roster = desk.roster(office)
    assert [place.place for place in roster.places] == ["P014", "P020"]
    assert [precinct.precinct for precinct in roster.precincts] == ["14A", "14B", "20"]
    assert [device.device for device in roster.devices] == ["SC-0141", "SC-0201"]
    assert [seal.device for seal in roster.seals] == ["SC-0141", "SC-0201"]


def test_a_place_may_move_its_device_while_it_stays(office: Office) -> None:
    desk.keep(office, [a_step("open", "05:29")])
    moved = Roster(places=(Place("P015", "Grange Hall"),), devices=(Device("SC-0141", "P015", "scanner"),))
    after = upkeep.load_roster(office, moved).after
    assert {place.place for place in after.places} == {"P014", "P015"}
    assert [(device.device, device.place) for device in after.devices] == [("SC-0141", "P015")]


def test_a_key_is_issued_for_a_place_of_the_roster_only(office: Office) -> None:
    with pytest.raises(NotFound, match="P999"):
        upkeep.issue_keys(office, [Sender.at_place("P014"), Sender.at_place("P999")])
    assert upkeep.live_keys(office) == {}
    upkeep.issue_keys(office, [Sender.at_place("P014"), Sender.at_place("P014"), Sender.at_desk("Front")])
    assert upkeep.live_keys(office) == {"place:P014": 2, "desk:Front": 1}
    assert upkeep.revoke_keys(office, None) == 3


def test_a_name_is_words_of_bearable_length() -> None:
    assert read_name("  Ann   O’Neil ") == "Ann O’Neil"
    for name in ("", "   ", "x" * 61, "a\0b", "\ud800"):
        with pytest.raises(Refused, match="name"):
            read_name(name)


def test_verify_gives_the_last_number_and_digest(office: Office) -> None:
    desk.keep(office, [a_step("open", "05:29")])
    assert upkeep.verify(office) == (None, 2, desk.ledger_pages(office)[-1]["digest"])


def test_the_whole_roster_of_any_earlier_moment_can_be_had_again(office: Office) -> None:
    moved = replace(ROSTER, places=(replace(ROSTER.places[0], also=("pl9", "7"), opens=time(7)), ROSTER.places[1]))
    upkeep.load_roster(later(office, 60), moved, by="Ann")
    upkeep.load_roster(later(office, 90), ROSTER)
    start = office.clock.now()
    assert upkeep.roster_as_at(office, start - timedelta(seconds=1)) == Roster()
    assert upkeep.roster_as_at(office, start) == ROSTER
    assert upkeep.roster_as_at(office, start + timedelta(minutes=89)) == moved
    assert upkeep.roster_as_at(office, start + timedelta(minutes=90)) == ROSTER
    assert [entry["by"] for entry in desk.ledger_pages(office)] == ["the office", "Ann", "the office"]


def test_a_roster_kept_otherwise_than_the_ledger_says_is_not_given_out(office: Office) -> None:
    with writing(office.engine) as connection:
        connection.execute(text("DROP TRIGGER roster_versions_no_update"))
        connection.execute(text("UPDATE roster_versions SET content = :other"), {"other": zlib.compress(b"{}")})
    with pytest.raises(NotFound, match="roster of entry 1 was not kept"):
        upkeep.roster_as_at(office, office.clock.now())


@given(
    st.builds(
        Roster,
        places=st.lists(
            st.builds(Place, place=st.sampled_from(["P1", "P2"]), name=st.text(max_size=5),
                      latitude=st.none() | st.floats(-90, 90), opens=st.none() | st.times(),
                      also=st.lists(st.text(max_size=3), max_size=2).map(tuple)),
            max_size=1,
        ).map(tuple),
        rovers=st.lists(
            st.builds(Rover, rover=st.just("R1"), name=st.text(max_size=5),
                      skills=st.lists(st.text(max_size=3), max_size=2).map(tuple), starts=st.none() | st.times()),
            max_size=1,
        ).map(tuple),
    )
)  # fmt: skip
def test_a_roster_is_read_back_as_it_was_written(roster: Roster) -> None:
    assert read_written_roster(written_roster(roster)) == roster
