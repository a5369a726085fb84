"""Every roster loaded is kept once, whole, and cannot be changed or removed."""

from dataclasses import replace

import pytest
from sqlalchemy import Engine, func, select, text
from sqlalchemy.exc import DBAPIError

from county.domain.roster import Place, Roster
from county.domain.roster_digest import roster_digest
from county.store import roster as stored
from county.store import roster_versions
from county.store.engine import reading, writing
from county.store.schema import roster_versions as table
from tests.store.test_roster_store import WHOLE


def kept(engine: Engine, *rosters: Roster) -> list[str]:
    with writing(engine) as connection:
        return [roster_versions.keep(connection, each) for each in rosters]


def test_a_roster_is_found_again_by_its_digest(engine: Engine) -> None:
    other = Roster(places=(Place("P020", "Library", also=("pl7", "20")),))
    assert kept(engine, WHOLE, other) == [roster_digest(WHOLE), roster_digest(other)]
    with reading(engine) as connection:
        assert roster_versions.find(connection, roster_digest(WHOLE)) == WHOLE
        assert roster_versions.find(connection, roster_digest(other)) == other
        assert roster_versions.find(connection, "0" * 64) is None


def test_the_same_roster_is_kept_once_however_often_it_is_loaded(engine: Engine) -> None:
    kept(engine, WHOLE, Roster(), WHOLE, replace(WHOLE, places=WHOLE.places[::-1]))
    with reading(engine) as connection:
        assert connection.execute(select(func.count()).select_from(table)).scalar_one() == 2


@pytest.mark.parametrize(
    "statement",
    ["UPDATE roster_versions SET digest = 'x'", "DELETE FROM roster_versions", "UPDATE roster_versions SET number = 9"],
)
def test_what_is_kept_is_not_changed_or_deleted(engine: Engine, statement: str) -> None:
    kept(engine, WHOLE)
    with pytest.raises(DBAPIError, match=r"nothing is changed|nothing is deleted"), writing(engine) as connection:
        connection.execute(text(statement))


def test_a_place_keeps_its_other_ids(engine: Engine) -> None:
    with writing(engine) as connection:
        stored.replace(connection, Roster(places=(Place("P1", "Hall", also=("pl1", "A-7")),)))
    with reading(engine) as connection:
        assert stored.load(connection).places[0].also == ("pl1", "A-7")
