"""Rovers' sheets as a PDF, one to a Letter page, by Typst; nothing is fetched and no font of the machine is used."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Literal
from zoneinfo import ZoneInfo

import typst

from county.domain.plan import Plan
from county.rover_sheet.sheet import Sheet

_PAGE = Path(__file__).with_name("sheet.typ")


def sheets_pdf(sheets: Sequence[Sheet], plan: Plan, now: datetime) -> bytes:
    """The sheets as of `now` (aware UTC), as a PDF: the same sheets at the same moment are the same bytes."""
    return _printed(sheets, plan, now, "pdf")[0]


def sheets_png(sheets: Sequence[Sheet], plan: Plan, now: datetime, dots_per_inch: float = 100) -> list[bytes]:
    """The same pages as pictures."""
    return _printed(sheets, plan, now, "png", dots_per_inch)


def _printed(
    sheets: Sequence[Sheet], plan: Plan, now: datetime, form: Literal["pdf", "png"], ppi: float = 100
) -> list[bytes]:
    election = plan.election
    at = now.astimezone(ZoneInfo(election.zone))
    words = {
        "incident": f"{election.name}, {election.county}",
        "date": f"{election.date:%m/%d/%Y}",
        "at": f"{at:%m/%d/%Y %H:%M %Z}",
        "rehearsal": election.rehearsal,
        "office": plan.word("office"),
        "rover": plan.word("rover"),
        "phone": plan.reach.phone,
    }
    told = json.dumps({"words": words, "sheets": [asdict(sheet) for sheet in sheets]}, ensure_ascii=False)
    pages: object = typst.compile(
        _PAGE.read_bytes(), format=form, ppi=ppi, ignore_system_fonts=True, sys_inputs={"told": told}
    )
    # one page comes by itself, several in a list, whatever the library's types say
    return [page for page in (pages if isinstance(pages, list) else [pages]) if isinstance(page, bytes)]
