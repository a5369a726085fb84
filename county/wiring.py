"""What every door needs to reach the day: settings, clock, plan and database, opened once."""

from dataclasses import dataclass

from sqlalchemy import Engine

from county.clock import Clock, clock_from
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.errors import BadPlan, BadSetting
from county.settings import Settings
from county.store.engine import make_engine
from county.store.migrate import migrate


@dataclass(frozen=True, slots=True)
class Office:
    """The office as one process sees it. The engine is shared by threads; nothing else changes."""

    settings: Settings
    clock: Clock
    plan: Plan
    engine: Engine


def open_office(settings: Settings) -> Office:
    """Open the office: read the plan, bring the database up to date. Raises BadPlan or BadSetting before any change."""
    plan = read_plan(settings)
    if settings.database_url.startswith("sqlite") and not settings.data.is_dir():
        raise BadSetting(f"POLLRISE_DATA: there is no folder {settings.data}; `python -m county init` makes it")
    engine = make_engine(settings.database_url)
    migrate(engine)
    return Office(settings, clock_from(settings), plan, engine)


def read_plan(settings: Settings) -> Plan:
    """The county's plan as the settings say. Raises BadPlan naming the file, line and reason."""
    try:
        text = settings.plan.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise BadPlan(
            str(settings.plan), 0, "there is no such file; `python -m county init` puts a sample there"
        ) from None
    except (OSError, UnicodeDecodeError) as error:
        raise BadPlan(str(settings.plan), 0, f"cannot be read: {error}") from None
    return parse_plan(text, str(settings.plan))
