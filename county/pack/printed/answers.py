"""The answers that lead a place's day: when it opened, by whose clock, who knew when, what was done, how long."""

from collections.abc import Iterator
from datetime import datetime

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.moments import whole_minutes
from county.domain.notices import Fact, Notice
from county.domain.picture import PlaceNow
from county.domain.record.late_openings import LATE
from county.domain.record.opening import Opening, opening
from county.domain.wall import Wall
from county.pack.printed.deeds import done
from county.pack.record import Record
from county.pack.saying import WHOSE_CLOCK, from_whom
from county.pack.seen import seen_at

GRAVE = (Effect.DANGER, Effect.STOPPED)
Answer = tuple[str, str]


def answers(record: Record, now: PlaceNow) -> Iterator[Answer]:
    """What a reviewer asks and what the record says, always the same five, then time lost, closing and cases."""
    wall = Wall(record.zone_of(now.place.place), record.plan.election.date)
    how, chief = opening(now.day), chief_case(now)
    yield "When did it open?", _opened(now, how, wall)
    yield "By whose clock?", _whose(how)
    yield "Who knew when?", _knew(record, now, how, wall)
    yield "What was done?", done(record, now, chief, wall)
    yield "How long did it take?", _took(chief, wall)
    yield "Time lost", _lost(now)
    closed, received = (wall.second(moment) or "not reported" for moment in (now.day.closed_at, now.day.received_at))
    own = wall.minute(now.expected.closes_at)
    yield "Closed, received", f"closed {closed} (own closing {own}); at the office {received}"
    yield "Cases", _cases(now)


def late_at(now: PlaceNow) -> bool:
    """Whether the place opened after its own opening, or is not reported open."""
    return now.day.opened_at is None or now.minutes_late > 0


def chief_case(now: PlaceNow) -> Case | None:
    """The late opening of a place that was late; of any other its gravest case, the first of those as grave."""
    if late_at(now):
        late = next((case for case in now.cases if case.exception == LATE), None)
        if late:
            return late
    others = [case for case in now.cases if case.exception != LATE]
    return min(others, key=lambda case: (case.effect.rank, case.raised_at, case.case), default=None)


def length(seconds: int) -> str:
    """So many seconds, as minutes from two minutes on."""
    return f"{seconds} s" if seconds < 120 else f"{seconds // 60} min"


def _opened(now: PlaceNow, how: Opening | None, wall: Wall) -> str:
    own = wall.minute(now.expected.opens_at)
    if how is None:
        return f"Not reported open (own opening {own}, {wall.zone.key})"
    late = f"{now.minutes_late} min after its own opening, {own}" if now.minutes_late else f"in time; own opening {own}"
    return f"{wall.second(how.opened_at)}, {late} ({wall.zone.key})"


def _whose(how: Opening | None) -> str:
    return f"{WHOSE_CLOCK[how.report.stamp]}; told by {from_whom(how.told)}" if how else "No opening was told."


def _knew(record: Record, now: PlaceNow, how: Opening | None, wall: Wall) -> str:
    office = f"{_learned(how, wall)}." if how else "Nobody was told of an opening."
    late = next((case for case in now.cases if case.exception == LATE), None)
    if late is None or not late_at(now):
        return office
    notices = [each for each in record.picture.places[now.place.place].notices if each.case == late.case]
    told = [f"the office {wall.second(late.learned_at)}", *_told(notices, wall)]
    return f"{office} That it was not open in time: {', '.join(told)}."


def _learned(how: Opening, wall: Wall) -> str:
    times = len(how.corrections)
    right = f"; put right since, {'once' if times == 1 else f'{times} times'}" if times else ""
    behind = length(int(how.behind.total_seconds()))
    return f"The office, {wall.second(how.learned_at)}, {behind} after it opened{right}"


def _told(notices: list[Notice], wall: Wall) -> Iterator[str]:
    """Each role once: when the first notice arrived there, or that none did."""
    for role in dict.fromkeys(each.role for each in notices):
        arrived = [each.at for each in notices if each.role == role and each.fact is Fact.ARRIVED]
        if arrived:
            yield f"{role} {wall.second(min(arrived))}"
        else:
            yield f"{role}: {'nobody on shift' if _nobody(notices, role) else 'no notice known to have arrived'}"


def _nobody(notices: list[Notice], role: str) -> bool:
    return all(each.fact is Fact.NOBODY for each in notices if each.role == role)


def _took(case: Case | None, wall: Wall) -> str:
    if case is None:
        return "–"
    reached = (("acknowledged", seen_at(case)), ("on site", case.on_site_at), ("ended", case.ended_at))
    waits = [f"{what} {_after(case, moment)}" for what, moment in reached if moment]
    untold = [what for what, moment in reached if moment is None]
    said = "; ".join(filter(None, (", ".join(waits), f"not told: {', '.join(untold)}" if untold else "")))
    known = ""
    if wall.minute(case.learned_at) != wall.minute(case.raised_at):
        known = f", known {wall.minute(case.learned_at)}"
    return f"from raised, {wall.minute(case.raised_at)}{known}: {said}"


def _after(case: Case, moment: datetime) -> str:
    return f"after {whole_minutes(moment - case.raised_at)} min"


def _lost(now: PlaceNow) -> str:
    if now.day.opened_at is None:
        return f"at most {now.lost_minutes} min: it was not reported open; to its closing, or to the end of this record"
    return f"{now.lost_minutes} min: late opening and stops together, overlaps counted once"


def _cases(now: PlaceNow) -> str:
    if not now.cases:
        return "none"
    grave = sum(case.effect in GRAVE for case in now.cases)
    still = f", {len(now.open_cases)} still open at the end" if now.open_cases else ""
    return f"{len(now.cases)} in all, {grave} rated danger or stopped{still}; see the table below"
