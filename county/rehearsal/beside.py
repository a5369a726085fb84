"""`python -m county.rehearsal.beside`: a rehearsal begun from the board, in a data folder and with programs of its own.

It ends when told to, and when whoever began it has gone: its standard input is held open by them.
"""

import argparse
import os
import signal
import sys
import threading
from collections.abc import Sequence
from contextlib import ExitStack
from datetime import datetime
from pathlib import Path

from county.clock import Clock
from county.domain.moments import write_moment
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.errors import PollriseError
from county.rehearsal import starting
from county.rehearsal.children import Child, address
from county.rehearsal.command import run
from county.rehearsal.figures import Ran, figures
from county.rehearsal.stopping import told_to_stop, undisturbed
from county.rehearsed import write_result, write_whole
from county.settings import Settings, settings_from
from county.wiring import open_office

PROGRESS, SAID = "progress.json", "said.txt"
_REAL = Clock()


def main(arguments: Sequence[str] | None = None) -> int:
    """Rehearse to the end, or until told to stop; what came of it is written down either way."""
    asked = _parser().parse_args(arguments)
    settings = settings_from(os.environ)
    ran = Ran(_REAL.now(), asked.regime, asked.seed)
    threading.Thread(target=_stop_when_left_alone, name="left alone", daemon=True).start()
    code, says = 1, ""
    try:
        with told_to_stop():
            code = _rehearse(settings, asked)
    except KeyboardInterrupt:
        says = "stopped before its end"
    except PollriseError as error:
        says = str(error)
    undisturbed()
    write_result(settings.data, figures(settings, ran, whole=code == 0, says=says))
    return code


def _rehearse(settings: Settings, asked: argparse.Namespace) -> int:
    office = open_office(settings)
    roster, plan = starting.open_with_county(settings, 0)[1], office.plan
    office.engine.dispose()
    playing = settings
    with ExitStack() as stack:
        board = ""
        if not asked.no_wait:
            playing = starting.with_clock(settings, starting.begins_at(plan, roster), asked.speed)
            board = _board(playing, plan, roster, stack)
        tell = _Progress(settings.data / PROGRESS, board)
        tell(0, 1, starting.begins_at(plan, roster))
        return run(playing, asked, tell)


def _board(playing: Settings, plan: Plan, roster: Roster, stack: ExitStack) -> str:
    """A board over the rehearsal's own ledger, which says on every page that it is one; its address."""
    at = address(playing.host, playing.board_port)
    child = Child.start("dashboard", playing, f"{at}/_stcore/health", playing.data / "dashboard.txt")
    stack.callback(child.stop)
    child.wait_until_ready()
    return at


class _Progress:
    """How far the day has come, written to a file for whoever looks."""

    def __init__(self, file: Path, board: str) -> None:
        self._file, self._board = file, board

    def __call__(self, sent: int, total: int, at: datetime) -> None:
        write_whole(self._file, {"sent": sent, "total": total, "at": write_moment(at), "board": self._board})


def _stop_when_left_alone() -> None:
    # not through sys.stdin, whose lock would be held when the program ends
    while os.read(0, 1):
        pass
    if sys.platform == "win32":
        import _thread

        _thread.interrupt_main()
    else:
        os.kill(os.getpid(), signal.SIGTERM)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m county.rehearsal.beside", description=__doc__)
    parser.add_argument("--places", type=int, required=True)
    parser.add_argument("--speed", type=float, required=True)
    parser.add_argument("--regime", required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--hours", type=int, default=3)
    parser.add_argument("--no-wait", action="store_true")
    parser.add_argument("--desk", action="store_true")
    return parser


if __name__ == "__main__":
    sys.exit(main())
