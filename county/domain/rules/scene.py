"""What a rule may look at, and the short way to say what it found."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from types import MappingProxyType
from zoneinfo import ZoneInfo

from county.domain.ballots_left import Supplies
from county.domain.cases import Case
from county.domain.counted import Counted, counted
from county.domain.entries import Entry
from county.domain.expected import Expected
from county.domain.findings import Finding
from county.domain.lines import Wait, waits
from county.domain.opening_forecast import OpeningForecast
from county.domain.place_day import PlaceDay
from county.domain.plan import Plan


@dataclass(frozen=True)
class Scene:
    """One place's day, what was expected of it, the county's plan; for the clock also its cases and its forecast."""

    day: PlaceDay
    expected: Expected
    plan: Plan
    cases: tuple[Case, ...] = ()
    forecast: OpeningForecast | None = None

    def steps(self, key: str) -> Sequence[Entry]:
        """The reports of a step, in the order they happened."""
        return self._steps_of.get(key, ())

    def steps_that_say(self, field: str) -> Sequence[Entry]:
        """The reports of steps that say something under this name, in the order they happened."""
        return self._steps_that_say.get(field, ())

    @cached_property
    def _steps_of(self) -> Mapping[str, Sequence[Entry]]:
        of: dict[str, list[Entry]] = {}
        for entry in self.day.steps:
            of.setdefault(entry.text("step"), []).append(entry)
        return of

    @cached_property
    def _steps_that_say(self) -> Mapping[str, Sequence[Entry]]:
        say: dict[str, list[Entry]] = {}
        for entry in self.day.steps:
            for name in entry.fields:
                say.setdefault(name, []).append(entry)
        return say

    @cached_property
    def counted(self) -> Counted:
        """What the day's counts said in numbers."""
        return counted(self.day)

    @cached_property
    def waits(self) -> tuple[Wait, ...]:
        """What each count of the line says, in the order counted."""
        return waits(self.counted, self.expected, self.plan.limits)

    @cached_property
    def supplies(self) -> Supplies:
        """What each count says of the ballots left, in the order counted."""
        return Supplies(self.counted, self.expected, self.plan.limits, self.waits)

    def clock(self, moment: datetime) -> str:
        """The place's wall time; with the date where it is not the election's."""
        zone = ZoneInfo(self.expected.place.time_zone or self.plan.election.zone)
        local = moment.astimezone(zone)
        return f"{local:%H:%M}" if local.date() == self.plan.election.date else f"{local:%Y-%m-%d %H:%M}"

    def finding(self, exception: str, entry: Entry, says: str, **more: object) -> Finding:
        """A finding from one report: its time, its sender, its device, the kind's usual effect."""
        made: dict[str, object] = {
            "exception": exception,
            "effect": self.plan.kind(exception).effect,
            "since": entry.happened_at,
            "learned_at": entry.received_at,
            "cause": entry.key,
            "by": entry.by,
            "device": entry.device,
            "says": says,
            **more,
        }
        return Finding(**made)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table: a stable id, the kind of exception it raises, how it is found, and its source."""

    id: str
    exception: str
    finds: Callable[[Scene], Iterator[Finding]]
    source: str


@dataclass(frozen=True, slots=True)
class Due:
    """What the clock found: since when it is true, and in words. `cause` makes it one fact, raised once.

    `fields` are figures to be kept beside the words.
    """

    since: datetime
    cause: str
    says: str
    device: str = ""
    fields: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class ClockRule:
    """A rule that time alone makes true; `ended` says when the facts end it, or None while they do not."""

    id: str
    exception: str
    finds: Callable[[Scene, datetime], Iterator[Due]]
    ended: Callable[[Scene, Entry], datetime | None]
    ended_says: str
    source: str
