"""Cards as a PDF, two to a Letter page, by Typst; nothing is fetched and no font of the machine is used."""

import io
import json
from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Literal

import segno
import typst

from county.cards.card import Card
from county.domain.plan import Plan

_PAGE = Path(__file__).with_name("cards.typ")
_WORDS = ("office",)


def cards_pdf(cards: Iterable[Card], plan: Plan) -> bytes:
    """The cards, as a PDF."""
    return _printed(cards, plan, "pdf")[0]


def cards_png(cards: Iterable[Card], plan: Plan, dots_per_inch: float = 150) -> list[bytes]:
    """The same pages as pictures."""
    return _printed(cards, plan, "png", dots_per_inch)


def _printed(cards: Iterable[Card], plan: Plan, form: Literal["pdf", "png"], ppi: float = 150) -> list[bytes]:
    election = plan.election
    words = {
        "county": election.county,
        "election": f"{election.name}, {election.date:%B} {election.date.day}, {election.date.year}",
        "rehearsal": election.rehearsal,
        "phone": plan.reach.phone,
        "text_line": plan.reach.text_line,
        **{name: plan.word(name) for name in _WORDS},
    }
    printed = [{**asdict(card), "code": _square_code(card.way_in)} for card in cards]
    told = json.dumps({"words": words, "cards": printed}, ensure_ascii=False)
    # the keys go from memory to memory: nothing but the finished file is ever written down
    pages: object = typst.compile(
        _PAGE.read_bytes(), format=form, ppi=ppi, ignore_system_fonts=True, sys_inputs={"told": told}
    )
    # one page comes by itself, several in a list, whatever the library's types say
    return [page for page in (pages if isinstance(pages, list) else [pages]) if isinstance(page, bytes)]


def _square_code(way_in: str) -> str:
    """A QR code that is still read with 15 % of it lost; its quiet zone is part of it."""
    drawn = io.BytesIO()
    segno.make_qr(way_in, error="m").save(drawn, kind="svg", border=4, xmldecl=False, svgns=True)
    return drawn.getvalue().decode()
