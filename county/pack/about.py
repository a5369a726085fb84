"""What a pack is, in words for its first page and in fields for programs."""

from collections.abc import Sequence
from dataclasses import dataclass

from county.domain.entry_form import canonical
from county.domain.keeping import keep_through
from county.domain.moments import write_moment
from county.pack.ledger_file import LedgerFile
from county.pack.record import Record
from county.store.ledger import FIRST_PREVIOUS

FORMAT = "pollrise-pack-1"
CAUTION = (
    "Operational reports, not results. Typed by people; not connected to voting equipment, pollbooks or the voter file."
)


@dataclass(frozen=True, slots=True)
class About:
    """The pack in a few words. `left_out` says what a reader is not shown."""

    election: str
    as_of: str
    entries: int
    head: str
    head_here: str
    chain: str
    left_out: tuple[str, ...]
    keep: str
    rehearsal: bool
    zone: str

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it as lines of text."""
        return (
            f"Review of election day: {self.election}",
            *(["REHEARSAL: some or all of this was made up."] if self.rehearsal else []),
            f"As of the ledger's last entry, {self.as_of}. Times in this workbook are wall time in {self.zone}.",
            f"Keep through {self.keep} at least (52 U.S.C. 20701, or longer by the plan).",
            CAUTION,
            self.chain,
            *self.left_out,
            f"Last digest of the county's ledger ({self.entries:,} entries): {self.head}",
            f"Last digest of ledger.jsonl in this pack: {self.head_here}",
            "An empty cell was not reported; it is never 0.",
        )


def about(record: Record, ledger: LedgerFile) -> About:
    """What the first page of report and workbook says."""
    election = record.plan.election
    day = f"{election.date:%B} {election.date.day}, {election.date.year}"
    local = record.as_of.astimezone(record.zone)
    keep = keep_through(election.date, record.plan.limits.keep_months)
    return About(
        election=f"{election.name}, {election.county}, {day}",
        as_of=f"{local:%B} {local.day}, {local.year}, {local:%H:%M:%S} ({election.zone})",
        entries=len(record.copied),
        head=record.digests[-1] if record.digests else FIRST_PREVIOUS,
        head_here=ledger.head,
        chain=_chain(record),
        left_out=_left_out(record),
        keep=f"{keep:%B} {keep.day}, {keep.year}",
        rehearsal=record.rehearsal,
        zone=election.zone,
    )


def pack_json(record: Record, ledger: LedgerFile) -> str:
    """The same for programs: what the verifier compares the ledger's file with."""
    election = record.plan.election
    told = {
        "format": FORMAT,
        "county": election.county,
        "election": election.name,
        "date": election.date.isoformat(),
        "rehearsal": record.rehearsal,
        "copy": "public" if record.public else "full",
        "notes": record.choice.notes or not record.public,
        "as_of": write_moment(record.as_of),
        "entries": len(record.copied),
        "last_digest_here": ledger.head,
        "last_digest_of_ledger": record.digests[-1] if record.digests else FIRST_PREVIOUS,
        "chain_broken_at": record.broken or 0,
        "keep_through": keep_through(election.date, record.plan.limits.keep_months).isoformat(),
    }
    return canonical(told) + "\n"


def _chain(record: Record) -> str:
    if record.broken is None:
        return "When this pack was made, the chain of the county's own ledger was walked and holds throughout."
    return (
        f"WARNING: when this pack was made, the chain of the county's own ledger did not hold: entry {record.broken} "
        "is wrong or missing. Nothing after it can be relied on until that is explained."
    )


def _left_out(record: Record) -> tuple[str, ...]:
    if not record.public:
        return (
            "This is the full copy: it holds names of staff and telephone numbers. It is not for publication as it is.",
        )
    replaced = sum(bool(each.replaced) for each in record.copied)
    said = [
        f"Names of staff are replaced by “person 1” and so on, one person always by the same words; rovers go by their "
        f"numbers; telephone numbers and addresses of people are left out. That touches {replaced:,} entries."
    ]
    if record.choice.notes:
        said.append(
            "Notes and reasons stand as they were written, without the names and numbers known to the office. Other "
            "names may stand in them: read them before you publish, or make the pack again with --without-notes."
        )
    else:
        said.append("Everything that was written freely (notes, reasons, what voters were offered) is left out.")
    return tuple(said)


def _volumes_say(record: Record) -> list[str]:
    if not record.in_volumes:
        return []
    return [
        "place_days_N.pdf   every place's day in volumes; the report's index names volume and page",
        "places_at_a_glance.pdf   all places in one table",
    ]


def readme(record: Record, ledger: LedgerFile, tables: Sequence[tuple[str, str]]) -> str:
    """The pack's own README.txt; `tables` are names and titles of the subjects."""
    said = about(record, ledger)
    lines = [
        f"Review pack: {said.election}",
        *(["REHEARSAL: some or all of this was made up."] if record.rehearsal else []),
        f"As of the ledger's last entry, {said.as_of}. Keep through {said.keep} at least.",
        "",
        CAUTION,
        "",
        "report.pdf         read this first: two pages say how to read the record",
        *(_volumes_say(record)),
        "activity_log.pdf   what the office did, under the block names of ICS form 214; no claim to comply with it",
        "workbook.xlsx      every subject as a sheet",
        "csv/               every subject as a file (RFC 4180); times as RFC 3339; an empty field was not reported",
        *(f"  {name}.csv".ljust(28) + title for name, title in tables),
        "places.geojson     the places on a map (RFC 7946)",
        "ledger.jsonl       the ledger, a line an entry, chained by SHA-256",
        "verify.py          checks ledger.jsonl and every file here: python verify.py",
        "plan.toml          the county's plan at the end",
        "pack.json          what this pack is, for programs",
        "SHA256SUMS         a sum for each file; also for: sha256sum --check SHA256SUMS",
        "",
        said.chain,
        *said.left_out,
        "",
        f"Last digest of the county's ledger ({said.entries:,} entries): {said.head}",
        f"Last digest of ledger.jsonl here: {said.head_here}",
    ]
    return "\n".join(lines) + "\n"
