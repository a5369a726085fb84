"""A telephone call as the call-taker writes it down, and the report it becomes."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from types import MappingProxyType
from zoneinfo import ZoneInfo

from county.domain.effects import Effect
from county.domain.entries import Kind
from county.domain.exception_kinds import ExceptionKind
from county.domain.moments import parse_clock, write_moment
from county.domain.place_day import PlaceDay
from county.domain.plan import Plan
from county.errors import Problem, Refused

ROLES = (
    "officer in charge",
    "polling-place officer",
    "rover",
    "building staff",
    "police or fire service",
    "observer",
    "voter",
    "somebody else",
)
"""Who calls, by role: the caller's name is not asked."""

ASKED_FIRST = (
    "scanner-jam",
    "scanner-fault",
    "pollbook-outage",
    "no-power",
    "long-line",
    "expected-late",
    "officers-short",
    "ballots-short",
    "accessible-device-down",
    "accessibility-barrier",
)
"""What is called in most, before the others as the plan has them."""
_NOTICED = frozenset(
    {
        *("late-opening", "step-overdue", "silent", "message-unseen"),
        *("clock-ahead", "clock-not-changed", "same-trouble"),
    }
)

_AGO = re.compile(r"(\d{1,3})\s*(?:m|min|mins|minutes?)?(?:\s+ago)?", re.ASCII)
_DIGITS = re.compile(r"(\d{1,2})(\d{2})", re.ASCII)
_LONGEST_AGO = 600


class Voting(StrEnum):
    """Can people vote?"""

    YES = "yes"
    SLOWER = "slower"
    NO = "no"


_EFFECTS: Mapping[Voting, Effect] = MappingProxyType(
    {Voting.YES: Effect.AT_RISK, Voting.SLOWER: Effect.IMPAIRED, Voting.NO: Effect.STOPPED}
)


@dataclass(frozen=True, slots=True)
class PhoneCall:
    """What was asked and answered; empty, or None, where it was not yet."""

    place: str = ""
    voting: Voting | None = None
    danger: bool | None = None
    exception: str = ""
    since: str = ""
    role: str = ""
    device: str = ""
    note: str = ""


def kinds_to_ask(plan: Plan) -> tuple[ExceptionKind, ...]:
    """The kinds of trouble that are called in: usual ones, dangers, the rest, `other`; not what time tells."""
    kinds = plan.exception_kinds
    dangers = (name for name, kind in kinds.items() if kind.effect is Effect.DANGER)
    names = [name for name in dict.fromkeys((*ASKED_FIRST, *dangers, *kinds)) if name in kinds and name != "other"]
    return (*(kinds[name] for name in names if name not in _NOTICED), kinds["other"])


def report_of(
    call: PhoneCall, key: str, day: PlaceDay | None, plan: Plan, now: datetime, zone: ZoneInfo
) -> dict[str, object]:
    """The call as a raw report for intake. Refused with every question that is still open, field by field.

    Voting stopped or slower at an open place is an interruption; anything else, and any danger, an exception. `day` is
    the place's, None where no place is chosen. `now` is aware UTC; `zone` is the one in which the caller says the time.
    """
    problems = [Problem(name, says) for name, says in _OPEN.items() if getattr(call, name) in ("", None)]
    since = None
    try:
        since = since_when(call.since, zone, now)
    except ValueError as error:
        problems.append(Problem("since", str(error)))
    if problems or day is None or call.voting is None:
        raise Refused(problems)
    effect = effect_of_call(call, plan)
    runs = day.opened_at is not None and day.closed_at is None
    interrupts = runs and effect in (Effect.STOPPED, Effect.IMPAIRED)
    # nobody can vote: that is the place's trouble, whatever device it began with
    device = "" if effect is Effect.STOPPED else call.device
    return {
        "key": key,
        "place": call.place,
        "kind": Kind.INTERRUPTION.value if interrupts else Kind.EXCEPTION.value,
        "exception": call.exception,
        "effect": effect.value,
        "since": write_moment(since) if since else None,
        "device": device,
        "note": _note(call, call.device if call.device != device else ""),
    }


def effect_of_call(call: PhoneCall, plan: Plan) -> Effect:
    """Danger where somebody is in danger or the trouble is one; otherwise whether people can vote."""
    if call.danger or plan.kind(call.exception).effect is Effect.DANGER:
        return Effect.DANGER
    return _EFFECTS[call.voting or Voting.YES]


def since_when(said: str, zone: ZoneInfo, now: datetime) -> datetime | None:
    """When it began: None for now, `10 min` ago, or a time of day in this zone (`6:10`, `0610`, `6:10 am`).

    ValueError where it is neither, or lies ahead.
    """
    text = said.strip().lower()
    if text in ("", "now", "just now"):
        return None
    ago = _AGO.fullmatch(text)
    if ago and (len(ago[1]) < 3 or not text.isdecimal()):
        if int(ago[1]) > _LONGEST_AGO:
            raise ValueError("is too long ago: give the time of day")
        return now - timedelta(minutes=int(ago[1]))
    digits = _DIGITS.fullmatch(text)
    try:
        wall = parse_clock(f"{digits[1]}:{digits[2]}" if digits else text)
    except ValueError:
        raise ValueError("must be a time of day (6:10) or how long ago (10 min); empty for now") from None
    began = datetime.combine(now.astimezone(zone).date(), wall, zone)
    if began > now:
        raise ValueError(f"{wall:%H:%M} is still to come")
    return began


def _note(call: PhoneCall, device: str) -> str:
    """The caller's role, in the trade's words, before what they said."""
    return "; ".join(part for part in (f"Call from {_with_article(call.role)}", device, call.note.strip()) if part)


def _with_article(role: str) -> str:
    if role.startswith(("somebody", "building", "police")):
        return role
    return f"{'an' if role[0] in 'aeiou' else 'a'} {role}"


_OPEN: Mapping[str, str] = MappingProxyType(
    {
        "place": "Which place? Choose one.",
        "voting": "Can people vote?",
        "danger": "Is anyone in danger?",
        "exception": "What is it?",
        "role": "Who is calling? Their role, not their name.",
    }
)
