"""Everything that the officers of one place have to tell on a made-up day."""

from datetime import datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

from county.domain.expected import Expected
from county.domain.plan import Plan
from county.rehearsal.carrying import material
from county.rehearsal.closing import closing
from county.rehearsal.evidence import ODDITIES, evidence
from county.rehearsal.lateness import Cause
from county.rehearsal.luck import FIRST_HOURS, Luck
from county.rehearsal.opening import OPEN, Done, Opening, opening
from county.rehearsal.sent import chance, minutes
from county.rehearsal.sheet import Sheet
from county.rehearsal.troubles import TROUBLES, When, call
from county.rehearsal.voting import counts

CALLED = 0.8


def officers_day(expected: Expected, plan: Plan, luck: Luck, run: str, hours: int) -> Sheet:
    """One place's sheet from its staffing to `hours` after its opening; where that is past its close, to the end."""
    place = expected.place.place
    rng = chance(run, place, "sheet")
    sheet = Sheet(place, run, ZoneInfo(expected.place.time_zone or plan.election.zone))
    delay = luck.delays.get(place)
    went = opening(expected, delay, chance(run, place, "opening"))
    _steps(sheet, expected, plan, went, luck, rng)
    if delay and rng.random() < CALLED:
        _held_up(sheet, expected, delay.cause, went, rng)
    until = min(expected.opens_at + timedelta(hours=hours), expected.closes_at)
    _calls(sheet, expected, luck, went.opened_at, until, rng)
    counts(sheet, expected, went.opened_at, until, luck, rng)
    if until == expected.closes_at:
        carried = material(expected, plan.items, chance(run, place, "material"))
        closing(sheet, expected, luck, carried, chance(run, place, "closing"))
    return sheet


def _steps(sheet: Sheet, expected: Expected, plan: Plan, went: Opening, luck: Luck, rng: Random) -> None:
    """Each step with its evidence; an oddity falls on the first report that can show it."""
    odd = [each for each in ODDITIES if sheet.place in luck.oddities[each.plays]]
    for done in went.done:
        fields, plays = evidence(done, expected, plan, rng), ""
        for oddity in [each for each in odd if each.step == done.step and each.needs in fields]:
            fields |= oddity.makes(fields, rng)
            plays = oddity.plays
            odd.remove(oddity)
        if done.step == OPEN and sheet.place in luck.put_right:
            _opened_from_memory(sheet, done, fields, rng)
        else:
            sheet.tell(done.at, fields, plays)


def _opened_from_memory(sheet: Sheet, done: Done, fields: dict[str, object], rng: Random) -> None:
    """An opening told some minutes wrong, and put right later."""
    told_at = done.at + minutes(rng.randint(2, 6))
    key = sheet.tell(told_at, fields, "told wrong")
    right = {"kind": "correction", "corrects": key, "reason": "The sheet says so; the first was from memory."}
    sheet.tell(done.at, right, "opening time put right", told_at=told_at + minutes(rng.randint(8, 40)))


def _held_up(sheet: Sheet, expected: Expected, cause: Cause, went: Opening, rng: Random) -> None:
    """What is told about a delay: an exception, or an interruption from its beginning to its end."""
    if went.held_up_from is None or went.went_on_at is None:
        return
    on = [device for device, type_ in expected.device_types.items() if type_ == cause.on]
    device = {"device": rng.choice(on)} if on else {}
    about: dict[str, object] = {"exception": cause.exception, **device}
    told = {**about, "effect": cause.effect.value, "since": sheet.wall(went.held_up_from), "note": cause.says}
    called_at = went.held_up_from + minutes(rng.uniform(1.0, 6.0))
    sheet.tell(called_at, {"kind": "interruption" if cause.lasts else "exception", **told}, f"late: {cause.exception}")
    if cause.lasts:
        over: dict[str, object] = {"kind": "interruption", **about, "ends": True}
        sheet.tell(max(went.went_on_at, called_at + minutes(1)), over, f"{cause.exception} over")


def _calls(sheet: Sheet, expected: Expected, luck: Luck, opened_at: datetime, until: datetime, rng: Random) -> None:
    """The calls of the morning, and those of the hours after it."""
    early = min(until, expected.opens_at + timedelta(hours=FIRST_HOURS))
    parts = {
        When.BEFORE: (expected.first_due_at, expected.opens_at),
        When.AFTER: (opened_at, early),
        When.ANY: (expected.first_due_at, early),
    }
    for trouble in TROUBLES:
        if sheet.place in luck.morning[trouble.name]:
            call(sheet, expected, trouble, _between(*parts[trouble.when], rng), until, rng)
        if sheet.place in luck.later.get(trouble.name, ()):
            call(sheet, expected, trouble, _between(early, until, rng), until, rng)


def _between(begin: datetime, end: datetime, rng: Random) -> datetime:
    return begin + (max(end, begin) - begin) * rng.random()
