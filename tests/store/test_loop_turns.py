"""The signs of life of loops: one row each, the latest turn, whoever wrote it."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine, func, select

from county.store import loop_turns
from county.store.engine import reading, writing
from county.store.schema import loop_turns as table

NOW = datetime(2026, 11, 3, 12, tzinfo=UTC)
LATER = NOW + timedelta(seconds=10)


def test_the_latest_turn_stands_and_an_earlier_one_changes_nothing(engine: Engine) -> None:
    for turned in ({"clock": NOW, "notices": LATER}, {"clock": LATER, "notices": NOW}, {"clock": NOW}):
        with writing(engine) as connection:
            loop_turns.keep(connection, turned)
    with reading(engine) as connection:
        assert loop_turns.read(connection) == {"clock": LATER, "notices": LATER}
        assert connection.execute(select(func.count()).select_from(table)).scalar_one() == 2
