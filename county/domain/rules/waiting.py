"""Rules for what the counts foretell: a wait that is too long, ballots that run out before everybody has voted."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from math import inf

from county.domain.ballots_left import Supplies, Supply
from county.domain.findings import Finding
from county.domain.lines import Wait, voting_over
from county.domain.plan import Limits
from county.domain.rules.scene import Scene

SAID_AGAIN, MUCH_WORSE = timedelta(minutes=30), 1.5
"""A trouble that lasts is found again after half an hour, or sooner where it is half as bad again: a place that counts
each minute does not say the same each minute. Judgement."""
Over = tuple[datetime | None, str]


def long_line(scene: Scene) -> Iterator[Finding]:
    """A count of the line by which the estimated wait is longer than the plan's `wait_minutes`.

    A later count by which it is not, or the last voter, clears it.
    """
    limit = scene.plan.limits.wait_minutes
    for wait in _worth_saying_of_lines(scene.waits, limit):
        at, says = line_over(scene, wait.at)
        found = wait_in_words(wait)
        yield scene.finding(
            "long-line",
            wait.entry,
            f"wait estimated {found}; the county acts at {limit}",
            device="",
            expected=f"at most {limit} min",
            found=f"{found}, {wait.in_line:,} in line",
            clears_at=at,
            clears_says=says,
        )


def _worth_saying_of_lines(waits: Iterable[Wait], limit: int) -> Iterator[Wait]:
    said: Wait | None = None
    for wait in waits:
        if not wait.exceeds(limit):
            said = None if wait.known else said
        elif said is None or wait.at - said.at >= SAID_AGAIN or wait.minutes > said.minutes * MUCH_WORSE:
            said = wait
            yield wait


def line_over(scene: Scene, after: datetime) -> Over:
    """When a long line after this moment was shown to be over, and by what; None while it was not."""
    limit = scene.plan.limits.wait_minutes
    short = (each.at for each in scene.waits if each.at > after and each.known and not each.exceeds(limit))
    return _first((next(short, None), "a later count shows a shorter wait"), _last_voter(scene, after))


def ballots_short(scene: Scene) -> Iterator[Finding]:
    """A count by which the ballots are gone before everybody has voted, and so soon that the county acts.

    A later count by which they are not (topped up, or fewer voters), or the last voter, clears it. No ballots left is
    a trouble of its own and clears nothing here.
    """
    supplies, limits = scene.supplies, scene.plan.limits
    for number, supply in _worth_saying_of_ballots(supplies, limits):
        later = (supplies[each] for each in range(number + 1, len(supplies)))
        lasts = next((each.at for each in later if each.left and not each.short(limits)), None)
        at, says = _first((lasts, "by a later count they last"), _last_voter(scene, supply.at))
        yield scene.finding(
            "ballots-short",
            supply.entry,
            f"{supply.left:,} ballots left, gone {_gone(scene, supply)}, {_pace(supply)}",
            device="",
            expected=f"until {scene.clock(supply.needed_until)}, closing and the line",
            found=f"until {_gone(scene, supply)}",
            clears_at=at,
            clears_says=says,
        )


def _worth_saying_of_ballots(supplies: Supplies, limits: Limits) -> Iterator[tuple[int, Supply]]:
    said: tuple[datetime, datetime] | None = None
    for number in range(len(supplies)):
        if supplies.plenty(number):
            said = None
            continue
        supply = supplies[number]
        if not supply.left:
            continue
        gone = supply.runs_out_at if supply.short(limits) else None
        if gone is None:
            said = None
        elif said is None or supply.at - said[0] >= SAID_AGAIN or said[1] - gone >= SAID_AGAIN:
            said = supply.at, gone
            yield number, supply


def _last_voter(scene: Scene, after: datetime) -> Over:
    at = voting_over(scene.day, scene.expected)
    return (at, "the last voter has voted") if at and at > after else (None, "")


def _first(*ends: Over) -> Over:
    known = [(at, says) for at, says in ends if at is not None]
    return min(known) if known else (None, "")


def wait_in_words(wait: Wait) -> str:
    """46 min (31 to 70); more than 46 min where nobody was served."""
    least, most = wait.band
    if wait.pace is not None and wait.minutes == inf:
        return f"more than {least:.0f} min: nobody was served in {wait.pace.minutes:.0f} min"
    return f"{wait.minutes:.0f} min ({least:.0f} to {most:.0f})"


def _gone(scene: Scene, supply: Supply) -> str:
    """About 15:40 (15:05 to 16:20)."""
    gone, (first, last) = supply.runs_out_at, supply.band
    between = [scene.clock(each) if each else "never" for each in (first, last)]
    return f"about {scene.clock(gone) if gone else 'never'} ({' to '.join(between)})"


def _pace(supply: Supply) -> str:
    of = "the day's pace" if supply.of_day else "the last counts' pace"
    return f"at {of} of {supply.pace.an_hour if supply.pace else 0:.0f} an hour"
