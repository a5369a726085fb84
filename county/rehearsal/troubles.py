"""The calls of a made-up day: what goes wrong at how many of the places, and how it is told."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from random import Random

from county.domain.effects import Effect
from county.domain.expected import Expected
from county.rehearsal.sent import lognormal, minutes
from county.rehearsal.sheet import Sheet


class When(StrEnum):
    """In which part of the morning it can happen."""

    BEFORE = "before the opening"
    AFTER = "after the opening"
    ANY = "at any time"


@dataclass(frozen=True, slots=True)
class Trouble:
    """One kind of call: the exception it reports (empty: a note), at what share of the places in a morning, its words.

    `on` is the device type it concerns. `lasts` is the median length in minutes where it is told as an interruption.
    `always` is for what should be met every day in a county of some size.
    """

    exception: str
    rate: float
    effect: Effect
    says: tuple[str, ...]
    when: When = When.ANY
    on: str = ""
    lasts: float = 0.0
    fallback: str = ""
    always: bool = False

    @property
    def name(self) -> str:
        """What the trouble is called: its exception, or `note`."""
        return self.exception or "note"


TROUBLES: tuple[Trouble, ...] = (
    Trouble(
        "",
        0.36,
        Effect.RECORD,
        (
            "Asks where spare pens are.",
            "Second sign put out at the side door.",
            "Asks how to list a voter who moved within the county.",
            "Parking lot half full of snow-fence; cars stand on the street.",
            "Room is cold, heating on now.",
            "Somebody left a phone; it is in the supply box.",
            "Asks whether a dog may come in. Told yes.",
        ),
    ),
    Trouble(
        "scanner-jam",
        0.12,
        Effect.IMPAIRED,
        ("Ballot stuck at the mouth, taken out, goes again.", "Two jams in a row, both with folded ballots."),
        When.AFTER,
        "scanner",
        always=True,
    ),
    Trouble(
        "scanner-fault",
        0.03,
        Effect.IMPAIRED,
        ("Screen stays grey after a touch.", "Takes no ballot, says the lid is open; it is not."),
        When.AFTER,
        "scanner",
        14,
        "Ballots go into the auxiliary compartment",
    ),
    Trouble(
        "auxiliary-in-use",
        0.03,
        Effect.IMPAIRED,
        ("Ballots in the auxiliary compartment for now, two of us watch it.",),
        When.AFTER,
        "scanner",
    ),
    Trouble(
        "pollbook-outage",
        0.05,
        Effect.IMPAIRED,
        ("Pollbooks do not find each other.", "Both pollbooks went dark one after the other."),
        When.ANY,
        "",
        18,
        "Paper list",
    ),
    Trouble(
        "officers-short",
        0.06,
        Effect.AT_RISK,
        ("One short; starts without, asks for a stand-in.", "One officer fell ill on the way."),
        When.BEFORE,
    ),
    Trouble(
        "no-power",
        0.015,
        Effect.STOPPED,
        ("Whole street is dark.", "Breaker fell with the coffee machine; looking for the box."),
        When.AFTER,
        "",
        22,
        "Voters may wait or come back; polls stay open",
        always=True,
    ),
    Trouble(
        "on-battery",
        0.02,
        Effect.IMPAIRED,
        ("Scanner runs on its battery; the wall socket is dead.",),
        When.ANY,
        "scanner",
        25,
        "Voting goes on",
        always=True,
    ),
    Trouble(
        "long-line",
        0.04,
        Effect.IMPAIRED,
        (
            "Line out of the door and round the corner, about 45 minutes.",
            "Line to the street, the last wait 50 minutes.",
        ),
        When.AFTER,
        always=True,
    ),
    Trouble(
        "accessible-device-down",
        0.03,
        Effect.IMPAIRED,
        ("Will not leave its first screen.", "Headphones give no sound."),
        When.ANY,
        "bmd",
    ),
    Trouble(
        "accessibility-barrier",
        0.02,
        Effect.IMPAIRED,
        ("A van stands across the ramp.", "Door opener does not work; somebody holds the door."),
    ),
    Trouble("paper-list-missing", 0.01, Effect.AT_RISK, ("No paper list in the box.",), When.BEFORE),
    Trouble("wrong-ballots", 0.005, Effect.STOPPED, ("One pad is of the next precinct; put aside.",), When.BEFORE),
    Trouble(
        "ballots-short", 0.01, Effect.AT_RISK, ("More people than last time; may not last till evening.",), When.AFTER
    ),
    Trouble("medical", 0.004, Effect.DANGER, ("Somebody fainted in line. 911 called, they are here.",), When.AFTER),
    Trouble(
        "other",
        0.05,
        Effect.IMPAIRED,
        ("Loud building work next door, voters cannot hear us.", "Toilet runs over; floor wet near the booths."),
    ),
)


def call(sheet: Sheet, expected: Expected, trouble: Trouble, at: datetime, until: datetime, rng: Random) -> None:
    """Write down one call, and its end where it has one that comes before `until`."""
    devices = [device for device, type_ in expected.device_types.items() if type_ == trouble.on]
    about: dict[str, object] = {"device": rng.choice(devices)} if devices else {}
    note = rng.choice(trouble.says)
    if not trouble.exception:
        sheet.tell(at, {"kind": "note", "note": note}, "note")
        return
    about |= {"exception": trouble.exception}
    told = {**about, "effect": trouble.effect.value, "note": note}
    if not trouble.lasts:
        sheet.tell(at, {"kind": "exception", **told}, trouble.exception)
        return
    told |= {"kind": "interruption", "since": sheet.wall(at), "fallback": trouble.fallback}
    sheet.tell(at + minutes(rng.choice((0, 1, 2, 4))), told, trouble.exception)
    ends = at + minutes(max(4.0, lognormal(rng, trouble.lasts, 0.5)))
    if ends < until:
        over = {"kind": "interruption", **about, "ends": True, **_left(trouble, rng)}
        sheet.tell(ends, over, f"{trouble.exception} over")


def _left(trouble: Trouble, rng: Random) -> dict[str, object]:
    """How many voters left meanwhile: a count, and only where voting was stopped."""
    return {"voters_left": rng.randint(0, 12)} if trouble.effect is Effect.STOPPED else {}
