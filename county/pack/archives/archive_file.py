"""An archive as a file: a ZIP whose parts are plain text, the same bytes for the same record, read back and checked."""

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from county.errors import BadCopy
from county.pack import verify
from county.pack.zipped import zip_parts

FORMAT = "pollrise-archive-1"
ARCHIVE = "archive.json"


@dataclass(frozen=True, slots=True)
class Archive:
    """An archive that was read and found whole. `digest` is the file's own SHA-256."""

    parts: Mapping[str, bytes]
    digest: str

    @property
    def about(self) -> Mapping[str, Any]:
        """What the archive says it is: election, date, entries, last digest."""
        told: Mapping[str, Any] = json.loads(self.parts[ARCHIVE])
        return told

    @property
    def election(self) -> str:
        return f"{self.about['election']}, {self.about['county']}, {self.about['date']}"

    @property
    def as_of(self) -> datetime:
        """When its last entry about a place was received (aware UTC)."""
        return datetime.fromisoformat(self.about["as_of"])


def packed(parts: Iterable[tuple[str, bytes]]) -> bytes:
    """The parts and the list of their sums as one ZIP; equal parts are equal bytes."""
    held = dict(parts)
    sums = "".join(f"{hashlib.sha256(held[name]).hexdigest()}  {name}\n" for name in sorted(held))
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w") as archive:
        zip_parts([*sorted(held.items()), (verify.SUMS, sums.encode())], archive)
    return written.getvalue()


def read_archive(file: Path) -> Archive:
    """Read an archive and hold every part against its sum, and the ledger against its own chain. Raises BadCopy."""
    try:
        content = file.read_bytes()
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = {name: archive.read(name) for name in archive.namelist()}
    except OSError as error:
        raise BadCopy(f"{file} cannot be read: {error.strerror or error}") from None
    except (zipfile.BadZipFile, zlib.error, ValueError, NotImplementedError, RuntimeError, EOFError) as error:
        raise BadCopy(f"{file} is damaged, or no archive of this program: {error}") from None
    found = Archive(parts, hashlib.sha256(content).hexdigest())
    _must_be_ours(file, found)
    _must_be_whole(file, parts)
    return found


def _must_be_ours(file: Path, found: Archive) -> None:
    if ARCHIVE not in found.parts or verify.SUMS not in found.parts:
        raise BadCopy(f"{file} is no archive of this program")
    try:
        form = found.about["format"]
    except (ValueError, KeyError, TypeError):
        raise BadCopy(f"{file} is damaged: it does not say what it is") from None
    if form != FORMAT:
        raise BadCopy(f"{file} is of the format {form}; this version reads {FORMAT}: open it with a newer version")


def _must_be_whole(file: Path, parts: Mapping[str, bytes]) -> None:
    listed = dict(line.split("  ", 1)[::-1] for line in parts[verify.SUMS].decode("ascii", "replace").splitlines())
    if listed.keys() != parts.keys() - {verify.SUMS}:
        raise BadCopy(f"{file} is damaged: its list of parts is not what it holds")
    for name, digest in listed.items():
        if hashlib.sha256(parts[name]).hexdigest() != digest:
            raise BadCopy(f"{file} is damaged: {name} is not what was written")
    try:
        walked = verify.walk(io.BytesIO(parts[verify.LEDGER]))
    except verify.Wrong as error:
        raise BadCopy(f"{file}: {error}") from None
    if walked.head != json.loads(parts[verify.ABOUT])["last_digest_of_ledger"]:
        raise BadCopy(f"{file} is damaged: its ledger ends in another digest than it says")
