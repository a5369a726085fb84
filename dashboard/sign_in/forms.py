"""A form is taken only from the page it was given on: its own word must go with the browser's cookie."""

import secrets
from dataclasses import dataclass

from starlette.requests import Request

from county.errors import NotAllowed
from dashboard.sign_in.cookies import Cookies
from dashboard.sign_in.hosts import Hosts

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
    """Gives forms out and takes them back."""

    cookies: Cookies
    hosts: Hosts

    def given(self, request: Request) -> GivenForm:
        """A form for this browser; it keeps the cookie it has, so that two open pages both work."""
        cookie = self.cookies.form(request) or secrets.token_urlsafe(24)
        return GivenForm(self.cookies.signer("form-field").get_signature(cookie.encode()).decode(), cookie)

    def must_be_ours(self, request: Request, field: str) -> None:
        """Raises Elsewhere where a form was sent by another site's page, or is not this browser's own."""
        if not self.hosts.own_page(request) or request.headers.get("sec-fetch-site", "same-origin") not in (
            "same-origin",
            "none",
        ):
            raise Elsewhere("This form was sent by another site.")
        cookie = self.cookies.form(request)
        if not cookie or not self.cookies.signer("form-field").verify_signature(cookie.encode(), field):
            raise Elsewhere("This page had grown old. Try once more.")
