"""The ledger as JSON lines: as it stands, or as a public copy with a chain of its own."""

from dataclasses import dataclass

from county.domain.entry_form import canonical, written
from county.pack.record import Record
from county.store.ledger import FIRST_PREVIOUS, digest_of


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
        previous = digest_of(previous, canonical(form)) if record.public else own
        lines.append(canonical(form | {"digest": previous}))
    return LedgerFile(tuple(lines), previous)
