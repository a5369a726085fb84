"""The rehearsal that this board's process has under way: one at a time, whoever looks."""

import threading

from county.errors import Problem, Refused
from county.rehearsal.from_the_board import Asked, Running, begin
from county.wiring import Office

_lock = threading.Lock()
_running: Running | None = None


def under_way() -> Running | None:
    """The rehearsal begun last by this process, also after it has ended; None where there was none."""
    return _running


def start(office: Office, asked: Asked) -> Running:
    """Begin one. Raises Refused where one goes on, or NotFound where there is nothing to rehearse with."""
    global _running
    with _lock:
        if _running and _running.going_on:
            raise Refused([Problem("", "a rehearsal is going on already; stop it first")])
        _running = begin(office, asked)
        return _running


def stop() -> None:
    """Stop the one that goes on, with all its programs."""
    with _lock:
        if _running:
            _running.stop()
