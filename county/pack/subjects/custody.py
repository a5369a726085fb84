"""What left each place and what came back: people by role, minutes on the way, items and seals, as far as told."""

from collections.abc import Iterable

from county.domain.custody import SealState, SealWay, custody
from county.domain.moments import whole_minutes
from county.domain.picture import PlaceNow
from county.pack.record import Record
from county.pack.table import Cell, Table, moment, number, table, text

COLUMNS = (
    text("place", wide=8),
    text("name", wide=28),
    moment("left_at", "Left the place"),
    text("carried_by", "Carried by, by role", 24),
    moment("received_at", "Received"),
    text("received_by", "Received by, by role", 24),
    number("minutes", "Minutes on the way"),
    text("items_in", "Items checked in", 40),
    text("items_missing", "Not there when received", 40),
    number("seals_as_put_on", "Seals as put on"),
    text("seals_differing", "Seals that differ or are not whole", 40),
    text("seals_not_checked", "Seals not checked", 40),
)


def chain_of_custody(record: Record) -> Table:
    """One row a place, in the roster's order; what was not told is empty."""
    says = (
        "From the reports of leaving and of receiving. A seal is held against the number told when it was put on; "
        "where none was told, or nobody told of it at the office, that is said and is not as put on. Minutes on the "
        "way are empty unless both ends were told. People are named by role alone."
    )
    return table("custody", "Custody", says, COLUMNS, [_row(record, now) for now in record.places])


def _row(record: Record, now: PlaceNow) -> list[Cell]:
    found = custody(now.day.steps, now.expected, record.plan.items)
    way = found.way(found.back_at) if found.back_at else None
    agree = sum(1 for each in found.seals if each.state is SealState.AGREES)
    return [
        *(now.place.place, now.place.name, found.left_at, _listed(found.carried_by)),
        *(found.back_at, _listed(found.received_by), None if way is None else whole_minutes(way)),
        _listed(each.here.says for each in found.items if each.back_at),
        _listed(each.here.says for each in found.missing),
        agree if found.seals else None,
        _listed(f"{_where(each)}: {each.state}" for each in found.wrong_seals),
        _listed(_where(each) for each in found.unchecked_seals),
    ]


def _where(seal: SealWay) -> str:
    return " of ".join(part for part in (seal.position, seal.on) if part)


def _listed(parts: Iterable[str]) -> str | None:
    return ", ".join(parts) or None
