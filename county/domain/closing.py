"""How each place closes: how long over its hours, who waits in line, whether it balances, what is still out."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import IntEnum

from county.domain.ballot_accounts import Account, last_account
from county.domain.cases import Case
from county.domain.custody import Custody, custody
from county.domain.entries import Entry
from county.domain.expected import ExpectedStep
from county.domain.moments import whole_minutes
from county.domain.picture import PlaceNow
from county.domain.plan import Anchor, Plan

OF_CUSTODY = ("item-missing", "custody-gap")
_AFTER_THE_LINE = ("last-voter", "results-printed", "balanced", "departed", "received")


class ClosingStage(IntEnum):
    """Where a place stands on closing night, the worst first; every place is in exactly one."""

    IN_DOUBT = 0
    NOT_CLOSED = 1
    PAST_CUT_OFF = 2
    LINE = 3
    OUT_OF_BALANCE = 4
    OVERDUE = 5
    ON_THE_WAY = 6
    CLOSING = 7
    BACK = 8
    STILL_OPEN = 9

    @property
    def needs_a_look(self) -> bool:
        return self <= ClosingStage.OVERDUE


@dataclass(frozen=True, slots=True)
class InLine:
    """How many people stood in line when it was told last, and when (aware UTC)."""

    people: int
    at: datetime


@dataclass(frozen=True, slots=True)
class PlaceClosing:
    """One place's closing at a moment. What nobody told is None; times aware UTC, minutes whole.

    `minutes_over` is how long its closing time has passed while it is not reported closed. `line` is as told last, and
    `line_over` says that a later step shows the last voter to be out. `overdue` are closing steps past due and grace.
    """

    now: PlaceNow
    stage: ClosingStage
    minutes_over: int
    line: InLine | None
    line_over: bool
    account: Account | None
    custody: Custody
    overdue: tuple[ExpectedStep, ...]
    cut_off: datetime

    @property
    def closed(self) -> bool:
        """Closed, or so far on that it must be."""
        day = self.now.day
        return day.closed_at is not None or self.custody.left_at is not None or self.back

    @property
    def back(self) -> bool:
        return self.now.day.received_at is not None

    @property
    def difference(self) -> int | None:
        """Ballots scanned less the count of paper; None while it is not known."""
        return self.account.difference if self.account else None

    @property
    def still_in_line(self) -> int | None:
        """People told to be in line after closing; None where none are known to be."""
        waits = self.closed and not self.line_over and self.line is not None and self.line.people > 0
        return self.line.people if waits and self.line else None


def closing_of(now: PlaceNow, plan: Plan, at: datetime) -> PlaceClosing:
    """This place's closing as of `at` (aware UTC)."""
    day, expected = now.day, now.expected
    found = custody(day.steps, expected, plan.items)
    account = last_account(day.steps, expected)
    late = tuple(
        step
        for step in expected.steps
        if step.step.anchor is Anchor.CLOSING and step.overdue_at <= at and step.key not in day.done
    )
    closed = day.closed_at is not None or found.left_at is not None or day.received_at is not None
    place = PlaceClosing(
        now=now,
        stage=ClosingStage.CLOSING,
        minutes_over=0 if closed else whole_minutes(max(timedelta(0), at - expected.closes_at)),
        line=_line((*day.steps, *day.counts)),
        line_over=any(step in _AFTER_THE_LINE for step, _ in day.device_done),
        account=account,
        custody=found,
        overdue=late,
        cut_off=expected.closes_at + plan.limits.not_received_after,
    )
    return _at_stage(place, at)


def _line(told: Iterable[Entry]) -> InLine | None:
    counted = [(e.happened_at, e.key, n) for e in told if (n := e.number("in_line")) is not None]
    if not counted:
        return None
    at, _, people = max(counted)
    return InLine(people, at)


def _at_stage(place: PlaceClosing, at: datetime) -> PlaceClosing:
    return replace(place, stage=next(stage for stage, is_at in _STAGES if is_at(place, at)))


def in_doubt(place: PlaceClosing) -> tuple[Case, ...]:
    """The open cases about what came back, or did not: a person ends them."""
    return tuple(case for case in place.now.open_cases if case.exception in OF_CUSTODY)


_STAGES: tuple[tuple[ClosingStage, Callable[[PlaceClosing, datetime], bool]], ...] = (
    (ClosingStage.IN_DOUBT, lambda place, at: bool(in_doubt(place))),
    (ClosingStage.STILL_OPEN, lambda place, at: not place.closed and at < place.now.expected.closes_at),
    (ClosingStage.NOT_CLOSED, lambda place, at: not place.closed),
    (ClosingStage.PAST_CUT_OFF, lambda place, at: not place.back and at >= place.cut_off),
    (ClosingStage.LINE, lambda place, at: place.still_in_line is not None),
    (ClosingStage.OUT_OF_BALANCE, lambda place, at: bool(place.difference)),
    (ClosingStage.BACK, lambda place, at: place.back),
    (ClosingStage.OVERDUE, lambda place, at: bool(place.overdue)),
    (ClosingStage.ON_THE_WAY, lambda place, at: place.custody.left_at is not None),
    (ClosingStage.CLOSING, lambda place, at: True),
)


def closings(places: Sequence[PlaceNow], plan: Plan, at: datetime) -> tuple[PlaceClosing, ...]:
    """Every place's closing, the worst first: the stage, then the longest over, then the most people in line."""
    found = (closing_of(now, plan, at) for now in places)
    return tuple(sorted(found, key=lambda each: _rank(each, at)))


def _rank(each: PlaceClosing, at: datetime) -> tuple[int, int, int, int, str]:
    way = each.custody.way(at) if not each.back else None
    return (
        each.stage,
        -each.minutes_over,
        -(each.still_in_line or 0),
        -whole_minutes(way or timedelta(0)),
        each.now.place.place,
    )
