"""Rows of marks along time, as values: what a chart of a morning or of a place's day is made of."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from dashboard.theme import BLUE, GREEN, MIDTONE, ORANGE, VERMILLION

Look = tuple[str, str, bool]
"""A shape's name, its colour, and whether it is filled."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One mark at a moment (UTC); `kind` is a key of SPOTS, `says` is shown under the pointer."""

    at: datetime
    kind: str
    says: str


@dataclass(frozen=True, slots=True)
class Span:
    """A length of time; `kind` is a key of SPANS."""

    begins: datetime
    ends: datetime
    kind: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its id, its name at the left, its words at the right, when it opens or closes, and what it holds.

    `mark` is a key of theme.MARKS, drawn at the row's beginning; empty for none.
    """

    id: str
    name: str
    note: str
    mark: str
    opens_at: datetime
    spots: tuple[Spot, ...] = ()
    spans: tuple[Span, ...] = ()
    rule_says: str = "opens"


_STROKE = "M0,-1.7L0,1.7"
"""An upright stroke as a path, so high that it stands out of a band."""
SPOTS: Mapping[str, Look] = MappingProxyType(
    {
        "done": ("circle", BLUE, True),
        "missing": ("circle", VERMILLION, False),
        "due": ("circle", MIDTONE, False),
        "count": ("triangle-up", BLUE, True),
        "likely-on-course": (_STROKE, BLUE, False),
        "likely-perhaps": (_STROKE, ORANGE, False),
        "likely-late": (_STROKE, VERMILLION, False),
    }
)
SPANS: Mapping[str, tuple[str, float, float]] = MappingProxyType(
    {
        "way": (BLUE, 2, 0.35),
        "likely-on-course": (BLUE, 5, 0.16),
        "likely-perhaps": (ORANGE, 9, 0.5),
        "likely-late": (VERMILLION, 9, 0.5),
        "stopped": (VERMILLION, 9, 1),
        "danger": (VERMILLION, 9, 1),
        "impaired": (ORANGE, 9, 1),
        "at-risk": (ORANGE, 5, 0.75),
        "record": (MIDTONE, 5, 0.75),
        "ended": (GREEN, 5, 0.75),
    }
)
"""Colour, thickness in pixels, and opacity."""
