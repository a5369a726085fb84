"""What was reported of a device, claim by claim, beside what its own log says: agrees, differs, or does not say."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from types import MappingProxyType

from county.domain.device_log import LogDevice, LogEvent, LogWindow
from county.domain.interruptions import Interruption
from county.domain.log_milestones import LogMaps, Milestone
from county.domain.place_day import PlaceDay

NEAR = timedelta(minutes=90)
"""A power loss in a log and one reported are taken for the same where they begin no further apart; a judgement."""

_HOUR, _HOUR_GIVE = timedelta(minutes=60), timedelta(minutes=5)


class Verdict(StrEnum):
    """How a claim and the log stand to each other. A log that is silent is never taken for agreement."""

    AGREES = "agrees"
    DIFFERS = "differs"
    LOG_SILENT = "the log does not say"
    NOT_REPORTED = "not reported"


@dataclass(frozen=True, slots=True)
class LogClaim:
    """One thing that was reported, or that the log says, of one device. Times are aware UTC.

    `ahead` is by how much the log's time is later than the reported one (negative: earlier), None where one is missing.
    `clock_not_changed` holds where that is an hour, give or take five minutes. `says` tells why a log is silent, or
    that it says the thing more than once.
    """

    what: str
    reported_at: datetime | None
    log_at: datetime | None
    verdict: Verdict
    ahead: timedelta | None
    clock_not_changed: bool
    says: str


@dataclass(frozen=True, slots=True)
class PowerLoss:
    """A stretch in which the log says there was no mains; `ends` is None where it names no return."""

    begins: datetime
    ends: datetime | None


@dataclass(frozen=True, slots=True)
class _Told:
    """How one milestone of the log is read: its word, the step that claims it, and whether the last one counts."""

    word: str
    step: str
    last: bool = False


_TOLD: Mapping[Milestone, _Told] = MappingProxyType(
    {
        Milestone.POWERED: _Told("power-up", "powered"),
        Milestone.ZERO_REPORT: _Told("zero-check", "zero-report"),
        Milestone.OPENED: _Told("opening", "open"),
        Milestone.CLOSED: _Told("closing", "closed", last=True),
        Milestone.RESULTS_PRINTED: _Told("results report", "results-printed", last=True),
    }
)
_POWER = ("no-power", "on-battery")


def log_claims(
    log: LogDevice, day: PlaceDay, device: str, maps: LogMaps, zone: str, window: LogWindow
) -> tuple[LogClaim, ...]:
    """Every claim about `device` (as the roster names it) of a place's day, beside the log.

    Sources: the standard has no count and no fixed ids (NIST SP 1500-101), so only times are compared and only by the
    county's map; the tolerance is inclusive. Nothing of it changes the day's standing.
    """
    told = _told(log, maps, zone, window)
    mapped = set(maps.of(log.model).values())
    steps = (
        _step_claim(milestone, told.get(milestone, ()), _reported(day, device, _TOLD[milestone].step), mapped, maps)
        for milestone in _TOLD
    )
    claims = [claim for claim in steps if claim is not None]
    reported = [each for each in day.interruptions if each.exception in _POWER and each.device in ("", device)]
    claims.extend(_power_claims(power_losses(log, maps, zone, window), reported, mapped, maps))
    return tuple(claims)


def power_losses(log: LogDevice, maps: LogMaps, zone: str, window: LogWindow) -> tuple[PowerLoss, ...]:
    """The stretches without mains, as the log tells them; what it repeats meanwhile begins no second one."""
    losses: list[PowerLoss] = []
    for milestone, event in _read(log, maps, zone, window):
        running = bool(losses) and losses[-1].ends is None
        if milestone is Milestone.POWER_LOST and not running:
            losses.append(PowerLoss(event.moment(zone), None))
        elif milestone is Milestone.POWER_RESTORED and running:
            losses[-1] = PowerLoss(losses[-1].begins, event.moment(zone))
    return tuple(losses)


def _read(log: LogDevice, maps: LogMaps, zone: str, window: LogWindow) -> Iterator[tuple[Milestone, LogEvent]]:
    """The events of the day that the county's map knows and the log says were done, in their order."""
    ids = maps.of(log.model)
    for event in log.in_order():
        if event.happened and event.id in ids and event.moment(zone) in window:
            yield ids[event.id], event


