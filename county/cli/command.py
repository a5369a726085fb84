"""What every command is: its words, its arguments, and what it does; and what it may use."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import NoReturn

from county.settings import Settings
from county.wiring import Office, open_office


@dataclass(frozen=True)
class Given:
    """What a command is given: the settings, and (opened when asked for) the office."""

    settings: Settings

    @cached_property
    def office(self) -> Office:
        return open_office(self.settings)


Do = Callable[[Given, argparse.Namespace], int]


class Parser(argparse.ArgumentParser):
    """A parser that says what is wrong in one line, and never guesses at half an option."""

    def __init__(self, **more: object) -> None:
        super().__init__(**{"allow_abbrev": False, **more})  # type: ignore[arg-type]

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {' '.join(message.split())} (try --help)\n")


class Progress:
    """How far long work has come, on one line of a terminal; silent anywhere else."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._shown = sys.stderr.isatty()

    def __call__(self, done: int) -> None:
        if self._shown:
            print(f"\r{done:,} {self._what}", end="", file=sys.stderr, flush=True)

    def __enter__(self) -> "Progress":
        return self

    def __exit__(self, *raised: object) -> None:
        if self._shown:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun: `1 place`, `48 places`."""
    return f"{number:,} {one if number == 1 else many or f'{one}s'}"
