"""The mark of a closed record: which election a data store holds the archive of, and as of when."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class ArchiveMark:
    """An archive that was opened: nothing is added to it. `as_of` is its last entry's moment (aware UTC)."""

    election: str
    as_of: datetime
    digest: str

    def __str__(self) -> str:
        return f"the archive of {self.election}"
