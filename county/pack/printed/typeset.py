"""Pages as PDF by Typst: nothing is fetched, no font of the machine is used, the same words give the same bytes."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

import typst

_HERE = Path(__file__).parent


def pdf(page: str, told: Mapping[str, object]) -> bytes:
    """The page of this name, such as `report`, as a PDF of what is told."""
    (only,) = _compiled(page, told, "pdf")
    return only


def png(page: str, told: Mapping[str, object], dots_per_inch: float = 100) -> list[bytes]:
    """The same pages as pictures."""
    return _compiled(page, told, "png", dots_per_inch)


def _compiled(page: str, told: Mapping[str, object], form: Literal["pdf", "png"], ppi: float = 100) -> list[bytes]:
    # what is told goes in as data, so that no text in it can be taken for a command of the typesetter
    made: object = typst.compile(
        _HERE / f"{page}.typ",
        root=_HERE,
        format=form,
        ppi=ppi,
        ignore_system_fonts=True,
        timestamp=0,
        sys_inputs={"told": json.dumps(told, ensure_ascii=False)},
    )
    return [each for each in (made if isinstance(made, list) else [made]) if isinstance(each, bytes)]
