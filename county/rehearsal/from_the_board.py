"""Begins a rehearsal as a program beside the board, follows it, and stops it; one at a time."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from county import desk, plans
from county.carrying_over import carry_over
from county.clock import Clock
from county.domain.moments import write_moment
from county.domain.plan_rehearsed import rehearsed
from county.domain.roster import Roster
from county.errors import NotFound
from county.rehearsal.beside import PROGRESS, SAID
from county.rehearsal.children import free_port
from county.rehearsal.regimes import REGIMES
from county.rehearsed import Result, folder_of, result_in
from county.settings import Settings, as_environ, settings_from
from county.wiring import Office

HOST = "127.0.0.1"
TIME_TO_STOP = 30.0
_REAL = Clock()


@dataclass(frozen=True, slots=True)
class Asked:
    """How it is to be rehearsed: how many places, how fast (0: without waiting), and what sort of day."""

    places: int
    speed: float
    regime: str
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a rehearsal has come. `at` is the made-up day's time (aware UTC), None before it began."""

    sent: int = 0
    total: int = 0
    at: datetime | None = None
    board: str = ""


@dataclass(frozen=True, slots=True)
class Running:
    """A rehearsal under way, in a folder of its own; its ledger is never the office's."""

    asked: Asked
    folder: Path
    process: subprocess.Popen[bytes] = field(repr=False)

    @property
    def going_on(self) -> bool:
        return self.process.poll() is None

    def progress(self) -> Progress:
        """How far it has come; nothing while it is being set up."""
        told = _read(self.folder / PROGRESS)
        if not told:
            return Progress()
        at = datetime.fromisoformat(str(told["at"]))
        return Progress(int(str(told["sent"])), int(str(told["total"])), at, str(told["board"]))

    def result(self) -> Result | None:
        """What came of it; None while it goes on, or where it ended without a word."""
        return None if self.going_on else result_in(self.folder)

    def said(self) -> str:
        """The last line it said, for where it failed."""
        try:
            lines = (self.folder / SAID).read_text(encoding="utf-8", errors="replace").strip().splitlines()
        except OSError:
            lines = []
        return lines[-1][:300] if lines else "it said nothing"

    def stop(self) -> None:
        """Tell it to stop, and wait until it and all its programs have."""
        if self.going_on:
            self.process.send_signal(signal.SIGTERM)
            try:
                self.process.wait(TIME_TO_STOP)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
        if self.process.stdin:
            self.process.stdin.close()


def begin(office: Office, asked: Asked) -> Running:
    """Set up a data folder with the office's plan, people and so many of its places, and rehearse there.

    Raises NotFound where the roster is empty.
    """
    if asked.regime not in REGIMES:
        raise NotFound(f"there is no day called {asked.regime}")
    roster = desk.roster(office)
    if not roster.places:
        raise NotFound("the roster has no places yet; load it first")
    settings = _settings(office, asked)
    some = first_places(roster, asked.places)
    text = rehearsed(plans.standing(office).text)
    carry_over(office.settings, settings, text, some, with_keys=False)
    return _started(settings, replace(asked, places=len(some.places)))


def first_places(roster: Roster, places: int) -> Roster:
    """The same county with its first so many places, and what belongs to them."""
    kept = {place.place for place in roster.places[:places]}
    devices = tuple(device for device in roster.devices if device.place in kept)
    named = {device.device for device in devices}
    return replace(
        roster,
        places=roster.places[:places],
        precincts=tuple(precinct for precinct in roster.precincts if precinct.place in kept),
        devices=devices,
        seals=tuple(seal for seal in roster.seals if seal.device in named),
    )


def _settings(office: Office, asked: Asked) -> Settings:
    folder = folder_of(office.settings) / f"{_folder_name(_REAL.now())}-{asked.regime}"
    return settings_from(
        {
            "POLLRISE_DATA": str(folder),
            "POLLRISE_HOST": HOST,
            "POLLRISE_PORT": str(free_port(HOST)),
            "POLLRISE_BOARD_PORT": str(free_port(HOST)),
        }
    )


def _started(settings: Settings, asked: Asked) -> Running:
    pace = ["--no-wait", "--desk", "--speed", "1"] if not asked.speed else ["--speed", f"{asked.speed:g}"]
    words = ["--places", str(asked.places), "--regime", asked.regime, "--seed", str(asked.seed), *pace]
    with (settings.data / SAID).open("ab") as out:
        process = subprocess.Popen(
            [sys.executable, "-m", "county.rehearsal.beside", *words],
            env=_environment(settings),
            stdin=subprocess.PIPE,
            stdout=out,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )
    return Running(asked, settings.data, process)


def _environment(settings: Settings) -> Mapping[str, str]:
    return {**os.environ, **as_environ(settings)}


def _folder_name(at: datetime) -> str:
    return write_moment(at)[:19].replace("-", "").replace(":", "").replace("T", "-")


def _read(file: Path) -> dict[str, object]:
    try:
        told = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return told if isinstance(told, dict) else {}
