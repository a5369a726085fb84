"""Loading a county's own files: looked at without doing it, or done in one transaction; the same answer either way."""

import os
import tempfile
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from county import desk, upkeep
from county.domain.fitting import misfits
from county.domain.roster import Roster
from county.errors import BadRoster, BadSetting, Problem
from county.roster_files.column_maps import BadMaps, ColumnMap, read_maps, with_map, write_maps
from county.roster_files.columns import Guess
from county.roster_files.files import RosterFile
from county.roster_files.known import Known
from county.roster_files.reading import Reading, read_files
from county.upkeep import Loading
from county.wiring import Office

MAPS = "columns.toml"
Told = Mapping[str, Mapping[str, str]]


class Unconfirmed(BadRoster):
    """Columns were guessed and a person has not said yet that the guess is right; carries what is doubtful."""


@dataclass(frozen=True, slots=True)
class Looked:
    """What files say and what loading them changes. `loading` is None where something stands in its way.

    `problems` are worst first; see county.roster_files.reading.Reading for `notes` and `guesses`.
    """

    given: Roster
    loading: Loading | None
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...]
    guesses: tuple[Guess, ...]

    @property
    def wrong(self) -> tuple[Problem, ...]:
        """What must be put right first."""
        return tuple(problem for problem in self.problems if not problem.warning)

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What is worth a look and stands in nobody's way."""
        return tuple(problem for problem in self.problems if problem.warning)

    @property
    def doubts(self) -> tuple[Problem, ...]:
        """What a person must confirm before guessed columns are used."""
        return tuple(Problem(each.file, doubt) for each in self.guesses if not each.confirmed for doubt in each.doubts)


def check(office: Office, files: Sequence[RosterFile], told: Told | None = None) -> Looked:
    """What loading these files would do, without doing it. `told` is file name to field to header, "" for every file.

    Raises BadMaps where columns.toml cannot be read.
    """
    return _looked(office, _read(office, files, told or {}, desk.roster(office)))


def load(
    office: Office,
    files: Sequence[RosterFile],
    told: Told | None = None,
    *,
    confirmed: bool = False,
    by: str = "the office",
) -> Looked:
    """Load these files in one transaction, and remember the columns of the county's own lists for next time.

    Raises BadRoster where something is wrong or the roster has changed meanwhile, Unconfirmed where columns were
    guessed with doubts and `confirmed` is not said; then nothing is loaded and nothing remembered.
    """
    standing = desk.roster(office)
    looked = _looked(office, _read(office, files, told or {}, standing))
    if looked.wrong:
        raise BadRoster(looked.wrong)
    if looked.doubts and not confirmed:
        raise Unconfirmed(looked.doubts)
    loading = upkeep.load_roster(office, looked.given, by, standing=standing)
    _remember(office, looked.guesses)
    return Looked(looked.given, loading, looked.problems, looked.notes, looked.guesses)


def maps_file(office: Office) -> Path:
    """Where confirmed column maps are kept: beside the plan."""
    return office.settings.plan.with_name(MAPS)


def _read(office: Office, files: Sequence[RosterFile], told: Told, standing: Roster) -> Reading:
    return read_files(files, Known(office.plan.election, standing, _maps(office), told))


def _looked(office: Office, reading: Reading) -> Looked:
    problems, loading = list(reading.problems), None
    if all(problem.warning for problem in problems):
        try:
            loading = upkeep.check_roster(office, reading.roster)
        except BadRoster as error:
            problems += error.problems
        else:
            problems += misfits(loading.after, office.plan)
    worst_first = sorted(problems, key=lambda problem: problem.warning)
    if any(not problem.warning for problem in worst_first):
        loading = None
    return Looked(reading.roster, loading, tuple(worst_first), reading.notes, reading.guesses)


def _maps(office: Office) -> tuple[ColumnMap, ...]:
    file = maps_file(office)
    try:
        return read_maps(file.read_text(encoding="utf-8-sig"), str(file))
    except FileNotFoundError:
        return ()
    except (OSError, UnicodeDecodeError) as error:
        raise BadMaps(f"{file}: cannot be read: {error}") from None


def _remember(office: Office, guesses: Sequence[Guess]) -> None:
    before = maps = _maps(office)
    for each in guesses:
        if not any(one.fits(each.headers) and one.columns == each.columns for one in maps):
            maps = with_map(maps, ColumnMap(each.sheet or Path(each.file).stem, each.headers, each.columns))
    if maps == before:
        return
    file = maps_file(office)
    try:
        handle, part = tempfile.mkstemp(dir=file.parent, prefix=f".{MAPS}.")
        with os.fdopen(handle, "w", encoding="utf-8") as opened:
            opened.write(write_maps(maps))
        Path(part).replace(file)
    except OSError as error:
        raise BadSetting(f"the roster is loaded, but {file} cannot be written: {error.strerror or error}") from None
    finally:
        with suppress(OSError, UnboundLocalError):
            Path(part).unlink()
