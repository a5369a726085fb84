"""`python -m county rehearse`: a made-up day sent through the real endpoint and drop folder."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Protocol

import httpx

from county import upkeep
from county.clock import Clock, clock_from
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.rehearsal import starting
from county.rehearsal.children import Child, ChildDied, address, answers
from county.rehearsal.day import made_up_day
from county.rehearsal.desk_work import Desk
from county.rehearsal.device_logs import drop_logs
from county.rehearsal.luck import WHOLE_DAY
from county.rehearsal.playing import play
from county.rehearsal.progress import Progress
from county.rehearsal.sender import NotSent, Sender, Tally
from county.rehearsal.sent import Sent
from county.rehearsal.stopping import told_to_stop, undisturbed
from county.settings import Settings

AFTERWARDS = timedelta(minutes=10)
TIME_TO_TAKE_FILES = 60.0
Tell = Callable[[int, int, datetime], None]


class Asked(Protocol):
    """What the command line asks for."""

    places: int
    speed: float
    regime: str
    seed: int
    hours: int
    no_wait: bool
    desk: bool


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """A made-up day and everything to send it with."""

    settings: Settings
    day: tuple[Sent, ...]
    key: str
    run: str
    clock: Clock | None
    zone: str
    desk: Desk | None = None

    def send(self, watch: Callable[[], None], tell: Tell = lambda sent, total, at: None) -> Tally:
        """Send the whole day, worked by the desk where there is one; what became of it.

        Raises NotSent, and whatever `watch` raises, which is called often.
        """
        at = address(self.settings.host, self.settings.port)
        with httpx.Client(base_url=at, timeout=30.0, trust_env=False) as client:
            sender = Sender(client, self.key, self.settings.data / "drop" / "in", self.run, watch)
            sender.must_be_ours()
            work = self.desk.begin(client, self.key, self.run) if self.desk else None
            with Progress(len(self.day), self.zone) as progress:

                def look(sent: int, at: datetime) -> None:
                    watch()
                    progress(sent, at)
                    tell(sent, len(self.day), at)
                    if work:
                        work.look(at)

                play(self.day, sender, self.clock, look)
        return sender.tally


def run(settings: Settings, asked: Asked, tell: Tell = lambda sent, total, at: None) -> int:
    """Rehearse as asked: 0 when everything was sent, 1 when the endpoint failed us.

    `tell` is told often how many of all reports are sent, and the made-up day's time.

    Raises PollriseError for what cannot be rehearsed with.
    """
    starting.must_be_rehearsal(settings)
    office, roster = starting.open_with_county(settings, asked.places)
    if len(roster.places) != asked.places:
        print(f"the data folder holds a county of {len(roster.places):,} places; rehearsing with that", file=sys.stderr)
    day = made_up_day(roster, office.plan, asked.regime, asked.seed, asked.hours)
    key = upkeep.issue_key(office, starting.REHEARSER)
    try:
        with told_to_stop(), _endpoint(settings, asked, day, office.plan, roster) as (playing, watch):
            clock = None if asked.no_wait else clock_from(playing)
            name = f"{asked.regime}-{asked.seed}"
            desk = Desk(roster.rovers, office.plan.dispatch) if asked.desk else None
            tally = Rehearsal(playing, day, key, name, clock, office.plan.election.zone, desk).send(watch, tell)
            _let_files_be_taken(playing.data / "drop" / "in", watch)
            if asked.hours == WHOLE_DAY:
                logs = playing.data / "drop" / "logs" / "in"
                drop_logs(logs, roster, office.plan, asked.regime, asked.seed)
                _let_files_be_taken(logs, watch)
    except (NotSent, ChildDied) as error:
        print(f"python -m county rehearse: {error}", file=sys.stderr)
        return 1
    finally:
        upkeep.revoke_keys(office, starting.REHEARSER)
        office.engine.dispose()
    print(tally)
    return 0


@contextmanager
def _endpoint(
    settings: Settings, asked: Asked, day: tuple[Sent, ...], plan: Plan, roster: Roster
) -> Iterator[tuple[Settings, Callable[[], None]]]:
    """The endpoint that runs already, or one of our own: settings with the clock to go by, and a watch over it."""
    url = f"{address(settings.host, settings.port)}/health"
    runs_already = answers(url)
    playing = settings
    if asked.no_wait and not runs_already:
        playing = starting.with_clock(settings, max(each.at for each in day) + AFTERWARDS, 0)
    elif not settings.now:
        playing = starting.with_clock(settings, starting.begins_at(plan, roster), asked.speed)
    if runs_already:
        yield playing, lambda: None
        return
    with TemporaryDirectory(prefix="pollrise-rehearsal-") as folder:
        child = Child.start("ingest", playing, url, Path(folder) / "ingest.txt")
        try:
            child.wait_until_ready()
            yield playing, child.must_run
        finally:
            undisturbed()
            child.stop()


def _let_files_be_taken(folder: Path, watch: Callable[[], None]) -> None:
    """Wait until the endpoint has taken every dropped file, or say how many it has not."""
    until = time.monotonic() + TIME_TO_TAKE_FILES
    while left := len(list(folder.glob("rehearsal-*.*"))):
        watch()
        if time.monotonic() > until:
            print(f"{left} dropped files are still to be taken from {folder}", file=sys.stderr)
            return
        time.sleep(0.2)
