"""The roster goes in and comes out whole."""

from datetime import time

from sqlalchemy import Engine

from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal
from county.store import roster
from county.store.engine import reading, writing

WHOLE = Roster(
    places=(
        Place("P014", "Mill Creek School", "1 Mill Road", "Wren", 44.1, -96.2, time(6), time(19, 30), "north"),
        Place("P015", "Grange Hall, “Übersee”", time_zone="America/Denver", route="B", serves="all", registered=900),
    ),
    precincts=(Precinct("14", "Fourteen", "P014", 1_200), Precinct("99", "By mail", "", None)),
    devices=(Device("BM-1", "P015", "bmd"), Device("SC-0141", "P014", "scanner", "77", "M2", 48_210)),
    seals=(Seal("SC-0141", "ballot-box", "A100"), Seal("SC-0141", "memory", "A101")),
    rovers=(Rover("R03", "Rover Three", "north", "555-0103", 44.0, -96.0, ("power", "lift"), ("scanner",), time(5)),),
)


def test_a_roster_is_read_back_as_it_was_put(engine: Engine) -> None:
    assert _put(engine, WHOLE) == WHOLE


def test_a_roster_takes_the_place_of_the_one_before(engine: Engine) -> None:
    _put(engine, WHOLE)
    other = Roster(places=(Place("P020", "Library"),))
    assert _put(engine, other) == other
    assert _put(engine, WHOLE) == WHOLE


def test_an_empty_database_has_an_empty_roster(engine: Engine) -> None:
    with reading(engine) as connection:
        assert roster.load(connection) == Roster()


def _put(engine: Engine, whole: Roster) -> Roster:
    with writing(engine) as connection:
        roster.replace(connection, whole)
    with reading(engine) as connection:
        return roster.load(connection)
