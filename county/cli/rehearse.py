"""`rehearse`: a made-up day sent through the real endpoint and drop folder."""

import argparse
from typing import Any

from county.cli.command import Given

_REGIMES = ("normal", "rough", "common-cause")


def add_to(commands: Any) -> None:
    rehearse = commands.add_parser(
        "rehearse",
        help="send a made-up day through the real endpoint and drop folder",
        description="Send a made-up election day through the endpoint and the drop folder. The same seed is the "
        "same day. Normal: about 1 place in 100 opens late; rough: 1 in 10; common-cause: a third, on one route.",
    )
    rehearse.add_argument("--places", type=_from(1, 10_000), default=48, metavar="N", help="places (default 48)")
    rehearse.add_argument("--speed", type=_from(1, 3_600), default=60, metavar="N", help="times real speed (60)")
    rehearse.add_argument("--regime", choices=_REGIMES, default="normal", help="how the day goes (default normal)")
    rehearse.add_argument("--seed", type=_from(0, 2**31 - 1), default=1, metavar="N", help="which day (default 1)")
    rehearse.add_argument(
        "--hours", type=_from(1, 24), default=3, metavar="N", help="hours of voting (default 3; 24: all, to the return)"
    )
    rehearse.add_argument("--no-wait", action="store_true", help="send everything at once, each with its own time")
    rehearse.add_argument("--desk", action="store_true", help="a made-up desk and rovers work the cases as well")
    rehearse.set_defaults(do=_rehearse)


def _rehearse(given: Given, asked: argparse.Namespace) -> int:
    from county.rehearsal.command import run

    return run(given.settings, asked)


def _from(least: int, most: int) -> Any:
    def whole_number(text: str) -> int:
        if not (text.isascii() and text.isdigit() and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"must be a whole number from {least} to {most}, not {text[:40]!r}")
        return int(text)

    return whole_number
