"""A reader of the ledger comes to the same picture as one that reads it all at once, and follows the roster."""

from dataclasses import replace

from county import desk, upkeep
from county.domain.picture import Picture
from county.domain.roster import Place, Roster
from county.following import Following
from county.wiring import Office
from tests.an_office import ROSTER, at
from tests.desk.reports import a_step


def test_it_starts_from_the_roster_and_reads_on_request(office: Office) -> None:
    following = Following(office)
    desk.keep(office, [a_step("open", "05:29")])
    assert following.seq == 0
    following.catch_up()
    assert [entry.seq for entry in following.entries] == [1, 2]
    assert following.picture.places["P014"].day.opened_at == at("05:29")
    assert following.seq == 2


def test_it_tells_the_places_touched_since(office: Office) -> None:
    following = Following(office)
    following.catch_up()
    assert following.catch_up() == set()
    desk.keep(office, [a_step("open", "05:29"), a_step("zero-report", "05:20")])
    assert following.catch_up() == {"P014"}
    assert following.catch_up() == set()


def test_it_comes_to_the_same_as_reading_everything_at_once(office: Office) -> None:
    following = Following(office)
    for n in range(5):
        desk.keep(office, [a_step("open", f"05:2{n}", key=f"k-{n}"), a_step("open", "05:25", "P015")])
        following.catch_up()
    whole = Picture.of(ROSTER, office.plan, following.entries)
    assert {place: state.day for place, state in following.picture.places.items()} == {
        place: state.day for place, state in whole.places.items()
    }


def test_a_changed_roster_is_followed_with_everything_told_before(office: Office) -> None:
    following = Following(office)
    desk.keep(office, [a_step("open", "05:29"), a_step("open", "05:28", "P020")])
    following.catch_up()
    assert "P020" not in following.picture.places
    more = replace(ROSTER, places=(*ROSTER.places, Place("P020", "Library")))
    upkeep.load_roster(office, more)
    assert following.catch_up() == {"P014", "P015", "P020"}
    assert following.picture.roster == more
    assert following.picture.places["P020"].day.opened_at == at("05:28")
    assert following.picture.places["P014"].day.opened_at == at("05:29")


def test_the_last_report_is_the_last_that_somebody_sent(office: Office) -> None:
    following = Following(office)
    following.catch_up()
    assert following.last_received_at is None
    desk.keep(office, [a_step("open", "05:29"), a_step("open", "05:25", "P015")])
    following.catch_up()
    assert following.last_received_at == at("05:29")
    upkeep.load_roster(office, Roster(places=(*ROSTER.places, Place("P020", "Library"))))
    following.catch_up()
    assert following.last_received_at == at("05:29")
