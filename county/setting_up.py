"""Setting up the office for the first time; done again, it changes nothing that stands."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from county.clock import clock_from
from county.domain.people import Person, Role
from county.domain.senders import Sender
from county.errors import BadSetting
from county.person_facts import REAL
from county.settings import Settings
from county.store import keys, people
from county.store.engine import make_engine, writing
from county.store.migrate import migrate
from county.store.password_hashes import first_password, hashed

SAMPLE_PLAN = Path(__file__).parents[1] / "sample_data" / "plan.toml"
FIRST_PERSON = Person("desk", Role.LEAD)


@dataclass(frozen=True, slots=True)
class SetUp:
    """What was made and what stood already, in words; the first desk's key and password where they were made now."""

    made: tuple[str, ...]
    stood: tuple[str, ...]
    desk: Sender
    key: str = ""
    password: str = ""


def set_up(settings: Settings, sample_plan: Path = SAMPLE_PLAN) -> SetUp:
    """Make the data folder, the plan, the database and the first desk account, each where it is missing.

    Raises BadSetting where a folder or file cannot be made.
    """
    made: dict[str, bool] = {}
    try:
        for folder in (settings.data, settings.data / "drop" / "in", settings.data / "drop" / "done"):
            made[f"{folder}/"] = _make_folder(folder)
        made[str(settings.plan)] = _copy_plan(sample_plan, settings.plan)
    except OSError as error:
        raise BadSetting(f"POLLRISE_DATA or POLLRISE_PLAN: {error.filename}: {error.strerror}") from None
    engine = make_engine(settings.database_url)
    made["the database"] = migrate(engine)
    with writing(engine) as connection:
        key, password = _first_desk(connection, settings)
    engine.dispose()
    made[f"the {FIRST_PERSON.role} account {FIRST_PERSON.name!r}"] = bool(key)
    first = Sender.at_desk(FIRST_PERSON.name)
    return SetUp(_which(made, bool), _which(made, lambda new: not new), first, key, password)


def _make_folder(folder: Path) -> bool:
    if folder.is_dir():
        return False
    folder.mkdir(parents=True, mode=0o750)
    return True


def _copy_plan(sample: Path, plan: Path) -> bool:
    if plan.exists():
        return False
    plan.parent.mkdir(parents=True, exist_ok=True)
    plan.write_bytes(sample.read_bytes())
    return True


def _first_desk(connection: Connection, settings: Settings) -> tuple[str, str]:
    """The first desk's key and first password, or nothing where there are people already."""
    if people.accounts(connection):
        return "", ""
    password = first_password()
    people.add(connection, FIRST_PERSON, REAL.now(), password=hashed(password), must_change=True)
    now = clock_from(settings).now()
    return keys.issue(connection, Sender.at_desk(FIRST_PERSON.name).name, now), password


def _which(made: Mapping[str, bool], wanted: Callable[[bool], bool]) -> tuple[str, ...]:
    return tuple(what for what, new in made.items() if wanted(new))
