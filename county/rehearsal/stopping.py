"""Being told to stop, by Ctrl-C or by a signal: once, and then the end is not interrupted half-way."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

SIGNALS = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))


@contextmanager
def told_to_stop() -> Iterator[None]:
    """Inside, each of the signals raises KeyboardInterrupt; use `undisturbed` for the end."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.signal(number, _stop) for number in SIGNALS}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def undisturbed() -> None:
    """From now on the signals are ignored."""
    if threading.current_thread() is threading.main_thread():
        for number in SIGNALS:
            signal.signal(number, signal.SIG_IGN)


def _stop(signal_number: int, frame: FrameType | None) -> None:
    raise KeyboardInterrupt
