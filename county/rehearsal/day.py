"""A made-up election day, from staffing to the first hours of voting or to the end: the same seed is the same day."""

from county.domain.expected import Expected, expected_of
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.rehearsal.delivery import Line, sent_by
from county.rehearsal.luck import FIRST_HOURS, Luck, draw
from county.rehearsal.officers import officers_day
from county.rehearsal.regimes import REGIMES
from county.rehearsal.sent import Sent, chance, minutes


def made_up_day(roster: Roster, plan: Plan, regime: str, seed: int, hours: int = FIRST_HOURS) -> tuple[Sent, ...]:
    """Every report of the day in the order it is sent, up to `hours` after each place's opening, or to its end.

    `regime` is a key of REGIMES (KeyError otherwise). Nothing depends on the clock or on the order of the roster.
    """
    run = f"{regime[:1]}{seed}"
    luck = draw(roster, REGIMES[regime], run, hours)
    sent: list[Sent] = []
    for place, expected in expected_of(roster, plan).items():
        if place not in luck.never_heard:
            sheet = officers_day(expected, plan, luck, run, hours)
            sent.extend(sent_by(sheet, _line(expected, luck, run), chance(run, place, "sent")))
    return tuple(sorted(sent, key=lambda each: (each.at, str(each.raw["key"]), each.plays)))


def _line(expected: Expected, luck: Luck, run: str) -> Line:
    """How this place is connected on this day."""
    place, opens_at = expected.place.place, expected.opens_at
    rng = chance(run, place, "line")
    quiet_from = opens_at + minutes(rng.uniform(-30.0, 70.0))
    lost = opens_at - minutes(rng.uniform(5.0, 45.0))
    return Line(
        by_drop=place in luck.by_drop,
        clock_ahead=place in luck.clock_ahead,
        quiet_from=quiet_from if place in luck.goes_quiet else None,
        offline=(lost, lost + minutes(rng.uniform(20.0, 70.0))) if place in luck.offline else None,
        conflict=place in luck.conflict,
    )
