"""Tables from nothing: the migrations and the schema the program works with are one and the same."""

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text

from county.errors import BadSetting
from county.store.engine import make_engine, reading, writing
from county.store.migrate import MIGRATIONS, migrate, revision
from county.store.schema import REVISION, metadata

FORBIDDEN = ("voter", "vote", "candidate", "party", "ballot_for")


def test_the_tables_come_up_from_nothing_and_only_once(empty_url: str) -> None:
    engine = make_engine(empty_url)
    assert [migrate(engine), migrate(engine)] == [True, False]
    assert set(inspect(engine).get_table_names()) == {*metadata.tables, "alembic_version"}
    engine.dispose()


def test_the_migrations_leave_the_very_schema_the_program_works_with(engine: Engine) -> None:
    with reading(engine) as connection:
        assert compare_metadata(MigrationContext.configure(connection, opts={"compare_type": True}), metadata) == []


def test_the_program_knows_the_newest_migration() -> None:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    assert ScriptDirectory.from_config(config).get_heads() == [REVISION]


def test_a_newer_programs_database_is_refused_by_the_settings_name(engine: Engine) -> None:
    with writing(engine) as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(BadSetting, match=r"POLLRISE_DATABASE_URL: the database stands at 9999"):
        migrate(engine)
    with reading(engine) as connection:
        assert revision(connection) == "9999"


@pytest.mark.parametrize("empty_url", ["sqlite"], indirect=True)
def test_foreign_keys_hold_after_migrating(empty_url: str) -> None:
    engine = make_engine(empty_url)
    migrate(engine)
    with reading(engine) as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    engine.dispose()


def test_no_table_and_no_column_can_hold_a_voter_or_a_vote() -> None:
    names = [name for table in metadata.sorted_tables for name in (table.name, *table.columns.keys())]
    assert not [name for name in names for word in FORBIDDEN if word in name]
