"""Corrections are added, nothing is deleted: what stands after them, and what stood before."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from county.domain.entries import REPORT_KINDS, Entry, Kind, Stamp

_OWN = ("corrects", "reason", "withdraw")


@dataclass(frozen=True, slots=True)
class PutRight:
    """A report that was spoken of again: as first told, as it stands now (None: withdrawn), and every correction.

    `corrections` are in the order learned, with those that were themselves taken back.
    """

    told: Entry
    stands: Entry | None
    corrections: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class _Speaks:
    """Of which report a correction speaks in the end, and over how many other corrections."""

    root: Entry | None
    depth: int


def in_order_learned(corrections: Iterable[Entry]) -> list[Entry]:
    """Corrections in the order the office learned them, which is the order in which they hold."""
    return sorted(corrections, key=lambda entry: (entry.received_at, entry.key))


def put_right(entries: Sequence[Entry]) -> tuple[PutRight, ...]:
    """Every report of one place that a correction speaks of, whichever arrived first.

    A correction of a correction is taken back by `withdraw`, and otherwise speaks of the report at its root. A report
    that was withdrawn stays withdrawn until the withdrawal is taken back.
    """
    by_key = {entry.key: entry for entry in entries}
    corrections = in_order_learned(entry for entry in entries if entry.kind is Kind.CORRECTION)
    speaks = _speaks(corrections, by_key)
    taken_back = _taken_back(corrections, by_key, speaks)
    about: dict[str, list[Entry]] = {}
    for correction in corrections:
        root = speaks[correction.key].root
        if root is not None:
            about.setdefault(root.key, []).append(correction)
    return tuple(
        PutRight(
            told=by_key[key],
            stands=_stands(by_key[key], (c for c in said if c.key not in taken_back and not _takes_back(c, by_key))),
            corrections=tuple(said),
        )
        for key, said in sorted(about.items())
    )


def _takes_back(correction: Entry, by_key: Mapping[str, Entry]) -> bool:
    target = by_key.get(correction.text("corrects"))
    return bool(correction.fields.get("withdraw")) and target is not None and target.kind is Kind.CORRECTION


def _taken_back(
    corrections: Sequence[Entry], by_key: Mapping[str, Entry], speaks: Mapping[str, _Speaks]
) -> frozenset[str]:
    """The corrections that do not hold. Whoever may take one back stands deeper, so the deepest are looked at first."""
    taken: set[str] = set()
    for correction in sorted(corrections, key=lambda entry: -speaks[entry.key].depth):
        if correction.key not in taken and _takes_back(correction, by_key):
            taken.add(correction.text("corrects"))
    return frozenset(taken)


def _speaks(corrections: Sequence[Entry], by_key: Mapping[str, Entry]) -> dict[str, _Speaks]:
    """Each correction's report. Those that lead in a circle, to nothing, or to what is no report, speak of none."""
    speaks: dict[str, _Speaks] = {}
    for correction in corrections:
        way: list[str] = []
        on_the_way: set[str] = set()
        target: Entry | None = correction
        while target is not None and target.kind is Kind.CORRECTION and target.key not in speaks:
            if target.key in on_the_way:
                target = None
                break
            way.append(target.key)
            on_the_way.add(target.key)
            target = by_key.get(target.text("corrects"))
        found = speaks.get(target.key) if target is not None else None
        if found is None:
            found = _Speaks(target if target is not None and target.kind in REPORT_KINDS else None, 0)
        for steps, key in enumerate(reversed(way), start=1):
            speaks[key] = _Speaks(found.root, found.depth + steps)
    return speaks


def _stands(told: Entry, holding: Iterable[Entry]) -> Entry | None:
    """The report after its corrections; it is learned again with each, and only a time that was told moves it."""
    stands = told
    for correction in holding:
        if correction.fields.get("withdraw"):
            return None
        new = {name: value for name, value in correction.fields.items() if name not in _OWN}
        stands = replace(
            stands,
            fields=MappingProxyType({**stands.fields, **new}),
            happened_at=correction.happened_at if correction.stamp is Stamp.TOLD else stands.happened_at,
            received_at=correction.received_at,
        )
    return stands
