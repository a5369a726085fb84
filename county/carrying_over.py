"""The set-up of one data folder carried over to another with an empty ledger: plan, roster, people, and maybe keys."""

import shutil

from sqlalchemy import Connection, Table, insert, select

from county.domain.plan_file import parse_plan
from county.domain.roster import Roster
from county.errors import Problem, Refused
from county.settings import Settings
from county.store import roster as stored_roster
from county.store.engine import make_engine, reading, writing
from county.store.migrate import migrate
from county.store.schema import keys, people
from county.upkeep import load_roster
from county.wiring import open_office

_BESIDE = ("columns.toml", "earlier_steps.csv")


def carry_over(source: Settings, target: Settings, plan: str, roster: Roster, *, with_keys: bool) -> None:
    """Make `target` a data folder with this plan and roster and the people of `source`; its ledger begins anew.

    With their keys too, the cards that are printed stay good. Raises Refused where the target has a plan already.
    """
    if target.plan.exists():
        raise Refused([Problem(str(target.plan), "is there already; a set-up is carried over into a new folder only")])
    for folder in (target.data, target.data / "drop" / "in", target.data / "drop" / "done"):
        folder.mkdir(parents=True, exist_ok=True, mode=0o750)
    target.plan.parent.mkdir(parents=True, exist_ok=True)
    target.plan.write_text(plan, encoding="utf-8")
    _copy_files(source, target, plan)
    office = open_office(target)
    try:
        _copy_rows(source, target, (people, keys) if with_keys else (people,))
        load_roster(office, roster)
    finally:
        office.engine.dispose()


def roster_of(settings: Settings) -> Roster:
    """The roster as it stands in a data folder."""
    engine = make_engine(settings.database_url)
    try:
        with reading(engine) as connection:
            return stored_roster.load(connection)
    finally:
        engine.dispose()


def _copy_files(source: Settings, target: Settings, plan: str) -> None:
    """What lies beside the plan and belongs to it."""
    matrix = parse_plan(plan, str(target.plan)).dispatch.matrix_file
    for name in (*_BESIDE, *([matrix] if matrix else ())):
        file = source.plan.parent / name
        if file.is_file() and file.parent == source.plan.parent:
            shutil.copyfile(file, target.plan.parent / name)


def _copy_rows(source: Settings, target: Settings, tables: tuple[Table, ...]) -> None:
    engines = [make_engine(settings.database_url) for settings in (source, target)]
    try:
        migrate(engines[0])
        with reading(engines[0]) as before, writing(engines[1]) as after:
            for table in tables:
                _copy(before, after, table)
    finally:
        for engine in engines:
            engine.dispose()


def _copy(before: Connection, after: Connection, table: Table) -> None:
    rows = [dict(row) for row in before.execute(select(table)).mappings()]
    if rows:
        after.execute(insert(table), rows)
