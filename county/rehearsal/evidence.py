"""What officers write down with a step, and the oddities that a made-up day puts into it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random
from types import MappingProxyType

from county.domain.expected import Expected
from county.domain.plan import Plan
from county.rehearsal.opening import Done

Fields = dict[str, object]


@dataclass(frozen=True, slots=True)
class Oddity:
    """One thing found that should not be: at which step, at what share of the places, and what it does to a report.

    `needs` is the field that the report must have for it; `always` is for what should be met every day.
    """

    plays: str
    step: str
    rate: float
    needs: str
    makes: Callable[[Fields, Random], Fields]
    always: bool = False


def _other_number(fields: Fields, rng: Random) -> Fields:
    """The same seal number with its last digit another one."""
    number = str(fields["seal_number"])
    last = rng.choice([digit for digit in "0123456789" if digit != number[-1:]])
    return {"seal_number": number[:-1] + last, "note": "Looked twice, both of us: not the number on our sheet."}


def _left_over(fields: Fields, rng: Random) -> Fields:
    return {"public_counter": rng.randint(1, 40), "note": "Starts with a count on it. We have not touched it since."}


def _narrow(fields: Fields, rng: Random) -> Fields:
    return {"route_inches": rng.randint(28, 35), "note": "Stacked chairs stand in the corridor."}


def _tested_again(fields: Fields, rng: Random) -> Fields:
    """A protective counter that rose after it was written down at final testing."""
    return {"protective_counter": int(str(fields["protective_counter"])) + rng.randint(1, 30)}


def _another_day(fields: Fields, rng: Random) -> Fields:
    """The date of some earlier election."""
    shown = date.fromisoformat(str(fields["shown_date"])) - timedelta(weeks=rng.choice((10, 25, 52)))
    return {"shown_date": shown.isoformat()}


ODDITIES: tuple[Oddity, ...] = (
    Oddity("seal mismatch", "seals-checked", 0.025, "seal_number", _other_number, always=True),
    Oddity("seal broken", "seals-checked", 0.006, "seal_number", lambda fields, rng: {"seal_intact": False}),
    Oddity("nonzero start", "zero-report", 0.015, "public_counter", _left_over, always=True),
    Oddity("protective counter off", "zero-report", 0.008, "protective_counter", _tested_again),
    Oddity("zero report short", "zero-report", 0.02, "copies", lambda fields, rng: {"copies": 1}),
    Oddity("narrow route", "site-ready", 0.02, "route_inches", _narrow, always=True),
    Oddity("wrong date shown", "setup-confirmed", 0.003, "shown_date", _another_day),
)


def evidence(done: Done, expected: Expected, plan: Plan, rng: Random) -> Fields:
    """The fields of an ordinary report of this step."""
    where: Fields = {"device": done.device} if done.device else {}
    found = _FOUND.get(done.step)
    return {"kind": "step", "step": done.step, **where, **(found(done, expected, plan, rng) if found else {})}


def _seal(done: Done, expected: Expected, plan: Plan, rng: Random) -> Fields:
    if not done.position:
        return {}
    number = expected.seals[done.device][done.position]
    return {"seal_position": done.position, "seal_number": number, "seal_intact": True}


def _setup(done: Done, expected: Expected, plan: Plan, rng: Random) -> Fields:
    shown: Fields = {"shown_date": plan.election.date.isoformat()}
    # a vote centre shows every precinct of the county; nobody types that list
    if expected.place.serves != "all" and expected.precincts:
        shown["shown_precincts"] = sorted(expected.precincts)
    return shown


def _zero_report(done: Done, expected: Expected, plan: Plan, rng: Random) -> Fields:
    signers = plan.limits.signers + rng.randint(0, 2)
    found: Fields = {"public_counter": 0, "copies": plan.limits.copies, "signers": signers}
    if done.device in expected.protective:
        found["protective_counter"] = expected.protective[done.device]
    return found


_FOUND: Mapping[str, Callable[[Done, Expected, Plan, Random], Fields]] = MappingProxyType(
    {
        "staffed": lambda done, expected, plan, rng: {"officers_present": plan.limits.officers + rng.randint(1, 4)},
        "site-ready": lambda done, expected, plan, rng: {
            "route_inches": plan.limits.route_inches + rng.choice((0, 2, 6, 12, 24)),
            "door_inches": plan.limits.door_inches + rng.choice((0, 1, 2, 4)),
        },
        "seals-checked": _seal,
        "pollbooks-ready": lambda done, expected, plan, rng: {"check_ins": 0},
        "setup-confirmed": _setup,
        "zero-report": _zero_report,
        "open": lambda done, expected, plan, rng: {"in_line": rng.choice((0, 2, 3, 5, 8, 12, 20))},
    }
)
