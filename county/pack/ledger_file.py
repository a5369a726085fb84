"""The ledger as JSON lines: as it stands, or as a public copy with a chain of its own."""

import json
from dataclasses import dataclass

from county.domain.entry_form import written
from county.pack.record import Record
from county.store.ledger import FIRST_PREVIOUS, digest_of

# RFC 8785 for what a ledger holds, whose fields have plain names and whole numbers; several times as fast
_canonical = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False).encode
# never the last of a form, and found nowhere else: a quotation mark within a text has a stroke before it
_NO_DIGEST = f'"digest":"{FIRST_PREVIOUS}",'


@dataclass(frozen=True, slots=True)
class LedgerFile:
    """One line an entry, in the canonical form of RFC 8785, and the digest of the last."""

    lines: tuple[str, ...]
    head: str

    @property
    def text(self) -> str:
        return "".join(f"{line}\n" for line in self.lines)


def ledger_file(record: Record) -> LedgerFile:
    """The record's entries, each with its digest: in a full copy the one that stands in the county's ledger.

    In a public copy every line says `"copy":"public"`, and what was replaced in it. Its digests are made by the same
    rule but from the copy: by the ledger's own, which are made of the names too, a guessed name could be confirmed.
    """
    previous = FIRST_PREVIOUS
    lines: list[str] = []
    for each, own in zip(record.copied, record.digests, strict=True):
        form = written(each.entry, each.entry.seq, previous)
        if record.public:
            form["copy"] = "public"
            if each.replaced:
                form["replaced"] = list(each.replaced)
        before, after = _canonical(form | {"digest": FIRST_PREVIOUS}).split(_NO_DIGEST, 1)
        previous = digest_of(previous, before + after) if record.public else own
        lines.append(f'{before}"digest":"{previous}",{after}')
    return LedgerFile(tuple(lines), previous)
