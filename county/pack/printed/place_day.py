"""One place's day as it is printed: the answers first, its day as a line, what was done, then minute by minute."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from county.domain.cases import Action, Case
from county.domain.effects import Effect
from county.domain.entries import REPORT_KINDS, Kind, Stamp
from county.domain.notices import Fact, Notice
from county.domain.picture import PlaceNow, PlaceState
from county.domain.record.late_openings import LATE
from county.domain.record.opening import Opening, opening
from county.domain.record.place_record import Line, lines
from county.pack.printed.listing import rows_of
from county.pack.record import Record
from county.pack.saying import WHOSE_CLOCK, clock, from_whom, what
from county.pack.seen import seen_at
from county.pack.subjects.entries import became

_GRAVE = (Effect.DANGER, Effect.STOPPED)
_MOST_BARS = 7
EVERY_UP_TO = 100
"""A county of so many places has every place's day printed."""
Row = dict[str, object]


def chosen(record: Record) -> list[PlaceNow]:
    """The places whose day is printed: all of a small county or where asked for, else those worth the paper."""
    choice = record.choice
    if choice.every_place or len(record.places) <= EVERY_UP_TO:
        return list(record.places)
    named = set(choice.places)
    return [now for now in record.places if now.place.place in named or worth_the_paper(now)]


def worth_the_paper(now: PlaceNow) -> bool:
    """Whether people were in danger or voting stopped there, or it opened late or was never reported open.

    That its opening was not yet reported at its opening time makes no late opening, where it had opened by then.
    """
    grave = (case for case in now.cases if case.effect in _GRAVE and case.exception != LATE)
    return now.day.opened_at is None or now.minutes_late > 0 or any(grave)


def place_day(record: Record, now: PlaceNow) -> dict[str, object]:
    """Everything printed of one place; times are wall time there."""
    zone = record.zone_of(now.place.place)
    return {
        "place": now.place.place,
        "name": now.place.name,
        "answers": [{"asks": asks, "says": says} for asks, says in _answers(now, zone)],
        "line": _line(record, now, zone),
        "cases": _cases(record, now, zone),
        "minutes": _minute_by_minute(record, record.picture.places[now.place.place], zone),
    }


def _answers(now: PlaceNow, zone: ZoneInfo) -> Iterator[tuple[str, str]]:
    how = opening(now.day)
    yield from _opened(now, how, zone)
    lost = "late opening and stops together, overlaps counted once"
    if now.day.opened_at is None:
        lost = "it was not reported open; to its closing, or to the end of this record"
    yield "Time lost", f"{'' if now.day.opened_at else 'at most '}{now.lost_minutes} min: {lost}"
    closed, received = (
        clock(moment, zone, seconds=True) or "not reported" for moment in (now.day.closed_at, now.day.received_at)
    )
    yield (
        "Closed, received",
        f"closed {closed} (own closing {clock(now.expected.closes_at, zone)}); at the office {received}",
    )
    still = f", {len(now.open_cases)} of them still open at the end" if now.open_cases else ""
    yield "Cases", f"{len(now.cases)}{still}"


def _opened(now: PlaceNow, how: Opening | None, zone: ZoneInfo) -> Iterator[tuple[str, str]]:
    own = clock(now.expected.opens_at, zone)
    if how is None:
        yield "When did it open?", f"Not reported open (own opening {own})"
        return
    late = f"{now.minutes_late} min after its own opening, {own}" if now.minutes_late else f"in time; own opening {own}"
    yield "When did it open?", f"{clock(how.opened_at, zone, seconds=True)}, {late}"
    yield "By whose clock?", f"{WHOSE_CLOCK[how.report.stamp]}; told by {from_whom(how.told)} ({zone.key})"
    behind = int(how.behind.total_seconds())
    times = len(how.corrections)
    put_right = f"; put right since, {'once' if times == 1 else f'{times} times'}" if times else ""
    yield (
        "When did the office know?",
        f"{clock(how.learned_at, zone, seconds=True)}, {_length(behind)} after{put_right}",
    )


