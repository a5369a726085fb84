"""What a review pack costs: processor seconds for 48 and for 480 places, and how they grow with the county.

A made-up county after its whole day, its record in memory; everything is written, PDFs and volumes with it, and counted
with the processes that typeset them. Ten times the places may take little more than ten times as long: what is folded,
sorted or walked anew for each place would show as growth of the seconds a place. The baseline is of the same run, so
the machine's mood does not count.
"""

import resource
import sys
from dataclasses import replace
from itertools import islice

from county.domain.entry_form import canonical, written
from county.pack.record import Choice, Kept, make_record
from county.pack.writing import pack_files
from county.rehearsal.roster import made_up_county
from county.store.ledger import FIRST_PREVIOUS, digest_of
from tests.bench.bench_review import a_day
from tests.builders import a_plan

FEW, MANY, EACH = 48, 480, 70
GROWTH, NOISE = 1.5, 1.3
"""Seconds a place at most so many times those of the small county; the machine is shared."""


def main() -> int:
    """Print both with their growth; 1 where the large county takes too long for each of its places."""
    spent = {places: pack(places) for places in (FEW, MANY)}
    for places, parts in spent.items():
        whole = sum(parts.values())
        worst = ", ".join(f"{name} {s:.1f}" for name, s in sorted(parts.items(), key=lambda p: -p[1])[:5])
        print(
            f"{places:>5,} places, {places * EACH:,} entries: {whole:.1f} s, {whole / places:.3f} s a place ({worst})"
        )
    growth = sum(spent[MANY].values()) / MANY / (sum(spent[FEW].values()) / FEW)
    print(f"growth of the seconds a place: {growth:.2f} times   (target: under {GROWTH})")
    return 0 if growth < GROWTH * NOISE else 1


def pack(places: int) -> dict[str, float]:
    """Seconds of processor for each part of the pack; volumes together."""
    kept = a_county(places)
    spent: dict[str, float] = {}
    began = processor()
    record = make_record(kept, Choice())
    _ = record.places
    spent["folding"] = processor() - began
    began = processor()
    for name, _ in pack_files(record, lambda what: None):
        part = "volumes" if name.startswith("place_days") else name.partition("/")[0]
        spent[part] = spent.get(part, 0.0) + processor() - began
        began = processor()
    return spent


def a_county(places: int) -> Kept:
    """A county with so many places after its day, chained as the ledger has it."""
    roster = made_up_county(places)
    told = [entry for n, place in enumerate(roster.places) for entry in islice(a_day(n, place.place), EACH)]
    told.sort(key=lambda entry: (entry.received_at, entry.key))
    entries, digests, previous = [], [], FIRST_PREVIOUS
    for seq, entry in enumerate(told, 1):
        entries.append(replace(entry, seq=seq))
        previous = digest_of(previous, canonical(written(entry, seq, previous)))
        digests.append(previous)
    return Kept(a_plan(), "", roster, entries, (), tuple(digests))


def processor() -> float:
    """Seconds of processor of this process and of those that it started and that have ended."""
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(each.ru_utime + each.ru_stime for each in used)


if __name__ == "__main__":
    sys.exit(main())
