"""`python -m county.rehearsal.demo`: endpoint, clock and board on loopback, and a made-up morning going through them.

Everything lies in a folder of its own that is gone at the end. Ctrl-C or a TERM signal stops every program.
"""

import argparse
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path

from county import staffing, upkeep
from county.clock import clock_from
from county.domain.people import Person, Role
from county.domain.senders import Sender
from county.errors import PollriseError
from county.rehearsal import starting
from county.rehearsal.children import Child, address, free_port
from county.rehearsal.command import Rehearsal
from county.rehearsal.day import made_up_day
from county.rehearsal.desk_work import Desk
from county.rehearsal.luck import WHOLE_DAY
from county.rehearsal.regimes import REGIMES
from county.rehearsal.stopping import told_to_stop, undisturbed
from county.settings import Settings, settings_from

HOST = "127.0.0.1"
# invented; their passwords are random, last as long as the demo, and need not be changed first
LEAD, VIEWER = Person("Noor Ellery", Role.LEAD), Person("Jo Marsh", Role.VIEWER)
HALF = 0.5
WELCOME = """
  Board      {board}
             sign in as  {lead}     {lead_password}    (lead: sees and does everything)
             or as       {viewer}     {viewer_password}    (viewer: sees, and does nothing)
  Endpoint   {endpoint}    (its description: {endpoint}/docs)
             the desk's key      {desk_key}
             {place}'s own key    {place_key}
  Sheet      {endpoint}/at/{place}?k={place_key}    ({place}'s officers, on a phone)
  Rover      {endpoint}/rover/{rover}?k={rover_key}    (what is assigned to {rover}, on a phone)

  {county}, {regime} day, seed {seed}, {speed:g} times real speed. Made up: no report is real. Ctrl-C stops everything.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the demo until it is told to stop: 0 then, 1 where one of its programs ended by itself."""
    asked = _parser().parse_args(arguments)
    try:
        with told_to_stop(), ExitStack() as stack:
            try:
                _demo(asked, stack)
            finally:
                undisturbed()
    except KeyboardInterrupt:
        print("stopped: no program left running, nothing left on disk", flush=True)
        return 0
    except PollriseError as error:
        print(f"demo: {error}", file=sys.stderr)
        return 1
    return 0


def _demo(asked: argparse.Namespace, stack: ExitStack) -> None:
    settings = _settings(stack.enter_context(_throw_away_folder()), any_ports=asked.any_ports)
    print("setting up a county and starting endpoint, clock and board ...", flush=True)
    office, roster = starting.open_with_county(settings, asked.places)
    stack.callback(office.engine.dispose)
    place, rover = roster.places[0].place, roster.rovers[0].rover
    desk_key, place_key, rover_key, key = upkeep.issue_keys(
        office, [Sender.at_desk("demo"), Sender.at_place(place), Sender.on_the_road(rover), starting.REHEARSER]
    )
    lead_password, viewer_password = (staffing.add_person(office, each, must_change=False) for each in (LEAD, VIEWER))
    day = made_up_day(roster, office.plan, asked.regime, asked.seed, hours=asked.hours)
    playing = starting.with_clock(settings, starting.begins_at(office.plan, roster), asked.speed)
    endpoint, board = address(HOST, settings.port), address(HOST, settings.board_port)
    children = [
        stack.enter_context(_running("ingest", playing, f"{endpoint}/health")),
        stack.enter_context(_running("dashboard", playing, f"{board}/_stcore/health")),
    ]
    for child in children:
        child.wait_until_ready()
    print(
        WELCOME.format(
            board=board, lead=LEAD.name, lead_password=lead_password,
            viewer=VIEWER.name, viewer_password=viewer_password,
            endpoint=endpoint, desk_key=desk_key, place=place, place_key=place_key, rover=rover, rover_key=rover_key,
            county=office.plan.election.county, regime=asked.regime, seed=asked.seed, speed=asked.speed,
        ),
        flush=True,
    )  # fmt: skip

    def all_must_run() -> None:
        for child in children:
            child.must_run()

    name = f"{asked.regime}-{asked.seed}"
    desk = Desk(roster.rovers, office.plan.dispatch, share=HALF)
    zone = office.plan.election.zone
    tally = Rehearsal(playing, day, key, name, clock_from(playing), zone, desk).send(all_must_run)
    print(f"{tally}. Everything stays up; Ctrl-C stops it.", flush=True)
    while True:
        all_must_run()
        time.sleep(0.5)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m county.rehearsal.demo", description=__doc__)
    parser.add_argument("--places", type=int, default=starting.SAMPLE_PLACES, metavar="N")
    parser.add_argument("--speed", type=float, default=60.0, metavar="N", help="times real speed (default 60)")
    parser.add_argument("--regime", choices=tuple(REGIMES), default="rough")
    parser.add_argument("--seed", type=int, default=1, metavar="N")
    parser.add_argument(
        "--hours", type=int, default=WHOLE_DAY, metavar="N", help="hours of voting to play (default all)"
    )
    parser.add_argument("--any-ports", action="store_true", help="on any free ports, not the usual ones")
    return parser


def _settings(folder: Path, *, any_ports: bool) -> Settings:
    """Everything in the throw-away folder, on the usual ports where they are free and not told otherwise."""
    usual = settings_from({})
    port = free_port(HOST, 0 if any_ports else usual.port)
    board_port = free_port(HOST, 0 if any_ports else usual.board_port)
    return settings_from(
        {"POLLRISE_DATA": str(folder / "data"), "POLLRISE_PORT": str(port), "POLLRISE_BOARD_PORT": str(board_port)}
    )


@contextmanager
def _throw_away_folder() -> Iterator[Path]:
    folder = Path(tempfile.mkdtemp(prefix="pollrise-demo-"))
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def _running(module: str, settings: Settings, ready_at: str) -> Iterator[Child]:
    child = Child.start(module, settings, ready_at, settings.data / f"{module}.txt")
    try:
        yield child
    finally:
        child.stop()


if __name__ == "__main__":
    sys.exit(main())
