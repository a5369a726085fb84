"""A form is taken only from the page it was given on: its own word must go with the browser's cookie."""

import secrets
from dataclasses import dataclass
from urllib.parse import urlsplit

from starlette.requests import Request

from county.errors import NotAllowed
from dashboard.sign_in.cookies import Cookies

FIELD = "form_word"


class Elsewhere(NotAllowed):
    """A form that was not given out by this board to this browser."""


@dataclass(frozen=True, slots=True)
class GivenForm:
    """What a form carries in a hidden field, and what the browser's cookie must hold beside it."""

    field: str
    cookie: str


@dataclass(frozen=True, slots=True)
class Forms:
    """Gives forms out and takes them back; `origins` are the addresses under which people reach the board."""

    cookies: Cookies
    address: str

    def given(self, request: Request) -> GivenForm:
        """A form for this browser; it keeps the cookie it has, so that two open pages both work."""
        cookie = self.cookies.form(request) or secrets.token_urlsafe(24)
        return GivenForm(self.cookies.signer("form-field").get_signature(cookie.encode()).decode(), cookie)

    def must_be_ours(self, request: Request, field: str) -> None:
        """Raises Elsewhere where a form was sent by another site's page, or is not this browser's own."""
        origin = request.headers.get("origin")
        own = urlsplit(self.address).netloc if self.address else request.headers.get("host", "")
        if origin is not None and urlsplit(origin).netloc != own:
            raise Elsewhere("This form was sent by another site.")
        if request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            raise Elsewhere("This form was sent by another site.")
        cookie = self.cookies.form(request)
        if not cookie or not self.cookies.signer("form-field").verify_signature(cookie.encode(), field):
            raise Elsewhere("This page had grown old. Try once more.")
