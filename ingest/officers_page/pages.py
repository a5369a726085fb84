"""The sheet's pages as HTML. Everything that came from outside is escaped by the template engine, without exception."""

import json
import secrets
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from county.domain.moments import write_moment
from ingest.officers_page.asks import COUNT
from ingest.officers_page.assets import AT, WORKER, urls
from ingest.officers_page.sheet_view import SheetView
from ingest.officers_page.troubled import Troubled

_TEMPLATES = Environment(
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


def new_key() -> str:
    """A key for a form that has not been sent yet."""
    return f"sheet-{secrets.token_hex(12)}"


def _no_key() -> str:
    """What the script puts its own key into; a key of ours would make every answer look new."""
    return ""


def sheet_page(
    view: SheetView, clock: Mapping[str, object], troubled: Troubled, told: str = "", again: str = "", about: str = ""
) -> str:
    """The whole sheet. `clock` is the office's time for the script; `troubled` is what a form lacked.

    Without a script: `told` is the anchor of what was just kept, `again` of what is to be put right, `about` the
    device that something is wrong with.
    """
    words = {"told": told, "again": again, "about": about}
    return _render(
        "sheet.html", view=view, clock=clock, troubled=troubled, COUNT=COUNT, new_key=new_key, plan=view.plan, **words
    )


def sheet_state(view: SheetView) -> str:
    """What changes while the sheet is open, as JSON: how far each task is, and the parts of the page to be put in."""
    parts = _TEMPLATES.get_template("parts.html").module
    tasks = {
        task.anchor: {"key": task.key, "stop": task.stop, "html": str(parts.reported(view, task))}  # type: ignore[attr-defined]
        for task in view.tasks
        if task.done
    }
    state = {
        "tasks": tasks,
        "office": str(parts.office(view, _no_key)),  # type: ignore[attr-defined]
        "counts": str(parts.counts(view)),  # type: ignore[attr-defined]
        "closing_from": write_moment(view.closing_from),
    }
    return json.dumps(state, separators=(",", ":"))


def key_page(place: str, says: str = "", *, busy: int = 0) -> str:
    """The page that asks for the key on the card."""
    return _render("key.html", place=place, says=says, busy=busy)


def word_page(title: str, says: str, place: str = "") -> str:
    """A page that says one thing, with the way back where there is one."""
    return _render("word.html", title=title, says=says, place=place)


def _render(name: str, **values: Any) -> str:
    return _TEMPLATES.get_template(name).render(urls=urls(), worker=f"{AT}/{WORKER}", **values)
