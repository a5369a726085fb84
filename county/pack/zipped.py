"""Files as a ZIP: the same files give the same bytes."""

import zipfile
from collections.abc import Iterable
from pathlib import Path

_EVER = (2000, 1, 1, 0, 0, 0)


def zip_parts(parts: Iterable[tuple[str, bytes]], archive: zipfile.ZipFile) -> None:
    """Add these parts, by name and content, in this order and under one date."""
    for name, content in parts:
        stamped = zipfile.ZipInfo(name, _EVER)
        stamped.compress_type, stamped.create_system, stamped.external_attr = zipfile.ZIP_DEFLATED, 3, 0o600 << 16
        archive.writestr(stamped, content)


def zip_folder(folder: Path, file: Path) -> None:
    """Everything in a folder as one file, under the folder's name."""
    found = sorted(each for each in folder.rglob("*") if each.is_file())
    with zipfile.ZipFile(file, "w") as archive:
        zip_parts(((each.relative_to(folder.parent).as_posix(), each.read_bytes()) for each in found), archive)
