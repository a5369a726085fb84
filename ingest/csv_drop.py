"""The drop folder: a file that has stopped growing is taken in; it then lies in done/, its refused rows beside it."""

import csv
import logging
import os
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import Protocol

from county.errors import PollriseError
from ingest.drop_file import ADDED, LARGEST_FILE, Taken

STILL_FOR = 1.0
STILL_FOR_WITHOUT_END = 3.0
WATCHED_FOR = 600.0
TRIED_AGAIN_AFTER = 10.0

Mark = tuple[int, int]
TABLES = (".csv",)


class Dropped(Protocol):
    """What a file of one name is handed to: the whole of it, or why it is not read at all."""

    def take(self, data: bytes) -> Taken: ...

    def refuse(self, says: str) -> Taken: ...


Open = Callable[[str], Dropped]

log = logging.getLogger(__name__)


@dataclass(slots=True)
class _Seen:
    """A file as it lay at the last look (its size and time of change), and since when it lies so."""

    mark: Mark
    since: float


@dataclass(frozen=True, slots=True)
class _Read:
    """What was read of a file that lies in done/ now, to know it again where its writer had only paused."""

    size: int
    digest: bytes
    at: float


class DropFolder:
    """`in/` is looked at with poll(); nothing in it is ever deleted, only moved. `timer` is in seconds.

    Only files whose name ends in one of `endings` are taken.
    """

    def __init__(
        self,
        folder: Path,
        open_file: Open,
        timer: Callable[[], float] = time.monotonic,
        endings: tuple[str, ...] = TABLES,
    ) -> None:
        self.inbox, self.done = folder / "in", folder / "done"
        self._open = open_file
        self._endings = endings
        self._timer = timer
        self._seen: dict[str, _Seen] = {}
        self._taken: dict[Path, _Read] = {}
        self._make_folders()

    def _make_folders(self) -> None:
        self.inbox.mkdir(parents=True, exist_ok=True)
        self.done.mkdir(parents=True, exist_ok=True)

    def poll(self) -> int:
        """Take every file that has lain still for two looks; how many were taken. One bad file never stops another."""
        self._make_folders()
        self._watch_taken()
        now = self._timer()
        lying = dict(self._lying())
        self._seen = {name: self._seen.get(name, _Seen(mark, now)) for name, mark in lying.items()}
        taken = 0
        for name, mark in sorted(lying.items()):
            seen = self._seen[name]
            if seen.mark != mark:
                self._seen[name] = _Seen(mark, now)
            elif now - seen.since >= STILL_FOR:
                taken += self._try(name, mark)
        return taken

    def _lying(self) -> Iterator[tuple[str, Mark]]:
        with os.scandir(self.inbox) as entries:
            for entry in entries:
                named = entry.name.lower()
                hidden = named.startswith((".", "~"))
                if named.endswith(self._endings) and not hidden and entry.is_file(follow_symlinks=False):
                    yield entry.name, _mark(entry.stat(follow_symlinks=False))

    def _try(self, name: str, mark: Mark) -> bool:
        try:
            return self._take(name, mark)
        except (OSError, PollriseError) as error:
            log.warning("drop folder: %r is left for a later look: %s", name, error)
            self._seen[name] = _Seen(mark, self._timer() + TRIED_AGAIN_AFTER)
            return False

    def _take(self, name: str, mark: Mark) -> bool:
        path = self.inbox / name
        file = self._open(name.encode("utf-8", "backslashreplace").decode())
        if mark[0] > LARGEST_FILE:
            data = b""
            taken = file.refuse(f"larger than {LARGEST_FILE // 1024 // 1024} MB; drop it in parts")
        else:
            data = path.read_bytes()
            if not _ended(data) and self._timer() - self._seen[name].since < STILL_FOR_WITHOUT_END:
                return False
            taken = file.take(data)
        if _mark(path.stat()) != mark:
            return False  # it grew meanwhile; what it held so far is kept, and reading it again changes nothing
        target = self._free(name)
        if taken.bad:
            write_refused(target.with_suffix(".refused.csv"), taken)
        path.rename(target)
        del self._seen[name]
        if data:
            self._taken[target] = _Read(len(data), sha256(data).digest(), self._timer())
        log.info("%r: %d kept, %d already held, %d refused", name, taken.kept, taken.held, len(taken.bad))
        return True

    def _free(self, name: str) -> Path:
        """A place in done/ that neither a file nor its refused rows hold yet."""
        wanted = Path(name)
        for number in count(1):
            path = self.done / (name if number == 1 else f"{wanted.stem}-{number}{wanted.suffix}")
            if not path.exists() and not path.with_suffix(".refused.csv").exists():
                return path
        raise AssertionError("numbers do not end")

    def _watch_taken(self) -> None:
        """A file whose writer only paused grows in done/: back with it, for what was kept of it stays kept once."""
        now = self._timer()
        for path, read in list(self._taken.items()):
            if now - read.at > WATCHED_FOR or not path.exists():
                del self._taken[path]
            elif path.stat().st_size > read.size and not (self.inbox / path.name).exists():
                if _begins_as(path, read):
                    path.rename(self.inbox / path.name)
                del self._taken[path]


def write_refused(path: Path, taken: Taken) -> None:
    """The refused rows as they stood, each with its number in the file and why; complete once it has its name."""
    unfinished = path.with_name(f".{path.name}.part")
    with unfinished.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow([*ADDED, *taken.columns])
        rows.writerows([bad.row or "", bad.says, *bad.cells] for bad in taken.bad)
    unfinished.replace(path)


def _ended(data: bytes) -> bool:
    """Whether the last line has its end; half a line could be half a number."""
    return not data or bool({*b"\r\n"} & {*data[-2:]})


def _begins_as(path: Path, read: _Read) -> bool:
    """Whether the file only grew; one that a person changed is left alone."""
    with path.open("rb") as file:
        return sha256(file.read(read.size)).digest() == read.digest


def _mark(stat: os.stat_result) -> Mark:
    return stat.st_size, stat.st_mtime_ns
