"""How what a place tells reaches the office: late, twice, out of order, by the drop folder, or by a wrong clock."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from random import Random

from county.rehearsal.mistakes import mistaken
from county.rehearsal.sent import DROP, ENDPOINT, Sent, lognormal, minutes
from county.rehearsal.sheet import Sheet, Told

HOUR = timedelta(hours=1)
A_QUARTER = timedelta(minutes=15)
QUEUED = "queued offline"
TWICE, MISTYPED = 0.012, 0.006


@dataclass(frozen=True, slots=True)
class Line:
    """One place's connection. `quiet_from`: nothing is sent from then on. `offline`: what is told meanwhile is queued
    and sent in a burst when it ends. `clock_ahead`: the sender's clock was not changed and is an hour ahead.
    """

    by_drop: bool = False
    clock_ahead: bool = False
    quiet_from: datetime | None = None
    offline: tuple[datetime, datetime] | None = None
    conflict: bool = False


def sent_by(sheet: Sheet, line: Line, rng: Random) -> Iterator[Sent]:
    """Everything on the sheet as it is sent over this line."""
    ordinary = [_sent(told, sheet, line, rng) for told in sheet.told]
    heard = [each for each in ordinary if line.quiet_from is None or each.at < line.quiet_from]
    for each in heard:
        yield each
        if rng.random() < TWICE:
            yield replace(each, at=each.at + minutes(rng.uniform(1.0, 6.0)), how=_other_way(rng), plays="sent twice")
        if rng.random() < MISTYPED:
            plays, raw = mistaken(dict(each.raw), rng)
            yield Sent(each.at - timedelta(seconds=rng.randint(20, 50)), each.how, raw, plays)
    if line.conflict:
        yield from _conflict(heard, rng)


def _sent(told: Told, sheet: Sheet, line: Line, rng: Random) -> Sent:
    """One report with the moment it leaves the place."""
    happened_at = told.happened_at + (HOUR if line.clock_ahead else timedelta())
    raw = {"key": told.key, "place": sheet.place, "happened_at": sheet.wall(happened_at), **told.fields}
    plays = told.plays or ("clock an hour ahead" if line.clock_ahead else "")
    at = told.told_at + timedelta(seconds=10) + _lag(line, rng)
    if line.offline and line.offline[0] <= at < line.offline[1]:
        # the whole queue goes in a few seconds, in whatever order the phone takes it
        return Sent(line.offline[1] + timedelta(seconds=rng.uniform(0, 8)), ENDPOINT, raw, plays or QUEUED)
    if line.by_drop:
        return Sent(_next_quarter(at), DROP, raw, plays)
    return Sent(at, ENDPOINT, raw, plays)


def _lag(line: Line, rng: Random) -> timedelta:
    """From doing it to sending it; at once by a clock that is ahead, which is seen against the moment of receipt."""
    return timedelta(seconds=rng.uniform(5, 35)) if line.clock_ahead else minutes(min(12.0, lognormal(rng, 1.0, 0.7)))


def _next_quarter(moment: datetime) -> datetime:
    """The next quarter of an hour: then the sheet of the day is written out to the folder."""
    past = moment - moment.replace(minute=0, second=0, microsecond=0)
    return moment - past % A_QUARTER + A_QUARTER


def _other_way(rng: Random) -> str:
    return DROP if rng.random() < 0.2 else ENDPOINT


def _conflict(heard: Sequence[Sent], rng: Random) -> Iterator[Sent]:
    """The same key once more, with another number under it."""
    counted = [each for each in heard if "officers_present" in each.raw or "check_ins" in each.raw]
    if counted:
        each = rng.choice(counted)
        name = "officers_present" if "officers_present" in each.raw else "check_ins"
        other = {**each.raw, name: int(str(each.raw[name])) + rng.randint(1, 3)}
        yield Sent(each.at + minutes(rng.uniform(3.0, 20.0)), ENDPOINT, other, "same key, other content")
