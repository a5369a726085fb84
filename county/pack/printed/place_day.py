"""One place's day as it is printed: the answers first, its day as a line, what was done, then minute by minute.

Where nothing kept anybody from voting, a large county has it printed in short: the answers and what was done.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta

from county.domain.cases import Case
from county.domain.exception_kinds import SAME_TROUBLE
from county.domain.picture import PlaceNow
from county.domain.record.late_openings import LATE
from county.domain.wall import Wall
from county.pack.printed.answers import GRAVE, answers
from county.pack.printed.deeds import seen_by
from county.pack.printed.listing import rows_of
from county.pack.printed.minutes import minute_by_minute
from county.pack.record import Record
from county.pack.seen import seen_at

_MOST_BARS = 7
EVERY_UP_TO = 100
"""A county of so many places has every place's day printed minute by minute."""
_NO_VOTER_WAITED = frozenset({LATE, "not-received", "custody-gap", SAME_TROUBLE})
"""Grave, but no voter waited for it: what was late or is out stands in the cases, which every place has printed."""


def chosen(record: Record) -> list[PlaceNow]:
    """The places whose day is printed in full: all of a small county or where asked for, else those worth the paper."""
    choice = record.choice
    if choice.every_place or len(record.places) <= EVERY_UP_TO:
        return list(record.places)
    named = set(choice.places)
    return [now for now in record.places if now.place.place in named or worth_the_paper(now)]


def worth_the_paper(now: PlaceNow) -> bool:
    """Whether people were in danger or voting stopped there, or it opened late or was never reported open.

    That its opening was not yet reported at its opening time makes no late opening, where it had opened by then.
    """
    grave = (case for case in now.cases if case.effect in GRAVE and case.exception not in _NO_VOTER_WAITED)
    return now.day.opened_at is None or now.minutes_late > 0 or any(grave)


def place_day(record: Record, now: PlaceNow) -> dict[str, object]:
    """Everything printed of one place; times are wall time there."""
    wall = Wall(record.zone_of(now.place.place), record.plan.election.date)
    return day_in_short(record, now) | {
        "cases": _cases(record, now.cases, wall, len(now.cases)),
        "line": _line(record, now, wall),
        "minutes": minute_by_minute(record, record.picture.places[now.place.place], wall),
    }


def day_in_short(record: Record, now: PlaceNow) -> dict[str, object]:
    """The answers of one place, and its cases with what was done; times are wall time there."""
    wall = Wall(record.zone_of(now.place.place), record.plan.election.date)
    return {
        "place": now.place.place,
        "name": now.place.name,
        "answers": [{"asks": asks, "says": says} for asks, says in answers(record, now)],
        "cases": _cases(record, [case for case in now.cases if not _over_at_once(case)], wall, len(now.cases)),
    }


def _line(record: Record, now: PlaceNow, wall: Wall) -> dict[str, object]:
    """The day from before its first step to the end of the record or an hour after closing."""
    first = min([now.expected.first_due_at, *now.day.done.values()]) - timedelta(minutes=20)
    last = max(first + timedelta(hours=2), min(record.as_of, now.expected.closes_at + timedelta(hours=3)))

    def at(moment: datetime) -> float:
        return round((moment - first).total_seconds() / 60, 1)

    hours = int((last - first).total_seconds() // 3600) + 1
    whole = first.replace(minute=0, second=0, microsecond=0)
    marks = [whole + timedelta(hours=n) for n in range(1, hours + 1, 1 if hours <= 16 else 2)]
    worst = sorted(now.cases, key=lambda case: (case.effect.rank, case.raised_at))[:_MOST_BARS]
    rules = [(now.expected.opens_at, "own opening"), (now.expected.closes_at, "own closing")]
    return {
        "from": 0,
        "to": at(last),
        "marks": [{"at": at(each), "says": wall.minute(each)} for each in marks if each <= last],
        "rules": [{"at": at(moment), "says": says} for moment, says in rules if moment <= last],
        "alt": _alt(now, wall),
        "ticks": [{"at": at(moment)} for moment in sorted(now.day.done.values()) if moment <= last],
        "bars": [
            {
                "from": at(min(case.raised_at, last)),
                "to": at(min(case.ended_at or record.as_of, last)),
                "effect": case.effect.value,
                "says": record.plan.kind(case.exception).says + (" (still open)" if case.state.open else ""),
            }
            for case in sorted(worst, key=lambda case: case.raised_at)
        ],
    }


def _alt(now: PlaceNow, wall: Wall) -> str:
    """The line in time in words, for those who do not see it; all of it stands in the tables below it as well."""
    opened = f"opened {wall.minute(now.day.opened_at)}" if now.day.opened_at else "not reported open"
    own = f"own opening {wall.minute(now.expected.opens_at)}, own closing {wall.minute(now.expected.closes_at)}"
    return f"{now.place.place} as a line in time: {own}, {opened}; {len(now.day.done)} steps, {len(now.cases)} cases."


def _cases(record: Record, cases: Sequence[Case], wall: Wall, of: int) -> dict[str, object]:
    """Cases with what was done, in the order raised; where some of them are left out, how many."""
    rows = [_case(record, case, wall) for case in sorted(cases, key=lambda case: (case.raised_at, case.case))]
    head = ("Raised", "What, and its effect", "Acknowledged", "Rover", "On site", "Ended", "How")
    left_out = of - len(rows)
    says = f"Left out: {left_out} that ended by reports in the minute they were raised." if left_out else ""
    return rows_of(head, (6.4, 16, 7.5, 5, 6.8, 6.8, 0), rows, says=says)


def _over_at_once(case: Case) -> bool:
    """Whether reports that arrived late ended it in the minute it was raised, before anybody acted on it."""
    return case.ended_at is not None and case.ended_at - case.raised_at < timedelta(minutes=1) and seen_by(case) is None


def _case(record: Record, case: Case, wall: Wall) -> list[str]:
    def after(moment: datetime | None) -> str:
        if moment is None:
            return "–"
        return f"{wall.minute(moment)}, {int((moment - case.raised_at).total_seconds() // 60)} min"

    first = seen_at(case)
    seen = seen_by(case)
    known = (
        ""
        if wall.minute(case.learned_at) == wall.minute(case.raised_at)
        else f" (known {wall.minute(case.learned_at)})"
    )
    device = f" {case.device}" if case.device else ""
    assigned = f"{case.rover} {wall.minute(case.assigned_at)}" if case.rover else "–"
    return [
        wall.minute(case.raised_at) + known,
        f"{record.plan.kind(case.exception).says}{device}{_which(case)}: {case.effect.value}",
        after(first) + (f" by {seen.by}" if seen and first else ""),
        assigned,
        after(case.on_site_at),
        after(case.ended_at) if case.ended_at else "still open",
        case.cleared_says or "–",
    ]


def _which(case: Case) -> str:
    """Which step it was, where the kind does not say it."""
    return f" ({case.says})" if case.exception == "step-overdue" else ""
