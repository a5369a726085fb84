"""A migrated SQLite file without rows, made once a process and copied from then on; migrating has tests of its own."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import make_url

from county.settings import sqlite_url
from county.store.engine import make_engine
from county.store.migrate import migrate


def put(url: str) -> None:
    """Put such a file at the address of a SQLite database, unless one stands there already."""
    file = Path(make_url(url).database or "")
    if not file.exists():
        file.write_bytes(_without_rows())


@cache
def _without_rows() -> bytes:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "template.db"
        # all of it in the one file, nothing in a log beside it
        engine = make_engine(sqlite_url(file), journal="DELETE")
        migrate(engine)
        engine.dispose()
        return file.read_bytes()
