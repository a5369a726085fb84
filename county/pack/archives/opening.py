"""An archive opened to be read: a data folder of its own, in which the record is closed."""

import json
from dataclasses import replace
from pathlib import Path

from county.domain.archive_mark import ArchiveMark
from county.domain.plan_file import parse_plan
from county.errors import BadCopy
from county.pack import verify
from county.pack.archives.archive_file import Archive
from county.pack.archives.rows import rows_in
from county.pack.archives.writing import TABLES
from county.setting_up import SetUp, set_up
from county.settings import Settings, sqlite_url
from county.store import archive_marks, chain, ledger
from county.store.engine import make_engine, writing


def open_archive(archive: Archive, settings: Settings, folder: Path) -> SetUp:
    """Make the folder a data folder that holds the archive's record, closed; its first account is new.

    Raises BadCopy where something is there already, or BadPlan where this version no longer reads the plan.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise BadCopy(f"{folder} is there already and not empty; an archive is opened in a folder of its own")
    plan = archive.parts["plan.toml"].decode()
    parse_plan(plan, "the archive's plan.toml")
    at = replace(settings, data=folder, database_url=sqlite_url(folder / "pollrise.db"), plan=folder / "plan.toml")
    folder.mkdir(parents=True, exist_ok=True, mode=0o750)
    at.plan.write_bytes(archive.parts["plan.toml"])
    made = set_up(at)
    _bring_in(archive, at)
    return made


def _bring_in(archive: Archive, settings: Settings) -> None:
    engine = make_engine(settings.database_url)
    try:
        with writing(engine) as connection:
            for table in TABLES:
                rows_in(connection, table, archive.parts.get(f"tables/{table.name}.jsonl", b"").decode())
            ledger.bring_back(connection, map(json.loads, archive.parts[verify.LEDGER].splitlines()))
            bad = chain.verify(connection)
            if bad is not None:
                raise BadCopy(f"entry {bad} of the archive cannot be brought back as it was")
            archive_marks.close(connection, ArchiveMark(archive.election, archive.as_of, archive.digest))
    finally:
        engine.dispose()
