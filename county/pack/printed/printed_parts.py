"""What is printed of a section's tables: parts with titles, their columns, and words where a file has keys."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from county.domain.log_claims import Verdict
from county.domain.milestones import Milestone
from county.pack.printed import parts_by_place
from county.pack.printed.part import Part
from county.pack.printed.printed_columns import PRINTED
from county.pack.record import Record
from county.pack.subjects.missing import NEVER_HEARD
from county.pack.table import Row, Table, moment, number, table, text

_OF_A_KIND = (Milestone.ACKNOWLEDGED.value, Milestone.ON_SITE.value, Milestone.CLEARED.value)
_VERDICTS = tuple(map(str, (Verdict.DIFFERS, Verdict.NOT_REPORTED, Verdict.LOG_SILENT, Verdict.AGREES)))
_ARRIVED, _NOBODY = "arrived", "nobody on shift"


def printed_parts(record: Record, tables: list[Table]) -> Iterator[Part]:
    """Each table of a section as it is printed."""
    for nth, each in enumerate(tables):
        made = _MADE.get(each.name)
        if made:
            yield from made(record, each)
        else:
            yield Part(each.title if nth else "", each, PRINTED[each.name])


def _waits(record: Record, waits: Table) -> Iterator[Part]:
    """Response times in a part for each way they are told apart; kinds in the plan's words."""
    columns = PRINTED[waits.name]
    for by in ("all cases", "effect", "kind", "zone"):
        rows = [row for row in waits.rows if row[0] == by and (by not in ("kind", "zone") or row[2] in _OF_A_KIND)]
        if by == "kind":
            rows = [(row[0], record.plan.kind(str(row[1])).says, *row[2:]) for row in rows]
        if by == "all cases":
            own = {n: w or 12 for n, w in columns.items() if n != "group"}
            yield Part("All cases", replace(waits, rows=tuple(rows)), own)
        else:
            yield Part(f"By {by}", replace(waits, rows=tuple(rows)), columns, most=30 if by == "zone" else 150)


def _corrections(record: Record, corrections: Table) -> Iterator[Part]:
    """Without the key of the report, whose number stands beside it."""
    at = corrections.at("correction_says")
    rows = tuple((*row[:at], _without_key(str(row[at])), *row[at + 1 :]) for row in corrections.rows)
    yield Part("", replace(corrections, rows=rows), PRINTED[corrections.name])


def _without_key(says: str) -> str:
    """`Puts right report a.key: reason` without the words that a number of its own says."""
    head, colon, reason = says.partition(": ")
    return f"{head.partition(' report ')[0]}{colon}{reason}"


def _aside(record: Record, aside: Table) -> Iterator[Part]:
    """How many there were of each sort; one by one only where there is more to say of them than that."""
    sorts = [aside.at(name) for name in ("reason", "door", "outcome")]
    counted = Counter(tuple(str(row[n]) for n in sorts) for row in aside.rows)
    columns = (
        text("reason"),
        text("door", "By"),
        text("outcome", "What became of them"),
        number("how_many", "Reports"),
    )
    rows: list[Row] = [(*sort, many) for sort, many in sorted(counted.items(), key=lambda each: (-each[1], each[0]))]
    yield Part(
        "", table(aside.name, aside.title, "", columns, rows), {"reason": 10, "door": 10, "outcome": 0, "how_many": 8}
    )
    telling = tuple(
        row for row in aside.rows if any(row[aside.at(name)] is not None for name in ("says", "outcome_says"))
    )
    if telling:
        yield Part("Why they were set aside, and what was done", replace(aside, rows=telling), PRINTED[aside.name])


def _missing(record: Record, missing: Table) -> Iterator[Part]:
    """What the county lacks; then what places lack, those with the same gaps together, the most gaps first."""
    place, what, says = (missing.at(name) for name in ("place", "missing", "says"))
    county = tuple(row for row in missing.rows if row[place] is None)
    never = [str(row[place]) for row in missing.rows if row[place] is not None and row[what] == NEVER_HEARD]
    columns = {name: wide for name, wide in PRINTED[missing.name].items() if name != "place"}
    yield Part("", replace(missing, rows=county), columns, f"Never heard from: {', '.join(never)}." if never else "")
    gaps: dict[str, list[str]] = {}
    for row in missing.rows:
        if row[place] is not None and row[what] != NEVER_HEARD:
            step = str(row[what]).removeprefix("step: ")
            gaps.setdefault(str(row[place]), []).append(
                step if row[says] == "not reported" else f"{step} ({row[says]})"
            )
    alike: dict[tuple[str, ...], list[str]] = {}
    for at, some in gaps.items():
        alike.setdefault(tuple(some), []).append(at)
    if alike:
        by_gaps = (number("how_many", "Places"), text("missing", "Not told"), text("places", "At"))
        rows = [
            (len(places), "; ".join(some), ", ".join(places))
            for some, places in sorted(alike.items(), key=lambda each: (-len(each[0]), -len(each[1])))
        ]
        wide = {"how_many": 3.6, "missing": 0, "places": 22}
        yield Part("Reports that places did not make", table(missing.name, missing.title, "", by_gaps, rows), wide)


def _logs(record: Record, logs: Table) -> Iterator[Part]:
    """What differs or cannot be told first, then what agrees."""
    at = logs.at("verdict")
    rows = tuple(sorted(logs.rows, key=lambda row: _VERDICTS.index(str(row[at])) if row[at] in _VERDICTS else -1))
    yield Part("", replace(logs, rows=rows), PRINTED[logs.name])


def _notices(record: Record, notices: Table) -> Iterator[Part]:
    """How many there were for each role, from when to when; one by one those of which no word came back."""
    due, became = notices.at("due_at"), notices.at("became")
    found: dict[tuple[str, str], list[datetime]] = {}
    for row in notices.rows:
        if isinstance(at := row[due], datetime):
            found.setdefault((str(row[notices.at("role")]), str(row[became])), []).append(at)
    columns = (
        *(text("role", "For"), text("became", "What became of them"), number("how_many", "Notices")),
        *(moment("first", "First due"), moment("last", "Last due")),
    )
    rows: list[Row] = [
        (*each, len(some), min(some, default=None), max(some, default=None)) for each, some in sorted(found.items())
    ]
    counted = table(notices.name, notices.title, "", columns, rows)
    yield Part("", counted, {"role": 12, "became": 0, "how_many": 5, "first": 7, "last": 7})
    left = tuple(row for row in notices.rows if row[became] not in (_ARRIVED, _NOBODY))
    yield Part("Not known to have arrived", replace(notices, rows=left), PRINTED[notices.name])


_MADE: Mapping[str, Callable[[Record, Table], Iterator[Part]]] = MappingProxyType(
    {
        "response_times": _waits,
        "late_openings": parts_by_place.late,
        "time_lost": parts_by_place.lost,
        "interruptions": parts_by_place.interruptions,
        "forecasts": parts_by_place.forecasts,
        "silences": parts_by_place.silences,
        "rovers": parts_by_place.rovers,
        "ballot_balance": parts_by_place.balance,
        "custody": parts_by_place.custody,
        "places": parts_by_place.at_most,
        "notices": _notices,
        "corrections": _corrections,
        "set_aside": _aside,
        "device_logs": _logs,
        "missing": _missing,
    }
)
