"""The files a roster is read from, and how large they may be: far larger than any county's list, and no larger."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from pathlib import Path, PurePath
from typing import BinaryIO

MB = 1024 * 1024
LARGEST_TABLE = 16 * MB
"""20,000 places with 40,000 devices and all their seals come to a tenth of this."""
LARGEST_FEED = 1024 * MB
"""A whole state's XML feed with its street segments; it is read as it comes and never held."""
LARGEST_UNPACKED = 48 * MB
"""What a workbook or an archive may come to, unpacked."""


@dataclass(frozen=True, slots=True)
class RosterFile:
    """A file by its name, its size in bytes, and a way to open it."""

    name: str
    size: int
    open: Callable[[], BinaryIO]

    @classmethod
    def at(cls, path: Path) -> "RosterFile":
        """A file on the disk; whether it is there is seen when it is opened."""
        return cls(path.name, path.stat().st_size if path.is_file() else 0, lambda: path.open("rb"))

    @classmethod
    def held(cls, name: str, data: bytes) -> "RosterFile":
        """A file that was handed over whole."""
        return cls(PurePath(name).name, len(data), partial(BytesIO, data))

    @property
    def stem(self) -> str:
        """The name without its ending."""
        return PurePath(self.name).stem

    def head(self) -> bytes:
        """The first bytes."""
        with self.open() as opened:
            return opened.read(4096)
