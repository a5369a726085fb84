"""`device-log`: devices' own logs taken in and held against what was reported."""

import argparse
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from county import device_logs
from county.cli.command import Given, counted
from county.device_logs import TakenIn
from county.domain.log_claims import LogClaim, Verdict
from county.domain.logs_beside import DeviceBeside
from county.errors import NotFound, PollriseError
from county.following import Following


def add_to(commands: Any) -> None:
    log = commands.add_parser(
        "device-log",
        help="devices' own logs beside what was reported",
        description="Devices' own logs (NIST SP 1500-101, XML or JSON), read after the election beside what was "
        "reported. Nothing of a log changes the day's standing.",
    )
    actions = log.add_subparsers(metavar="ACTION", required=True)
    for name, says, do in (
        ("check", "say what these files hold, without keeping them", _check),
        ("load", "keep these files, byte by byte, and compare them", _load),
    ):
        action = actions.add_parser(
            name, help=says, description=f"{says[0].upper()}{says[1:]}. Logs and the documentation beside them."
        )
        action.add_argument("files", nargs="+", type=Path, metavar="FILE", help="log or documentation files")
        action.set_defaults(do=do)
    show = actions.add_parser(
        "show",
        help="every claim beside the logs taken in",
        description="Every claim beside the logs taken in: agrees, differs by so much, or the log does not say.",
    )
    show.add_argument("--place", default="", metavar="P014", help="only this place's devices")
    show.set_defaults(do=_show)


def _check(given: Given, asked: argparse.Namespace) -> int:
    for file in asked.files:
        print(f"{_holds(device_logs.look_at(file.name, _bytes(file)))}; nothing is kept")
    return 0


def _load(given: Given, asked: argparse.Namespace) -> int:
    for file in asked.files:
        taken = device_logs.take_in(given.office, file.name, _bytes(file), "the office", "device-log")
        print(f"{_holds(taken)}; {'kept' if taken.new else 'held already'}, SHA-256 {taken.digest}")
    return 0


def _show(given: Given, asked: argparse.Namespace) -> int:
    follower = Following(given.office)
    follower.catch_up()
    picture = follower.picture
    if asked.place and asked.place not in picture.places:
        raise NotFound(f"the roster has no place {asked.place}")
    every = device_logs.beside(given.office, picture)
    found = [each for each in every if asked.place in ("", each.place)]
    zone = ZoneInfo(given.office.plan.election.zone)
    for each in found:
        _print(each, zone)
    claims = [claim for each in found for claim in each.claims]
    tally = ", ".join(f"{sum(claim.verdict is verdict for claim in claims)} {_SAID[verdict]}" for verdict in Verdict)
    print(f"{counted(len(found), 'device')} with a log, {counted(len(claims), 'claim')}: {tally}")
    return 0


def _print(each: DeviceBeside, zone: ZoneInfo) -> None:
    print(f"{each.place or 'no place'}\t{each.device or each.named}\t{each.file}")
    for claim in each.claims:
        print(f"\t{claim.what}: {said(claim, zone)}")
    for fault in each.faults:
        print(f"\t{fault.says}")


_SAID = {
    Verdict.AGREES: "agree",
    Verdict.DIFFERS: "differ",
    Verdict.LOG_SILENT: "of which the log does not say",
    Verdict.NOT_REPORTED: "in the log and not reported",
}


def said(claim: LogClaim, zone: ZoneInfo) -> str:
    """One claim in words: `reported 06:00:00, log 06:01:10: agrees`."""
    reported = f"reported {_clock(claim.reported_at, zone)}" if claim.reported_at else "not reported"
    log = f"log {_clock(claim.log_at, zone)}" if claim.log_at else Verdict.LOG_SILENT.value
    verdict = {Verdict.AGREES: ": agrees", Verdict.DIFFERS: f": differs by {_length(claim.ahead)}"}.get(
        claim.verdict, ""
    )
    clock = "; clock not changed?" if claim.clock_not_changed else ""
    return f"{reported}, {log}{verdict}{clock}{f' ({claim.says})' if claim.says else ''}"


def _clock(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%H:%M:%S}"


def _length(ahead: timedelta | None) -> str:
    seconds = round(abs(ahead or timedelta()).total_seconds())
    later = "later" if (ahead or timedelta()) > timedelta() else "earlier"
    return f"{seconds // 60} min {seconds % 60:02d} s, the log {later}"


def _holds(taken: TakenIn) -> str:
    named = ", ".join(taken.devices[:6]) + (" and more" if len(taken.devices) > 6 else "")
    held = f"a log of {counted(len(taken.devices), 'device')} ({named})" if taken.devices else "documentation"
    return f"{taken.name}: {held}"


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise PollriseError(f"{file} cannot be read: {error.strerror or error}") from None