def _told(log: LogDevice, maps: LogMaps, zone: str, window: LogWindow) -> dict[Milestone, tuple[datetime, ...]]:
    told: dict[Milestone, tuple[datetime, ...]] = {}
    for milestone, event in _read(log, maps, zone, window):
        told[milestone] = (*told.get(milestone, ()), event.moment(zone))
    return told


def _reported(day: PlaceDay, device: str, step: str) -> datetime | None:
    """When a step was reported of the device, else of the whole place."""
    return day.device_done.get((step, device)) or day.device_done.get((step, "")) or _of_the_place(day, step)


def _of_the_place(day: PlaceDay, step: str) -> datetime | None:
    return day.done.get(step) if step in ("open", "closed") else None


def _step_claim(
    milestone: Milestone,
    moments: Sequence[datetime],
    reported: datetime | None,
    mapped: set[Milestone],
    maps: LogMaps,
) -> LogClaim | None:
    how = _TOLD[milestone]
    log_at = (moments[-1] if how.last else moments[0]) if moments else None
    says = ""
    if len(moments) > 1:
        says = f"{len(moments)} times in the log; the {'last' if how.last else 'first'} counts"
    elif log_at is None:
        says = _why_silent(how.word, milestone, mapped)
    if log_at is None and reported is None:
        return None if milestone not in mapped else _claim(milestone, None, None, maps, says)
    return _claim(milestone, reported, log_at, maps, says)


def _why_silent(word: str, milestone: Milestone, mapped: set[Milestone]) -> str:
    return f"no {word} in the log" if milestone in mapped else f"the plan's map names no id for a {word}"


def _claim(what: str, reported: datetime | None, log_at: datetime | None, maps: LogMaps, says: str) -> LogClaim:
    if log_at is None:
        return LogClaim(str(what), reported, None, Verdict.LOG_SILENT, None, clock_not_changed=False, says=says)
    if reported is None:
        return LogClaim(str(what), None, log_at, Verdict.NOT_REPORTED, None, clock_not_changed=False, says=says)
    ahead = log_at - reported
    verdict = Verdict.AGREES if abs(ahead) <= maps.tolerance else Verdict.DIFFERS
    hour_off = abs(abs(ahead) - _HOUR) <= _HOUR_GIVE
    return LogClaim(str(what), reported, log_at, verdict, ahead, hour_off and verdict is Verdict.DIFFERS, says)


def _power_claims(
    losses: Sequence[PowerLoss], reported: Sequence[Interruption], mapped: set[Milestone], maps: LogMaps
) -> Iterator[LogClaim]:
    """Each loss of power reported beside the nearest one in the log, then those of the log that nobody reported."""
    left = list(losses)
    for told in reported:
        same = min(left, key=lambda loss: abs(loss.begins - told.begins), default=None)
        if same is None or abs(same.begins - told.begins) > NEAR:
            why = _why_silent("loss of power", Milestone.POWER_LOST, mapped)
            yield _claim(Milestone.POWER_LOST, told.begins, None, maps, why)
            continue
        left.remove(same)
        yield _claim(Milestone.POWER_LOST, told.begins, same.begins, maps, "")
        if told.ends is not None or same.ends is not None:
            why = "" if same.ends else _why_silent("return of power", Milestone.POWER_RESTORED, mapped)
            yield _claim(Milestone.POWER_RESTORED, told.ends, same.ends, maps, why)
    for loss in left:
        yield _claim(Milestone.POWER_LOST, None, loss.begins, maps, "")
        if loss.ends is not None:
            yield _claim(Milestone.POWER_RESTORED, None, loss.ends, maps, "")