def _length(seconds: int) -> str:
    return f"{seconds} s" if seconds < 120 else f"{seconds // 60} min"


def _line(record: Record, now: PlaceNow, zone: ZoneInfo) -> dict[str, object]:
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
        "marks": [{"at": at(each), "says": clock(each, zone)} for each in marks if each <= last],
        "rules": [{"at": at(moment), "says": says} for moment, says in rules if moment <= last],
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


def _cases(record: Record, now: PlaceNow, zone: ZoneInfo) -> dict[str, object]:
    rows = [_case(record, case, zone) for case in sorted(now.cases, key=lambda case: (case.raised_at, case.case))]
    head = ("Raised", "What, and its effect", "Acknowledged", "Rover", "On site", "Ended", "How")
    return rows_of(head, (7, 15, 8, 7, 6, 7, 0), rows)


def _case(record: Record, case: Case, zone: ZoneInfo) -> list[str]:
    def after(moment: datetime | None) -> str:
        if moment is None:
            return "–"
        return f"{clock(moment, zone)}, {int((moment - case.raised_at).total_seconds() // 60)} min"

    first = seen_at(case)
    seen = next((step for step in case.steps if step.key and step.action != Action.NOTE), None)
    known = (
        ""
        if clock(case.learned_at, zone) == clock(case.raised_at, zone)
        else f" (known {clock(case.learned_at, zone)})"
    )
    device = f" {case.device}" if case.device else ""
    assigned = f"{case.rover} {clock(case.assigned_at, zone)}" if case.rover else "–"
    return [
        clock(case.raised_at, zone) + known,
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


def _minute_by_minute(record: Record, state: PlaceState, zone: ZoneInfo) -> list[Row]:
    """Every entry of the place in the order it happened; a notice is one row, with what became of it."""
    rows = [
        (line.entry.happened_at, line.entry.received_at, _entry(record, line, zone))
        for line in lines(state.day)
        if line.entry.kind is not Kind.NOTICE
    ]
    rows += [(each.due_at, each.owed_at, _notice(each, zone)) for each in state.notices]
    return [row for _, _, row in sorted(rows, key=lambda each: each[:2])]


def _entry(record: Record, line: Line, zone: ZoneInfo) -> Row:
    entry, now = line.entry, became(line)
    office = entry.kind in REPORT_KINDS and entry.stamp is not Stamp.TOLD
    told = f", told as {entry.told_at}" if entry.told_at else ""
    return _row(
        clock(entry.happened_at, zone, seconds=True),
        clock(entry.received_at, zone, seconds=True),
        from_whom(entry),
        what(entry, record.plan, zone).replace(f"Case {entry.place}.", "Case "),
        gone=line.struck,
        now=now[:1].upper() + now[1:],
        by=f"{WHOSE_CLOCK[entry.stamp]}{told}" if office else "",
    )


_BECAME = {Fact.ARRIVED: "arrived", Fact.FAILED: "did not arrive", Fact.OWED: "no word whether it arrived"}


def _notice(notice: Notice, zone: ZoneInfo) -> Row:
    case = notice.case.partition(".")[2]
    if notice.fact is Fact.NOBODY:
        says = f"Nobody on shift for {notice.role}, to be told of {case}"
    else:
        became = _BECAME[notice.fact] + (
            f" {clock(notice.at, zone, seconds=True)}" if notice.fact is Fact.ARRIVED else ""
        )
        says = f"Told: {notice.role} ({notice.person}) by {notice.channel}, of {case}: {became}"
    return _row(clock(notice.due_at, zone, seconds=True), clock(notice.owed_at, zone, seconds=True), "notices", says)


def _row(happened: str, known: str, by_whom: str, says: str, *, gone: bool = False, now: str = "", by: str = "") -> Row:
    same = known == happened
    return {
        "happened": happened,
        "known": "" if same else known,
        "from": by_whom,
        "what": says,
        "gone": gone,
        "now": now,
        "clock": by,
    }
