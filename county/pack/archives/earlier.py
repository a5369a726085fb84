"""An archive as the earlier election: when each step was done there, for the curves and forecasts of the next."""

import json

from county.domain.earlier_steps import EarlierStep, earlier_steps
from county.domain.entry_form import read_back
from county.domain.picture import Picture
from county.domain.plan_file import parse_plan
from county.domain.roster import Roster
from county.pack import verify
from county.pack.archives.archive_file import Archive
from county.pack.archives.rows import rows_in
from county.store import roster as stored_roster
from county.store.engine import make_engine, writing
from county.store.schema import devices, metadata, places, precincts, rovers, seals


def steps_of(archive: Archive) -> tuple[EarlierStep, ...]:
    """Every step that was done at a place of the archived election. Raises BadPlan where its plan is no longer read."""
    plan = parse_plan(archive.parts["plan.toml"].decode(), "the archive's plan.toml")
    entries = (read_back(json.loads(line)) for line in archive.parts[verify.LEDGER].splitlines())
    return earlier_steps(Picture.of(_roster(archive), plan, entries))


def _roster(archive: Archive) -> Roster:
    """The archive's roster, read through a database in memory as it would be through any."""
    engine = make_engine("sqlite://", journal="MEMORY")
    try:
        metadata.create_all(engine)
        with writing(engine) as connection:
            for table in (places, precincts, devices, seals, rovers):
                rows_in(connection, table, archive.parts.get(f"tables/{table.name}.jsonl", b"").decode())
            return stored_roster.load(connection)
    finally:
        engine.dispose()
