"""Corrections are added, nothing is deleted: what stands after them, and what stood before."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from county.domain.entries import REPORT_KINDS, Entry, Kind, Stamp

_OWN = ("corrects", "reason", "withdraw")


@dataclass(frozen=True, slots=True)
class PutRight:
    """A report that was put right: as first told, as it stands now (None: withdrawn), and by which corrections."""

    told: Entry
    stands: Entry | None
    corrections: tuple[Entry, ...]


def in_order_learned(corrections: Iterable[Entry]) -> list[Entry]:
    """Corrections in the order the office learned them, which is the order in which they hold."""
    return sorted(corrections, key=lambda entry: (entry.received_at, entry.key))


def put_right(entries: Sequence[Entry]) -> tuple[PutRight, ...]:
    """Every report of one place that a correction speaks of, whichever arrived first.

    A correction of a correction is taken back by `withdraw`, and otherwise speaks of the report at its root.
    """
    by_key = {entry.key: entry for entry in entries}
    corrections = in_order_learned(entry for entry in entries if entry.kind is Kind.CORRECTION)
    taken_back = _taken_back(corrections, by_key)
    speaking: dict[str, list[Entry]] = {}
    for correction in corrections:
        root = _root(correction, by_key)
        if root and correction.key not in taken_back and not _takes_back(correction, by_key):
            speaking.setdefault(root.key, []).append(correction)
    return tuple(
        PutRight(by_key[key], _stands(by_key[key], about), tuple(about)) for key, about in sorted(speaking.items())
    )


def _takes_back(correction: Entry, by_key: Mapping[str, Entry]) -> bool:
    target = by_key.get(correction.text("corrects"))
    return bool(correction.fields.get("withdraw")) and target is not None and target.kind is Kind.CORRECTION


def _taken_back(corrections: Sequence[Entry], by_key: Mapping[str, Entry]) -> frozenset[str]:
    taken: set[str] = set()
    for correction in reversed(corrections):
        if correction.key not in taken and _takes_back(correction, by_key):
            taken.add(correction.text("corrects"))
    return frozenset(taken)


def _root(correction: Entry, by_key: Mapping[str, Entry]) -> Entry | None:
    seen = {correction.key}
    target = by_key.get(correction.text("corrects"))
    while target is not None and target.kind is Kind.CORRECTION and target.key not in seen:
        seen.add(target.key)
        target = by_key.get(target.text("corrects"))
    return target if target is not None and target.kind in REPORT_KINDS and target.kind is not Kind.CORRECTION else None


def _stands(told: Entry, about: Sequence[Entry]) -> Entry | None:
    stands = told
    for correction in about:
        if correction.fields.get("withdraw"):
            return None
        new = {name: value for name, value in correction.fields.items() if name not in _OWN}
        happened_at = correction.happened_at if correction.stamp is Stamp.TOLD else stands.happened_at
        stands = replace(stands, fields=MappingProxyType({**stands.fields, **new}), happened_at=happened_at)
    return stands
