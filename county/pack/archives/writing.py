"""An election's archive written: plan, roster, ledger, what was set aside, devices' logs; no key and no password."""

import os
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import Table

from county.domain.entry_form import canonical
from county.domain.keeping import keep_through
from county.domain.moments import write_moment
from county.errors import BadCopy
from county.pack import verify
from county.pack.about import pack_json
from county.pack.archives.archive_file import ARCHIVE, FORMAT, packed, read_archive
from county.pack.archives.rows import rows_out
from county.pack.ledger_file import ledger_file
from county.pack.record import Choice, Kept, Record, make_record
from county.store.engine import reading
from county.store.schema import (
    device_logs,
    devices,
    places,
    precincts,
    roster_versions,
    rovers,
    seals,
    set_aside,
)
from county.wiring import Office

TABLES: tuple[Table, ...] = (places, precincts, devices, seals, rovers, roster_versions, set_aside, device_logs)
"""What is archived beside ledger and plan, those first that others refer to."""
_README = """The archive of an election: {election}.

ledger.jsonl   every entry, a line each, chained by SHA-256; checked by: python verify.py
plan.toml      the county's plan at the end
tables/        roster, reports set aside, devices' own logs: one JSON object a line
SHA256SUMS     a sum for each part

It holds names of staff and telephone numbers, and no key or password. Keep it through {keep} at least.
To read it with the board: python -m county archive open FILE --in FOLDER
"""


def write_archive(office: Office, kept: Kept, file: Path) -> str:
    """Write the archive to a new file, read it back, and give the file's SHA-256. Raises BadCopy."""
    if kept.broken is not None:
        raise BadCopy(f"the chain is broken: entry {kept.broken} is wrong or missing; make a backup and find out why")
    if file.exists():
        raise BadCopy(f"{file} exists already; an archive is never written over a file")
    part = file.with_name(f"{file.name}.part")
    try:
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "wb") as out:
            out.write(packed(_parts(office, make_record(kept, Choice(names=True)))))
            out.flush()
            os.fsync(out.fileno())
        digest = read_archive(part).digest
        part.rename(file)
    except OSError as error:
        raise BadCopy(f"{file} cannot be written: {error.strerror or error}") from None
    finally:
        part.unlink(missing_ok=True)
    return digest


def _parts(office: Office, record: Record) -> Iterator[tuple[str, bytes]]:
    ledger = ledger_file(record)
    election = record.plan.election
    keep = keep_through(election.date, record.plan.limits.keep_months)
    told = {
        "format": FORMAT,
        "county": election.county,
        "election": election.name,
        "date": election.date.isoformat(),
        "entries": len(record.copied),
        "last_digest": ledger.head,
        "as_of": write_moment(record.as_of),
        "keep_through": keep.isoformat(),
    }
    yield ARCHIVE, f"{canonical(told)}\n".encode()
    yield verify.ABOUT, pack_json(record, ledger).encode()
    yield verify.LEDGER, ledger.text.encode()
    yield "verify.py", Path(verify.__file__).read_bytes()
    yield "plan.toml", record.plan_text.encode()
    yield "README.txt", _README.format(election=election.name, keep=keep.isoformat()).encode()
    with reading(office.engine) as connection:
        for table in TABLES:
            yield f"tables/{table.name}.jsonl", "".join(f"{line}\n" for line in rows_out(connection, table)).encode()
