"""What every door needs to reach the day: settings, clock, plan and database, opened once."""

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine, make_url

from county.clock import Clock, clock_from
from county.domain.archive_mark import ArchiveMark
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.plan_versions import PlanVersion
from county.errors import BadPlan, BadSetting
from county.settings import Settings
from county.store import archive_marks, plans
from county.store.engine import make_engine, reading
from county.store.migrate import migrate


@dataclass(frozen=True, slots=True)
class Office:
    """The office as one process sees it. The engine is shared by threads; nothing else changes.

    `plan` is the one in force when it was opened; `Following.office` is the office with the one in force now.
    `archive` is set where this is the archive of an election: it is only read.
    """

    settings: Settings
    clock: Clock
    plan: Plan
    engine: Engine
    archive: ArchiveMark | None = None


def open_office(settings: Settings, plan: Plan | None = None) -> Office:
    """Open the office: find the plan in force, bring the database up to date.

    With `plan`, that one instead. Raises BadPlan or BadSetting before any change.
    """
    chosen = plan or plan_in_force(settings)
    if settings.database_url.startswith("sqlite") and not settings.data.is_dir():
        raise BadSetting(f"POLLRISE_DATA: there is no folder {settings.data}; `python -m county init` makes it")
    engine = make_engine(settings.database_url)
    migrate(engine)
    with reading(engine) as connection:
        archive = archive_marks.mark(connection)
    # in an archive it is for ever the moment at which its record ends
    clock = Clock(archive.as_of, speed=0) if archive else clock_from(settings)
    return Office(settings, clock, chosen, engine, archive)


def plan_in_force(settings: Settings) -> Plan:
    """The newest version that a person made, where the ledger has one; else the plan file.

    Where there is no file either, the newest version the ledger knows. Raises BadPlan naming file, line and reason.
    """
    version = _version_in_force(settings)
    return version.plan() if version else read_plan(settings)


def name_in_force(settings: Settings) -> str:
    """What the plan in force is called in messages: `plan version 3`, or the plan file."""
    version = _version_in_force(settings)
    return version.name if version else str(settings.plan)


def read_plan(settings: Settings) -> Plan:
    """The plan file as the settings say. Raises BadPlan naming the file, line and reason."""
    return parse_plan(read_plan_text(settings), str(settings.plan))


def read_plan_text(settings: Settings) -> str:
    """The plan file's text. Raises BadPlan where it is not there or cannot be read."""
    try:
        return settings.plan.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise BadPlan(
            str(settings.plan), 0, "there is no such file; `python -m county init` puts a sample there"
        ) from None
    except (OSError, UnicodeDecodeError) as error:
        raise BadPlan(str(settings.plan), 0, f"cannot be read: {error}") from None


def _version_in_force(settings: Settings) -> PlanVersion | None:
    """The version that is in force; None where the plan file is."""
    newest = _newest_version(settings)
    return newest if newest and (newest.by_a_person or not settings.plan.exists()) else None


def _newest_version(settings: Settings) -> PlanVersion | None:
    """The newest version in a database that is there already; nothing is made or brought up to date."""
    url = make_url(settings.database_url)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        return None
    engine = make_engine(settings.database_url)
    try:
        with reading(engine) as connection:
            every = plans.every_version(connection)
    finally:
        engine.dispose()
    return every[-1] if every else None
