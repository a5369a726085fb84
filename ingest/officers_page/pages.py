"""The sheet as HTML, and what of it changes while it is open."""

import json
import secrets
from collections.abc import Mapping
from pathlib import Path

from county.domain.moments import write_moment
from ingest.officers_page.asks import COUNT
from ingest.officers_page.sheet_view import SheetView
from ingest.officers_page.troubled import Troubled
from ingest.phone.pages import Pages

SHEET = Pages(under="/at/", name="sheet", page="sheet", whose="place", folder=Path(__file__).parent)


def new_key() -> str:
    """A key for a form that has not been sent yet."""
    return f"sheet-{secrets.token_hex(12)}"


def _no_key() -> str:
    """What the script puts its own key into; a key of ours would make every answer look new."""
    return ""


def sheet_page(
    view: SheetView,
    clock: Mapping[str, object],
    troubled: Troubled,
    told: str = "",
    again: str = "",
    asked: str = "",
    about: str = "",
) -> str:
    """The whole sheet. `clock` is the office's time for the script; `troubled` is what a form lacked.

    Without a script: `told` is the anchor of what was just kept, `again` of what is to be put right, `asked` of the
    step that is to be done now, `about` the device that something is wrong with.
    """
    words = {"told": told, "again": again, "asked": asked, "about": about, "plain": Troubled()}
    return SHEET.render(
        "sheet.html", view=view, clock=clock, troubled=troubled, COUNT=COUNT, new_key=new_key, plan=view.plan, **words
    )


def sheet_state(view: SheetView) -> str:
    """What changes while the sheet is open, as JSON: how far each task is, and the parts of the page to be put in."""
    parts = SHEET.parts("parts.html")
    tasks = {
        task.anchor: {"key": task.key, "stop": task.stop, "html": str(parts.reported(view, task))}
        for task in view.tasks
        if task.done
    }
    state = {
        "tasks": tasks,
        "office": str(parts.office(view, _no_key)),
        "counts": str(parts.counts(view)),
        "messages": str(parts.messages(view, _no_key)),
        "closing_from": write_moment(view.closing_from),
    }
    return json.dumps(state, separators=(",", ":"))
