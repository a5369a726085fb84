"""The county's plan: steps and due times, limits, targets, ladder, words, instructions."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType

from county.domain.dispatch_settings import DispatchSettings
from county.domain.effects import Effect
from county.domain.exception_kinds import EXCEPTION_KINDS, ExceptionKind
from county.domain.forecast_limits import ForecastLimits
from county.domain.items import Item
from county.domain.log_milestones import LogMaps
from county.domain.pattern_limits import PatternLimits

UNLESS = ("acknowledged", "on-site", "cleared")
"""The milestones of a case that can end a rung of the ladder."""

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "place": "polling place",
        "precinct": "precinct",
        "officer": "officer",
        "rover": "rover",
        "office": "central office",
        "sheet": "officers' sheet",
        "scanner": "scanner",
        "bmd": "ballot-marking device",
        "pollbook": "pollbook",
        "auxiliary": "auxiliary compartment",
        "text_open": "open",
        "text_closed": "closed",
        "text_zero": "zero",
        "text_count": "count",
        "text_line": "line",
        "text_help": "help",
        "text_note": "note",
        "text_seen": "seen",
    }
)
"""What things are called where the county's plan says nothing else; the keys are all that [words] may hold.

Those that begin with `text_` are the words a text line begins with.
"""

GENERAL_INSTRUCTION = (
    "Follow the county's sheet. Hold the device and leave it as it is. "
    "Two people look at it together. Call the central office."
)
"""Shown where the county has written nothing for a kind of trouble: no remedy is built in, because the law differs."""


class Anchor(StrEnum):
    """What a step's due time is counted from: the place's own opening or its own closing."""

    OPENING = "open"
    CLOSING = "close"


@dataclass(frozen=True, slots=True)
class Election:
    """Which election, where, when, and its usual hours in the county's zone (IANA name)."""

    name: str
    county: str
    date: date
    zone: str
    opens: time
    closes: time
    rehearsal: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the officers' sheet; `types` are the device types it is done on when it is done per device."""

    key: str
    says: str
    anchor: Anchor
    due: timedelta
    grace: timedelta
    per_device: bool = False
    types: tuple[str, ...] = ()

    @property
    def before_opening(self) -> bool:
        """Whether the step must be done before the polls open."""
        return self.anchor is Anchor.OPENING and self.key != "open" and self.due <= timedelta(0)


@dataclass(frozen=True, slots=True)
class Limits:
    """The county's limits; every one is a setting of the plan. Sources stand in the sample plan beside each.

    `last_turnout` is the whole percent who voted at the last such election; 0 where the county has not said. Where
    `on_the_way` is 0 there is no limit to how long material may be on the way.
    """

    silent_after: timedelta = timedelta(minutes=75)
    silent_after_before_opening: timedelta = timedelta(minutes=30)
    copies: int = 3
    signers: int = 2
    officers: int = 2
    route_inches: int = 36
    door_inches: int = 32
    wait_minutes: int = 30
    count_old_after: timedelta = timedelta(minutes=75)
    ballots_margin: timedelta = timedelta(0)
    ballots_ahead: timedelta = timedelta(hours=3)
    drift: int = 5
    battery_minutes: int = 30
    ballots_per_hour: int = 400
    jams: int = 3
    late_grace: timedelta = timedelta(0)
    early_tolerance: timedelta = timedelta(minutes=1)
    message_unseen_after: timedelta = timedelta(minutes=10)
    not_closed_after: timedelta = timedelta(minutes=60)
    not_received_after: timedelta = timedelta(hours=4)
    on_the_way: timedelta = timedelta(0)
    extension_minutes: int = 15
    extension_inclusive: bool = False
    keep_months: int = 22
    last_turnout: int = 0


@dataclass(frozen=True, slots=True)
class Target:
    """Minutes the county gives itself, from raised; None where it has set none."""

    acknowledge: int | None = None
    on_site: int | None = None
    clear: int | None = None


@dataclass(frozen=True, slots=True)
class Rung:
    """One rung of the ladder: for an effect, after this long, unless that milestone was reached, tell these roles."""

    effect: Effect
    after: timedelta
    unless: str
    tell: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Contact:
    """Somebody whom the ladder can tell: the roles they have, where a notice reaches them, and their shift.

    `notice` is `console`, an address such as `mailto://…`, or `setting:NAME` for one that is kept out of the plan. The
    shift is wall time on election day in the county's zone; without one they are on shift all the time.
    """

    name: str
    roles: tuple[str, ...]
    notice: str = "console"
    starts: time | None = None
    ends: time | None = None


@dataclass(frozen=True, slots=True)
class Reach:
    """How a place reaches the central office: by telephone, and the number that takes text lines; empty where none."""

    phone: str = ""
    text_line: str = ""


@dataclass(frozen=True)
class Plan:
    """Everything the county decides for itself."""

    election: Election
    steps: tuple[Step, ...]
    limits: Limits = Limits()
    reach: Reach = Reach()
    targets: Mapping[Effect, Target] = field(default_factory=lambda: MappingProxyType({}))
    ladder: tuple[Rung, ...] = ()
    people: tuple[Contact, ...] = ()
    words: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    instructions: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    exception_kinds: Mapping[str, ExceptionKind] = field(default_factory=lambda: MappingProxyType(EXCEPTION_KINDS))
    logs: LogMaps = field(default_factory=LogMaps)
    dispatch: DispatchSettings = field(default_factory=DispatchSettings)
    patterns: PatternLimits = field(default_factory=PatternLimits)
    forecast: ForecastLimits = field(default_factory=ForecastLimits)
    items: tuple[Item, ...] = ()

    def step(self, key: str) -> Step | None:
        """The step with this key, or None."""
        return self._step_by_key.get(key)

    @cached_property
    def _step_by_key(self) -> Mapping[str, Step]:
        # of two with one key the first is meant
        return {step.key: step for step in reversed(self.steps)}

    def kind(self, key: str) -> ExceptionKind:
        """The kind of exception with this key. One the plan no longer names still counts, and needs a person."""
        return self.exception_kinds.get(key) or ExceptionKind(key, key, EXCEPTION_KINDS["other"].effect, True)

    def word(self, key: str) -> str:
        """What this county calls a thing (see WORDS); the key itself where nobody has said."""
        return self.words.get(key) or WORDS.get(key, key)

    def instruction(self, kind: str) -> str:
        """The county's own text for a kind of trouble, or the general one, which names no remedy."""
        return self.instructions.get(kind) or GENERAL_INSTRUCTION
