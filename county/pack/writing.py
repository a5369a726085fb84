"""A pack written into a new folder, all or nothing; the same ledger gives the same bytes whenever it is exported."""

import hashlib
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from county.errors import BadCopy
from county.pack import verify
from county.pack.about import about, pack_json, readme
from county.pack.csv_file import csv_text
from county.pack.geo import geojson
from county.pack.ledger_file import ledger_file
from county.pack.printed.activity_log import activity_log_pdf
from county.pack.printed.glance import GLANCE, glance_pdf
from county.pack.printed.place_day import chosen
from county.pack.printed.report import report_pdf
from county.pack.printed.volumes import volume_pdfs
from county.pack.record import Choice, Kept, Record, make_record
from county.pack.subjects import SUBJECTS
from county.pack.table import Table
from county.pack.workbook import workbook
from county.pack.zipped import zip_folder

Progress = Callable[[str], None]
VERIFIER = Path(verify.__file__)


def write_pack(kept: Kept, choice: Choice, out: Path, progress: Progress | None = None) -> Record:
    """Write the pack of what is kept into a folder that is new or empty, or one file where `out` ends in `.zip`.

    `progress` is called with what is being written. Gives the record it tells. Raises BadCopy where `out` will not do;
    then nothing is there.
    """
    if out.suffix.lower() != ".zip":
        return _into_folder(kept, choice, out, progress)
    if out.exists():
        raise BadCopy(f"{out} exists already; a pack is never written over a file")
    part = out.with_name(f"{out.name}.part")
    try:
        with tempfile.TemporaryDirectory(prefix="pollrise-") as parent:
            folder = Path(parent) / out.stem
            record = _into_folder(kept, choice, folder, progress)
            zip_folder(folder, part)
        part.rename(out)
    except OSError as error:
        raise BadCopy(f"{out} cannot be written: {error.strerror or error}") from None
    finally:
        part.unlink(missing_ok=True)
    return record


def _into_folder(kept: Kept, choice: Choice, folder: Path, progress: Progress | None) -> Record:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise BadCopy(f"{folder} is there already and not empty; a pack is written into a folder of its own")
    record = make_record(kept, choice)
    part = folder.with_name(f"{folder.name}.part")
    try:
        shutil.rmtree(part, ignore_errors=True)
        (part / "csv").mkdir(parents=True)
        sums: dict[str, str] = {}
        for name, content in pack_files(record, progress or (lambda what: None)):
            (part / name).write_bytes(content)
            sums[name] = hashlib.sha256(content).hexdigest()
        (part / verify.SUMS).write_text("".join(f"{sums[name]}  {name}\n" for name in sorted(sums)), newline="\n")
        if folder.is_dir():
            folder.rmdir()
        part.rename(folder)
    except OSError as error:
        raise BadCopy(f"{folder} cannot be written: {error.strerror or error}") from None
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return record


def pack_files(record: Record, progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Every file but the list of sums: its name and its bytes."""
    progress("ledger.jsonl")
    ledger = ledger_file(record)
    yield verify.LEDGER, ledger.text.encode()
    yield verify.ABOUT, pack_json(record, ledger).encode()
    yield "verify.py", VERIFIER.read_bytes()
    yield "plan.toml", record.plan_text.encode()
    yield "places.geojson", geojson(record).encode()
    tables: list[Table] = []
    for subject in SUBJECTS:
        tables.append(subject(record))
        progress(f"csv/{tables[-1].name}.csv")
        yield f"csv/{tables[-1].name}.csv", csv_text(tables[-1], record.zone).encode()
    yield "README.txt", readme(record, ledger, [(each.name, each.title) for each in tables]).encode()
    named, said = {each.name: each for each in tables}, about(record, ledger)
    progress("workbook.xlsx")
    yield "workbook.xlsx", workbook(said.election, said.lines, tables, record.zone)
    progress("activity_log.pdf")
    yield "activity_log.pdf", activity_log_pdf(record, said, named["activity_log"])
    begins: dict[str, Mapping[str, int]] = {}
    if record.in_volumes:
        for volume in volume_pdfs(record, said, {now.place.place for now in chosen(record)}):
            progress(volume.name)
            yield volume.name, volume.pdf
            begins[volume.name] = volume.begins
        progress(GLANCE)
        yield GLANCE, glance_pdf(record, said, named["places"], begins)
    # last, because its index names the volumes' pages
    progress("report.pdf")
    yield "report.pdf", report_pdf(record, said, named, begins)
