"""What comes packed: archives of several files, and workbooks, which are archives too; bombs are refused by size."""

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from io import BytesIO
from pathlib import PurePath
from typing import BinaryIO

from county.delimited import Unreadable
from county.roster_files.files import LARGEST_FEED, LARGEST_UNPACKED, MB, RosterFile

MOST_PARTS = 2_000
_READ = (".txt", ".csv", ".tsv", ".xml", ".xlsx", ".xlsm")


@contextmanager
def unpacked(file: RosterFile) -> Iterator[zipfile.ZipFile]:
    """The archive opened. Raises Unreadable where it is damaged, locked, or has far too many parts."""
    try:
        with file.open() as source, zipfile.ZipFile(source) as archive:
            parts = archive.infolist()
            if len(parts) > MOST_PARTS:
                raise Unreadable(f"has {len(parts):,} parts; {MOST_PARTS:,} are the most that is read")
            if any(part.flag_bits & 1 for part in parts):
                raise Unreadable("is locked with a password; save it without one")
            yield archive
    except (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, NotImplementedError, OSError) as error:
        raise Unreadable(f"is a damaged archive or workbook: {error}") from None


def is_workbook(archive: zipfile.ZipFile) -> bool:
    """Whether the archive is a spreadsheet's."""
    return "xl/workbook.xml" in archive.namelist()


def refuse_bomb(parts: list[zipfile.ZipInfo]) -> None:
    """Raise Unreadable where these parts come to more than a list can; no part gives more than it declares."""
    whole = sum(part.file_size for part in parts)
    if whole > LARGEST_UNPACKED:
        most = LARGEST_UNPACKED // MB
        raise Unreadable(f"unpacks to {whole / MB:,.0f} MB; a list of places and precincts has {most} MB at most")


def members(file: RosterFile) -> list[RosterFile]:
    """The files of an archive that may be read, by their own names."""
    with unpacked(file) as archive:
        found = [part for part in archive.infolist() if _may_be_read(part)]
    tables = [part for part in found if not part.filename.casefold().endswith(".xml")]
    refuse_bomb([part for part in tables if "street_segment" not in part.filename.casefold()])
    if any(part.file_size > LARGEST_FEED for part in found):
        raise Unreadable(f"holds a file of more than {LARGEST_FEED // MB:,} MB")
    return [
        RosterFile(PurePath(part.filename).name, part.file_size, partial(_open_part, file, part.filename))
        for part in found
    ]


def _may_be_read(part: zipfile.ZipInfo) -> bool:
    name = PurePath(part.filename)
    hidden = name.name.startswith((".", "~")) or "__MACOSX" in name.parts
    return not part.is_dir() and not hidden and name.suffix.casefold() in _READ


def _open_part(file: RosterFile, name: str) -> BinaryIO:
    """A part, read to memory where it is a table; a feed is read as it comes."""
    archive = zipfile.ZipFile(file.open())
    part = archive.getinfo(name)
    if part.file_size > LARGEST_UNPACKED:
        return archive.open(part)  # type: ignore[return-value]
    with archive:
        return BytesIO(archive.read(part))
