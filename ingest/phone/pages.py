"""Pages as HTML: everything that came from outside is escaped by the template engine, without exception."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from types import ModuleType
from typing import Any
from urllib.parse import quote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import Response

from county.errors import Busy, NotAllowed, NotFound, PollriseError, Refused, UnknownKey
from ingest.body import TooLarge, TooSlow
from ingest.phone.answers import page
from ingest.phone.assets import SHARED, Assets
from ingest.phone.sign_in import NoKey
from ingest.writer import CannotKeep

_SHARED = Path(__file__).parent / "templates"
_SEND_AGAIN = "Go back, and send it again in a moment. Nothing was lost: it is still in the form."


@dataclass(frozen=True)
class Pages:
    """One kind of page for phones, lying under a path such as `/at/`, its templates and files in `folder`.

    In words it is a `page` (such as sheet) of a `whose` (such as place). `name` names what phones keep of it.
    """

    under: str
    name: str
    page: str
    whose: str
    folder: Path

    @property
    def store(self) -> str:
        """What the worker's store on the phone is called."""
        return f"pollrise-{self.name}-1"

    @cached_property
    def assets(self) -> Assets:
        return Assets.of(self.under, self.store, (SHARED, self.folder / "assets"))

    @cached_property
    def _templates(self) -> Environment:
        return Environment(
            loader=FileSystemLoader([self.folder / "templates", _SHARED]),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )

    def path(self, name: str) -> str:
        """Where the page of this name lies."""
        return f"{self.under}{quote(name, safe='')}"

    def parts(self, template: str) -> ModuleType:
        """The macros of a template, each of which makes a part of a page."""
        return self._templates.get_template(template).module  # type: ignore[return-value]

    def render(self, template: str, **values: Any) -> str:
        """A whole page."""
        return self._templates.get_template(template).render(urls=self.assets.urls, pages=self, **values)

    def word(self, title: str, says: str, name: str = "") -> str:
        """A page that says one thing, with the way back where there is one."""
        return self.render("word.html", title=title, says=says, back=self.path(name) if name else "")

    def refusal(self, request: Request, error: PollriseError, name: str) -> Response:
        """What a person is told instead of the page of this name."""
        if isinstance(error, UnknownKey | Busy):
            return self._asks_for_key(request, error, name)
        if isinstance(error, NotAllowed):
            return page(request, self.word(f"Not this {self.page}", f"{str(error)[:1].upper()}{str(error)[1:]}."), 403)
        if isinstance(error, NotFound):
            return page(request, self.word(f"No such {self.whose}", str(error)), 404)
        if isinstance(error, TooLarge | TooSlow | Refused):
            says = f"The form was larger than any form of this {self.page}."
            return page(request, self.word("That was too much", says), 413)
        status = 503 if isinstance(error, CannotKeep) else 500
        return page(request, self.word("Not kept yet", _SEND_AGAIN, name), status, {"retry-after": "2"})

    def _asks_for_key(self, request: Request, error: UnknownKey | Busy, name: str) -> Response:
        says, status, headers = "", 401, {}
        if isinstance(error, Busy):
            says, status = f"Too many tries. Wait {error.seconds} s, then try again.", 429
            headers = {"retry-after": str(error.seconds)}
        elif not isinstance(error, NoKey):
            says = "This key is not known, or it was ended. Ask the office for the card that is valid now."
        return page(request, self.render("key.html", of=name, says=says), status, headers)
