"""A table as a page prints it."""

from collections.abc import Mapping
from typing import NamedTuple

from county.pack.table import Table


class Part(NamedTuple):
    """A table as it is printed: its title (none for the section's own), rows, columns, and what to know of it.

    `most` are so many rows in a large county, where other than usual.
    """

    title: str
    table: Table
    columns: Mapping[str, float]
    says: str = ""
    most: int | None = None
