"""What is printed of the tables that have a row a place or so: the worst first, and without what is only repeated.

A file has its rows in the roster's order, for looking up; paper has the worst first, because its end may be cut.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from county.domain.effects import Effect
from county.pack.printed.part import Part
from county.pack.printed.printed_columns import PRINTED
from county.pack.record import Record
from county.pack.table import Cell, Row, Table

MANY = 100
"""In a county of more places than that, those where all is well are counted and not printed."""
_WORST = {effect.value: effect.rank for effect in Effect}


def late(record: Record, late: Table) -> Iterator[Part]:
    """Those that opened, the latest first; beside them those that were not reported open, of which little is known."""
    at = late.at("opened_at")
    opened = tuple(row for row in late.rows if row[at] is not None)
    yield Part("", replace(late, rows=opened), PRINTED[late.name], most=400)
    minutes = late.at("minutes")
    never = tuple(
        (*row[:minutes], f"at most {row[minutes]:,}", *row[minutes + 1 :]) for row in late.rows if row[at] is None
    )
    if never:
        yield Part("Not reported open", replace(late, rows=never), PRINTED["not_reported_open"], most=200)


def lost(record: Record, lost: Table) -> Iterator[Part]:
    """What was lost at places that were reported open; of the others only the most it can have been is known."""
    at = lost.at("opened_at")
    opened = tuple(row for row in lost.rows if row[at] is not None)
    never = len(lost.rows) - len(opened)
    says = (
        f"{_places(never)} not reported open: how much was lost there is not known. See Late openings." if never else ""
    )
    yield Part("", replace(lost, rows=opened), PRINTED[lost.name], says, most=100)


def at_most(record: Record, places: Table) -> Iterator[Part]:
    """Minutes of a place that was not reported open are the most it can have been, and say so."""
    lost, opened = places.at("lost_minutes"), places.at("opened_at")
    rows = tuple(
        (*row[:lost], f"at most {row[lost]:,}", *row[lost + 1 :]) if row[opened] is None and row[lost] else row
        for row in places.rows
    )
    yield Part("", replace(places, rows=rows), PRINTED[places.name])


def forecasts(record: Record, forecasts: Table) -> Iterator[Part]:
    """What was expected and what came; late openings of which nobody had said so stand under Late openings."""
    at = forecasts.at("expected")
    rows = tuple(row for row in forecasts.rows if row[at] == "yes")
    yield Part("", replace(forecasts, rows=rows), PRINTED[forecasts.name], most=20)


def interruptions(record: Record, interruptions: Table) -> Iterator[Part]:
    effect, minutes = interruptions.at("effect"), interruptions.at("minutes")
    rows = sorted(
        interruptions.rows, key=lambda row: (_WORST[str(row[effect])], row[minutes] is not None, -_many(row[minutes]))
    )
    yield Part(interruptions.title, replace(interruptions, rows=tuple(rows)), PRINTED[interruptions.name])


def silences(record: Record, silences: Table) -> Iterator[Part]:
    """Without the places that were never heard from: those are What is missing."""
    heard = {now.place.place for now in record.places if now.day.heard}
    at = silences.at("place")
    rows = tuple(row for row in silences.rows if row[at] in heard)
    never = len(record.places) - len(heard)
    says = f"{_places(never)} never heard from at all. See What is missing." if never else ""
    yield Part("", replace(silences, rows=rows), PRINTED[silences.name], says)


def rovers(record: Record, rovers: Table) -> Iterator[Part]:
    """Those who had a case; a public copy knows them by their numbers alone."""
    at = rovers.at("cases")
    busy = tuple(row for row in rovers.rows if row[at])
    idle = len(rovers.rows) - len(busy)
    columns = {name: 0 if record.public and name == "rover" else wide for name, wide in PRINTED[rovers.name].items()}
    if record.public:
        del columns["name"]
    yield Part("", replace(rovers, rows=busy), columns, f"Without a case: {idle:,} rovers." if idle else "")


def balance(record: Record, balance: Table) -> Iterator[Part]:
    """The largest difference first, then where a side is missing; much that balances is counted."""
    at = balance.at("difference")

    def rank(row: Row) -> tuple[bool, bool, int]:
        return row[at] == 0, row[at] is None, -_many(row[at])

    yield from _odd_first(balance, rank, lambda row: row[at] == 0, "in balance")


def custody(record: Record, custody: Table) -> Iterator[Part]:
    """What is missing or differs first, then what is not known to be back."""
    missing, differing, unchecked = (
        custody.at(name) for name in ("items_missing", "seals_differing", "seals_not_checked")
    )
    back, minutes = custody.at("received_at"), custody.at("minutes")

    def rank(row: Row) -> tuple[bool, bool, bool, int]:
        odd = row[missing] is not None or row[differing] is not None
        return not odd, row[back] is not None, row[unchecked] is None, -_many(row[minutes])

    def well(row: Row) -> bool:
        return row[missing] is None and row[differing] is None and row[back] is not None and row[unchecked] is None

    yield from _odd_first(custody, rank, well, "back with nothing missing and no seal that differs or was not checked")


def _odd_first(
    some: Table, rank: Callable[[Row], tuple[bool | int, ...]], well: Callable[[Row], bool], says: str
) -> Iterator[Part]:
    """Rows by rank; where there are many places, those that are well are counted and not printed."""
    rows = sorted(some.rows, key=rank)
    left_out = [row for row in rows if well(row)] if len(rows) > MANY else []
    if left_out:
        rows = [row for row in rows if not well(row)]
    counted = f"{_places(len(left_out))} {says}; they are in the file alone." if left_out else ""
    yield Part("", replace(some, rows=tuple(rows)), PRINTED[some.name], counted)


def _many(cell: Cell) -> int:
    return abs(cell) if isinstance(cell, int) else 0


def _places(count: int) -> str:
    return "1 place was" if count == 1 else f"{count:,} places were"
