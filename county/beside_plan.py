"""The plan file and the files beside it that a restored office needs: gathered for a backup, put back from one."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.plan_secrets import exposed
from county.errors import BadCopy, BadPlan
from county.setting_up import SAMPLE_PLAN
from county.settings import Settings

PLAN = "plan.toml"
_MAPS = "columns.toml"
_EARLIER = "earlier_steps.csv"
_EARLIER_FOLDER = "earlier_election"


@dataclass(frozen=True, slots=True)
class Gathered:
    """Files by the name they have in a backup, and in words what was left out of them, with why."""

    files: Mapping[str, bytes]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PutBack:
    """What became of the files: which were written, and in words which were kept because they differ."""

    written: tuple[str, ...]
    kept: tuple[str, ...]


def gather(settings: Settings, plan: Plan) -> Gathered:
    """The plan file, confirmed columns, the county's own ways and the earlier election, as far as they are there.

    A plan file whose addresses may hold a password is left out. Raises BadCopy where a file cannot be read.
    """
    beside = settings.plan.parent
    text, left_out = _plan_file(settings.plan)
    of_file = () if text is None or left_out else (parse_plan(text.decode("utf-8-sig"), PLAN),)
    wanted: dict[str, tuple[Path, ...]] = {PLAN: () if left_out else (settings.plan,), _MAPS: (beside / _MAPS,)}
    wanted[_EARLIER] = tuple(folder / _EARLIER for folder in (settings.data, beside, beside / _EARLIER_FOLDER))
    for each in (plan, *of_file):
        if each.dispatch.matrix_file and Path(each.dispatch.matrix_file).name == each.dispatch.matrix_file:
            wanted[each.dispatch.matrix_file] = (beside / each.dispatch.matrix_file,)
    found = {name: next((file for file in files if file.is_file()), None) for name, files in wanted.items()}
    return Gathered({name: _read(file) for name, file in found.items() if file}, left_out)


def put_back(settings: Settings, files: Mapping[str, bytes]) -> PutBack:
    """Write the files of a backup where they belong; one that stands and differs is kept, and the backup's laid beside.

    Only the sample plan that `init` wrote makes way. Raises BadCopy where a file cannot be written.
    """
    written, kept = [], []
    for name, content in files.items():
        target = settings.plan if name == PLAN else settings.plan.parent / _plain(name)
        try:
            if _stands(target, content, name):
                beside = _free(target, content)
                beside.write_bytes(content)
                kept.append(f"{target.name}, which differs from the backup's; that is now {beside.name}")
            else:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(content)
                written.append(target.name)
        except OSError as error:
            raise BadCopy(f"{target} cannot be written: {error.strerror or error}; all else was restored") from None
    return PutBack(tuple(written), tuple(kept))


def plan_among(files: Mapping[str, bytes]) -> Plan | None:
    """The plan of a backup's files; None where there is none. Raises BadPlan."""
    if PLAN not in files:
        return None
    return parse_plan(files[PLAN].decode("utf-8-sig"), f"{PLAN} of the backup")


def _plan_file(file: Path) -> tuple[bytes | None, tuple[str, ...]]:
    """The plan file's text, and why it must not be taken along."""
    if not file.is_file():
        return None, ()
    text = _read(file)
    try:
        plan = parse_plan(text.decode("utf-8-sig"), PLAN)
    except (BadPlan, UnicodeDecodeError):
        return text, (f"{file.name} (it is no plan, so nobody can say whether a password is in it)",)
    return text, (f"{file.name} (an address in it may hold a password)",) if exposed(plan) else ()


def _read(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise BadCopy(f"{file} cannot be read: {error.strerror or error}") from None


def _plain(name: str) -> str:
    """A name that leads nowhere but beside the plan."""
    if name in ("", ".", "..") or any(stroke in name for stroke in "/\\\0:"):
        raise BadCopy(f"a file of the backup is called {name[:60]!r}, which no backup of this program holds")
    return name


def _stands(target: Path, content: bytes, name: str) -> bool:
    """Whether another file stands there that a person may have written."""
    if not target.exists():
        return False
    standing = target.read_bytes()
    return standing != content and not (name == PLAN and standing == SAMPLE_PLAN.read_bytes())


def _free(target: Path, content: bytes) -> Path:
    """A name beside the target that no other file has."""
    number = 1
    while True:
        more = "" if number == 1 else f"-{number}"
        beside = target.with_name(f"{target.stem}.from-backup{more}{target.suffix}")
        if not beside.exists() or beside.read_bytes() == content:
            return beside
        number += 1
