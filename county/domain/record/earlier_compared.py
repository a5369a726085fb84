"""This election beside an earlier one: for each step, how long before or after their own opening places had done it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from county.domain.earlier_steps import EarlierStep, minutes_by_step
from county.domain.picture import Picture
from county.domain.plan import Anchor


@dataclass(frozen=True, slots=True)
class Spread:
    """The places that did a step: how many, and the minutes from their own opening at which half and nine tenths had.

    Below 0 is before opening. Nearest rank, over those that did it: the others are not in it.
    """

    places: int
    half: int
    nine_tenths: int
    by_opening: int


@dataclass(frozen=True, slots=True)
class Compared:
    """One step then and now; None where nobody did it. `due` places had it to do now, `of_both` did it both times."""

    step: str
    says: str
    now: Spread | None
    then: Spread | None
    due: int
    of_both: int
    later_than_then: int


def compared(picture: Picture, earlier: Iterable[EarlierStep], now: datetime) -> tuple[Compared, ...]:
    """Each step before opening, in the plan's order, with the earlier election's beside it, as of `now`."""
    steps = tuple(earlier)
    then_all = minutes_by_step(steps)
    then_at = {(each.step, each.place): each.minutes for each in steps}
    rows = []
    for step in picture.plan.steps:
        if step.anchor is not Anchor.OPENING:
            continue
        today = _today(picture, step.key, now)
        both = {place: minutes for place, minutes in today.items() if (step.key, place) in then_at}
        rows.append(
            Compared(
                step=step.key,
                says=step.says,
                now=_spread(sorted(today.values())),
                then=_spread(list(then_all.get(step.key, ()))),
                due=sum(any(e.key == step.key for e in s.expected.steps) for s in picture.places.values()),
                of_both=len(both),
                later_than_then=sum(minutes > then_at[step.key, place] for place, minutes in both.items()),
            )
        )
    return tuple(rows)


def _today(picture: Picture, step: str, now: datetime) -> Mapping[str, int]:
    """Minutes from its own opening at which each place had done the step; whole minutes, as the earlier ones are."""
    done = ((place, state.day.done.get(step), state.expected.opens_at) for place, state in picture.places.items())
    return {
        place: int((at - opens_at).total_seconds() // 60)
        for place, at, opens_at in done
        if at is not None and at <= now
    }


def _spread(minutes: list[int]) -> Spread | None:
    """Of minutes in ascending order; None of none."""
    if not minutes:
        return None
    return Spread(len(minutes), _rank(minutes, 5), _rank(minutes, 9), sum(each <= 0 for each in minutes))


def _rank(minutes: list[int], tenths: int) -> int:
    return minutes[max(0, -(-tenths * len(minutes) // 10) - 1)]
