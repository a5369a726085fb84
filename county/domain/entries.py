"""What the ledger can hold, and KINDS, the table of what each kind of report may say."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType


class Kind(StrEnum):
    """The kinds of entry: the first seven are reports from places, the others are the office's own."""

    STEP = "step"
    COUNT = "count"
    EXCEPTION = "exception"
    INTERRUPTION = "interruption"
    NOTE = "note"
    MESSAGE_SEEN = "message-seen"
    CORRECTION = "correction"
    ACTION = "action"
    RAISED = "raised"
    ROSTER = "roster"
    NOTICE = "notice"
    MESSAGE = "message"
    SET_ASIDE_OUTCOME = "set-aside-outcome"
    PLAN = "plan"
    PERSON = "person"
    HAND_OVER = "hand-over"
    DEVICE_LOG = "device-log"


class Stamp(StrEnum):
    """How `happened_at` was come by."""

    TOLD = "told"
    RECEIVED = "received"
    CLOCK_AHEAD = "clock-ahead"
    CLOCK_BEHIND = "clock-behind"


@dataclass(frozen=True, slots=True)
class Entry:
    """One fact in the ledger: what happened, when it happened, when the office learned it, and from whom.

    `happened_at` and `received_at` are aware UTC. `told_at` is the sender's own time as written where it could not
    be used (no offset, or from the future). `place` is empty for what concerns the whole county. `fields` holds what
    the kind allows (see FIELDS); treat it as read-only. `seq` is 0 until the ledger has given it one.
    """

    key: str
    kind: Kind
    place: str
    happened_at: datetime
    received_at: datetime
    by: str
    door: str
    sender: str
    fields: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))
    stamp: Stamp = Stamp.TOLD
    told_at: str = ""
    clock: str = "real"
    seq: int = 0

    @property
    def device(self) -> str:
        """The device spoken of, or empty."""
        return str(self.fields.get("device", ""))

    def number(self, name: str) -> int | None:
        """A whole number said, or None where it was not."""
        value = self.fields.get(name)
        # true and false are whole numbers to Python; this leaves them out, and is asked hundreds of times a place
        return value if type(value) is int else None

    def text(self, name: str) -> str:
        """A text said, or empty where it was not."""
        value = self.fields.get(name)
        return value if isinstance(value, str) else ""


REPORT_KINDS = (
    *(Kind.STEP, Kind.COUNT, Kind.EXCEPTION, Kind.INTERRUPTION, Kind.NOTE, Kind.MESSAGE_SEEN),
    Kind.CORRECTION,
)


class Shape(StrEnum):
    """What a field's value looks like."""

    WORD = "word"
    TEXT = "text"
    NUMBER = "number"
    YES_NO = "yes or no"
    MOMENT = "moment"
    WORDS = "words"


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a report: its shape and the kinds of report that may carry it (a correction may carry any)."""

    shape: Shape
    kinds: tuple[Kind, ...]


_STEP, _COUNTED, _TROUBLE = (Kind.STEP,), (Kind.COUNT, Kind.STEP), (Kind.EXCEPTION, Kind.INTERRUPTION)
_PLACED = (Kind.STEP, Kind.COUNT, Kind.EXCEPTION, Kind.INTERRUPTION, Kind.NOTE)

FIELDS: Mapping[str, Field] = MappingProxyType(
    {
        "step": Field(Shape.WORD, _STEP),
        "device": Field(Shape.WORD, _PLACED),
        "seal_position": Field(Shape.WORD, _STEP),
        "seal_number": Field(Shape.WORD, _STEP),
        "seal_intact": Field(Shape.YES_NO, _STEP),
        "public_counter": Field(Shape.NUMBER, _COUNTED),
        "protective_counter": Field(Shape.NUMBER, _COUNTED),
        "copies": Field(Shape.NUMBER, _STEP),
        "signers": Field(Shape.NUMBER, _STEP),
        "officers_present": Field(Shape.NUMBER, _STEP),
        "route_inches": Field(Shape.NUMBER, _STEP),
        "door_inches": Field(Shape.NUMBER, _STEP),
        "shown_date": Field(Shape.WORD, _STEP),
        "shown_precincts": Field(Shape.WORDS, _STEP),
        "item": Field(Shape.WORD, _STEP),
        "items": Field(Shape.WORDS, _STEP),
        "items_missing": Field(Shape.WORDS, _STEP),
        "roles": Field(Shape.WORDS, _STEP),
        "check_ins": Field(Shape.NUMBER, _COUNTED),
        "in_line": Field(Shape.NUMBER, _COUNTED),
        "ballots_left": Field(Shape.NUMBER, _COUNTED),
        "spoiled": Field(Shape.NUMBER, _COUNTED),
        "provisional": Field(Shape.NUMBER, _COUNTED),
        "challenged": Field(Shape.NUMBER, _COUNTED),
        "auxiliary": Field(Shape.NUMBER, _COUNTED),
        "ballots_delivered": Field(Shape.NUMBER, _COUNTED),
        "exception": Field(Shape.WORD, _TROUBLE),
        "effect": Field(Shape.WORD, _TROUBLE),
        "since": Field(Shape.MOMENT, _TROUBLE),
        "voters_left": Field(Shape.NUMBER, _TROUBLE),
        "fallback": Field(Shape.TEXT, _TROUBLE),
        "ends": Field(Shape.YES_NO, (Kind.INTERRUPTION,)),
        "message": Field(Shape.WORD, (Kind.MESSAGE_SEEN,)),
        "role": Field(Shape.WORD, (Kind.MESSAGE_SEEN,)),
        "corrects": Field(Shape.WORD, (Kind.CORRECTION,)),
        "reason": Field(Shape.TEXT, (Kind.CORRECTION,)),
        "withdraw": Field(Shape.YES_NO, (Kind.CORRECTION,)),
        "note": Field(Shape.TEXT, REPORT_KINDS),
    }
)
