"""The rover's page as HTML, and what of it changes while it is open."""

import secrets
from collections.abc import Mapping
from pathlib import Path

from ingest.phone.pages import Pages
from ingest.rovers_page.rover_view import RoverView

ROVER = Pages(under="/rover/", name="rover", page="page", whose="rover", folder=Path(__file__).parent)


def new_key() -> str:
    """A key for a form that has not been sent yet."""
    return f"rover-{secrets.token_hex(12)}"


def _no_key() -> str:
    """What the script puts its own key into; a key of ours would make every answer look new."""
    return ""


def rover_page(
    view: RoverView, clock: Mapping[str, object], told: str = "", lacks: Mapping[str, str] | None = None
) -> str:
    """The whole page. `told` is the case of which something was just kept, `lacks` what a form lacked, by case."""
    return ROVER.render(
        "rover.html",
        view=view,
        plan=view.plan,
        clock=clock,
        told=told,
        lacks=lacks or {},
        new_key=new_key,
    )


def rover_state(view: RoverView) -> dict[str, object]:
    """What changes while the page is open: the sentence, each assignment as a part of the page, what was cleared."""
    parts = ROVER.parts("parts.html")
    return {
        "sentence": view.sentence,
        "assignments": [
            {
                "case": each.case.case,
                "anchor": each.anchor,
                "effect": each.case.effect.value,
                "reached": each.reached,
                "html": str(parts.inside(view, each, _no_key, number == 0, "")),
            }
            for number, each in enumerate(view.assignments)
        ],
        "cleared": str(parts.cleared(view)),
    }
