"""What the office does beside the day's reports: set up, roster, keys, verify, backup and restore."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from county.domain.entries import Entry, Kind
from county.domain.roster import Roster
from county.domain.roster_changes import Change, Did, changes, combined, dangling
from county.domain.senders import Sender
from county.errors import BadRoster, NotFound, Problem
from county.store import chain, copies, keys, ledger, roster_versions
from county.store import roster as stored_roster
from county.store.copies import Progress
from county.store.engine import reading, writing
from county.wiring import Office


@dataclass(frozen=True, slots=True)
class Loading:
    """What loading a roster changes, what it comes to, and the places that stay because they were heard from."""

    after: Roster
    changes: tuple[Change, ...]
    stay: tuple[str, ...]


def check_roster(office: Office, given: Roster) -> Loading:
    """What loading this roster would change, without doing it. Raises BadRoster where something would be left hanging.

    A table without rows counts as not given, and the one that stands stays.
    """
    with reading(office.engine) as connection:
        return _loading(stored_roster.load(connection), given, ledger.places_heard(connection))


def load_roster(office: Office, given: Roster, by: str = "the office", *, standing: Roster | None = None) -> Loading:
    """Load a roster and write so in the ledger, in one transaction; nothing is written where nothing changes.

    Where it was made with a `standing` roster in view and that has changed meanwhile, BadRoster is raised.
    """
    with writing(office.engine) as connection:
        stands = stored_roster.load(connection)
        if standing is not None and stands != standing:
            raise BadRoster([Problem("", "somebody else has just changed the roster; look again at what would change")])
        loading = _loading(stands, given, ledger.places_heard(connection))
        if loading.changes:
            stored_roster.replace(connection, loading.after)
            digest = roster_versions.keep(connection, loading.after)
            ledger.append(connection, [_loaded(office, loading, digest, by)])
    return loading


def roster_as_at(office: Office, at: datetime) -> Roster:
    """The whole roster as the last load received by a moment left it; empty before the first.

    Raises NotFound where it was loaded by a program that did not keep it yet, or is no longer what the ledger says.
    """
    with reading(office.engine) as connection:
        loaded = ledger.last_of_kind(connection, Kind.ROSTER, at)
        if loaded is None:
            return Roster()
        found = roster_versions.find(connection, loaded.text("roster_digest"))
    if found is None:
        raise NotFound(f"the roster of entry {loaded.seq} was not kept")
    return found


def issue_key(office: Office, who: Sender) -> str:
    """A new reporting key, never shown again; earlier ones stay valid. NotFound for an unknown place or rover."""
    return issue_keys(office, [who])[0]


def issue_keys(office: Office, who: Sequence[Sender]) -> list[str]:
    """A new reporting key for each, in order, all in one transaction."""
    now = office.clock.now()
    with writing(office.engine) as connection:
        known = stored_roster.load(connection)
        for sender in who:
            if sender.place is not None and sender.place not in known.place_by_id:
                raise NotFound(f"the roster has no place {sender.place}")
            if sender.rover is not None and sender.rover not in known.rover_by_id:
                raise NotFound(f"the roster has no rover {sender.rover}")
        return [keys.issue(connection, sender.name, now) for sender in who]


def revoke_keys(office: Office, who: Sender | None) -> int:
    """End every live key of a sender, or of everybody; how many that were."""
    with writing(office.engine) as connection:
        return keys.revoke(connection, who.name if who else None, office.clock.now())


def live_keys(office: Office) -> dict[str, int]:
    """How many live keys each sender has."""
    with reading(office.engine) as connection:
        return dict(keys.live(connection))


def verify(office: Office, progress: Progress | None = None) -> tuple[int | None, int, str]:
    """Walk the ledger's chain: the first bad entry's number or None, the last entry's number, and its digest."""
    with reading(office.engine) as connection:
        return chain.verify(connection, progress), *ledger.head(connection)


def backup(
    office: Office, file: Path, progress: Progress | None = None, files: Mapping[str, bytes] = copies.NO_FILES
) -> tuple[int, int | None]:
    """A consistent copy in a new file while the office works: its entries, and the first bad one's number or None.

    `files` go along by their names (`beside_plan.gather`).
    """
    return copies.back_up(office.engine, file, progress, files)


def files_in(file: Path) -> dict[str, bytes]:
    """The files that went along with a backup, by name. Raises BadCopy."""
    return copies.files_in(file)


def restore(office: Office, file: Path, progress: Progress | None = None) -> int:
    """Bring a backup into an empty data store; how many entries it has. Raises BadCopy."""
    return copies.restore(office.engine, file, progress)


def _loading(standing: Roster, given: Roster, heard: frozenset[str]) -> Loading:
    after = combined(standing, given, heard)
    problems = dangling(after)
    if problems:
        raise BadRoster(problems)
    given_places = {place.place for place in given.places}
    stay = sorted(place for place in heard & standing.place_by_id.keys() if given_places and place not in given_places)
    return Loading(after, changes(standing, after), tuple(stay))


def _loaded(office: Office, loading: Loading, digest: str, by: str) -> Entry:
    now = office.clock.now()
    counted = {did.value: sum(change.did is did for change in loading.changes) for did in Did}
    return Entry(
        key=f"roster.{uuid4().hex}",
        kind=Kind.ROSTER,
        place="",
        happened_at=now,
        received_at=now,
        by=by,
        door="roster",
        sender="roster",
        fields={**counted, "roster_digest": digest},
        clock=office.clock.word,
    )
