"""Bring a database to the newest tables, once, however many processes try at the same time."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

from county.errors import BadSetting
from county.store.engine import reading, writing
from county.store.locks import MIGRATING, hold
from county.store.schema import REVISION

MIGRATIONS = Path(__file__).parent / "migrations"


def migrate(engine: Engine) -> bool:
    """Create or upgrade the tables in one transaction; whether there was anything to do.

    Raises BadSetting where the database is a newer program's.
    """
    with reading(engine) as connection:
        if revision(connection) == REVISION:
            return False
    with _without_foreign_keys(engine) as connection:
        hold(connection, MIGRATING)
        # another process may have done it while this one waited
        if revision(connection) == REVISION:
            return False
        _upgrade(connection)
    return True


def revision(connection: Connection) -> str | None:
    """Which migration the database stands at, or None where there is none yet."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _upgrade(connection: Connection) -> None:
    # half a second to import, and needed once in a database's life
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, REVISION)
    except CommandError as error:
        raise BadSetting(
            f"POLLRISE_DATABASE_URL: the database stands at {revision(connection)}, which this program does not know; "
            "it may belong to a newer one"
        ) from error


@contextmanager
def _without_foreign_keys(engine: Engine) -> Iterator[Connection]:
    """A writing transaction in which rebuilding a SQLite table cannot remove the rows that refer to it."""
    if engine.dialect.name != "sqlite":
        with writing(engine) as connection:
            yield connection
        return
    with engine.execution_options(sqlite_begin="IMMEDIATE").connect() as connection:
        raw = connection.connection
        # the switch works only outside a transaction, so it goes round the engine's own BEGIN
        raw.cursor().execute("PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                yield connection
                broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
                if broken:
                    raise BadSetting(f"POLLRISE_DATABASE_URL: {len(broken)} rows refer to rows that are not there")
        finally:
            raw.cursor().execute("PRAGMA foreign_keys=ON")
