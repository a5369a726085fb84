"""Packs being made: one process each, so that the board answers meanwhile; a pack that is there is not made again."""

import os
import subprocess
import sys
import threading
from dataclasses import dataclass, field
from pathlib import Path

from county.settings import Settings, as_environ


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which pack: of the ledger up to an entry, with names or without, with notes or without."""

    seq: int
    names: bool = False
    notes: bool = True

    @property
    def file(self) -> str:
        """The name of its file."""
        which = "full" if self.names else "public" if self.notes else "public-without-notes"
        return f"review-pack-{self.seq}-{which}.zip"


@dataclass(slots=True)
class Making:
    """One pack in the making. `says` is what is being written; `failed` is why there is none, in words."""

    process: subprocess.Popen[str]
    says: str = ""
    failed: str = ""


@dataclass
class Packs:
    """The packs of one board, in a folder of the data folder. Any thread may ask."""

    settings: Settings
    making: dict[Wanted, Making] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def folder(self) -> Path:
        return self.settings.data / "packs"

    def made(self, wanted: Wanted) -> Path | None:
        """The pack's file, where it is made."""
        file = self.folder / wanted.file
        return file if file.is_file() else None

    def begin(self, wanted: Wanted) -> None:
        """Begin to make a pack, unless it is there or in the making; packs of earlier entries are thrown away."""
        with self.lock:
            under_way = self.making.get(wanted)
            if self.made(wanted) or (under_way and under_way.process.poll() is None):
                return
            self.folder.mkdir(mode=0o750, exist_ok=True)
            for old in self.folder.glob("review-pack-*.zip"):
                if not old.name.startswith(f"review-pack-{wanted.seq}-"):
                    old.unlink(missing_ok=True)
            process = subprocess.Popen(
                [
                    sys.executable,
                    "-m",
                    "county",
                    "export",
                    "--say-lines",
                    "--out",
                    str(self.folder / wanted.file),
                    *_how(wanted),
                ],
                env={**os.environ, **as_environ(self.settings)},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
                text=True,
            )
            made = self.making[wanted] = Making(process, "reading the ledger")
        threading.Thread(target=_listen, args=(made,), daemon=True).start()

    def stand(self, wanted: Wanted) -> Making | None:
        """How the making of a pack stands; None where nobody has begun it."""
        return self.making.get(wanted)

    def stop(self) -> None:
        """End whatever is being made."""
        with self.lock:
            for each in self.making.values():
                if each.process.poll() is None:
                    each.process.terminate()


def _how(wanted: Wanted) -> list[str]:
    return [*(["--with-names"] if wanted.names else []), *([] if wanted.notes else ["--without-notes"])]


def _listen(made: Making) -> None:
    last = ""
    with made.process.stderr as said:  # type: ignore[union-attr]
        for line in said:
            made.says = last = line.strip()
    if made.process.wait() not in (0, 1):
        made.failed = last or "the export ended without a word"
