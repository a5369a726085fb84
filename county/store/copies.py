"""Copies of everything kept: out to one SQLite file while the office works, and back into an empty data store."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from types import MappingProxyType

from sqlalchemy import Connection, Engine, delete, func, insert, select
from sqlalchemy.exc import DatabaseError

from county.errors import BadCopy, BadSetting
from county.settings import sqlite_url
from county.store import chain, copied_files, ledger
from county.store.engine import make_engine, reading, sqlite_library, writing
from county.store.locks import HEAD, hold
from county.store.migrate import migrate, revision
from county.store.schema import (
    failed_sign_ins,
    keys,
    loop_turns,
    metadata,
    people,
    places,
    sessions,
    set_aside,
    signing_keys,
)
from county.store.schema import ledger as ledger_table

Progress = Callable[[int], None]

NO_FILES: Mapping[str, bytes] = MappingProxyType({})
_AT_ONCE = 1_000
_MAGIC = b"SQLite format 3\0"


def back_up(
    engine: Engine, file: Path, progress: Progress | None = None, files: Mapping[str, bytes] = NO_FILES
) -> tuple[int, int | None]:
    """Write a consistent copy to a new file: how many entries it has, and the first bad one's number or None.

    `files` are laid into it by their names. The copy is one moment's state of the database, and it is read back and its
    chain walked before it gets its name. Raises BadCopy where the file exists already or cannot be written.
    """
    if file.exists():
        raise BadCopy(f"{file} exists already; a backup never writes over a file")
    part = file.with_name(f"{file.name}.part")
    try:
        part.unlink(missing_ok=True)
        part.touch(mode=0o600)
        _copy_out(engine, part, progress)
        with _opened(part) as copy, writing(copy) as connection:
            copied_files.put(connection, files)
        with _opened(part) as copy, reading(copy) as connection:
            found = ledger.head(connection)[0], chain.verify(connection)
        _make_durable(part)
        part.rename(file)
    except OSError as error:
        raise BadCopy(f"{file} cannot be written: {error.strerror or error}") from None
    except (sqlite_library().Error, DatabaseError) as error:
        # the copy's disk may be full, or what is to be copied damaged; the driver says which
        raise BadCopy(f"{file} cannot be written: {getattr(error, 'orig', error)}") from None
    finally:
        part.unlink(missing_ok=True)
    _make_durable(file.parent)
    return found


def files_in(file: Path) -> dict[str, bytes]:
    """The files that were laid into a backup, by name; none in those of older programs. Raises BadCopy."""
    with _working_copy(file) as copy, reading(copy) as connection:
        return copied_files.read(connection)


def restore(engine: Engine, file: Path, progress: Progress | None = None) -> int:
    """Bring a backup back into an empty, migrated database; how many entries it has.

    All or nothing, and only where the backup's chain holds. Keys and people become the backup's, and nobody is signed
    in afterwards. Raises BadCopy.
    """
    with _working_copy(file) as copy, reading(copy) as source, writing(engine) as target:
        hold(target, HEAD)
        _refuse_unless_empty(target)
        for table in (keys, sessions, people, signing_keys, loop_turns):
            target.execute(delete(table))
        _copy_tables(source, target, progress)
        # neither whoever was signed in nor a program that ran is here
        for table in (sessions, loop_turns):
            target.execute(delete(table))
        bad = chain.verify(target)
        if bad is not None:
            raise BadCopy(f"{file}: entry {bad} is wrong or missing; nothing was restored")
        return ledger.head(target)[0]


def _copy_out(engine: Engine, part: Path, progress: Progress | None) -> None:
    if engine.dialect.name == "sqlite":
        raw = engine.raw_connection()
        try:
            raw.cursor().execute("VACUUM INTO ?", (str(part),))
        finally:
            raw.close()
        return
    with _opened(part) as copy:
        migrate(copy)
        with reading(engine) as source, writing(copy) as target:
            _copy_tables(source, target, progress)


def _copy_tables(source: Connection, target: Connection, progress: Progress | None) -> None:
    copied = 0
    for table in metadata.sorted_tables:
        rows = source.execution_options(yield_per=_AT_ONCE).execute(select(table).order_by(*table.primary_key.columns))
        for some in rows.mappings().partitions():
            target.execute(insert(table), [dict(row) for row in some])
            copied += len(some)
            if progress:
                progress(copied)


def _refuse_unless_empty(target: Connection) -> None:
    for table, what in (
        (ledger_table, "entries"),
        (set_aside, "reports set aside"),
        (places, "places"),
        (failed_sign_ins, "failed sign-ins"),
    ):
        count = target.execute(select(func.count()).select_from(table)).scalar_one()
        if count:
            raise BadCopy(f"the data store holds {count:,} {what} already; a backup is restored into an empty one only")


@contextmanager
def _working_copy(file: Path) -> Iterator[Engine]:
    """The backup opened from a copy of its own, brought up to date, so that the file itself is never touched."""
    with tempfile.TemporaryDirectory(prefix="pollrise-") as folder:
        copied = Path(folder) / "backup.db"
        try:
            with file.open("rb") as begun:
                if begun.read(len(_MAGIC)) != _MAGIC:
                    raise BadCopy(f"{file} is not a backup of this program")
            shutil.copyfile(file, copied)
        except OSError as error:
            raise BadCopy(f"{file} cannot be read: {error.strerror or error}") from None
        with _opened(copied) as engine:
            _bring_up_to_date(engine, file)
            yield engine


def _bring_up_to_date(engine: Engine, file: Path) -> None:
    try:
        with reading(engine) as connection:
            known = revision(connection) is not None
        if known:
            migrate(engine)
    except DatabaseError:
        raise BadCopy(f"{file} is damaged and cannot be read") from None
    except BadSetting:
        raise BadCopy(f"{file} was written by a newer version of this program") from None
    if not known:
        raise BadCopy(f"{file} is not a backup of this program")


@contextmanager
def _opened(file: Path) -> Iterator[Engine]:
    engine = make_engine(sqlite_url(file), journal="DELETE")
    try:
        yield engine
    finally:
        engine.dispose()


def _make_durable(path: Path) -> None:
    """Wait until a file, or the name of one in its folder, is on the disk; some systems cannot do it for folders."""
    with suppress(OSError) if path.is_dir() else nullcontext():
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
