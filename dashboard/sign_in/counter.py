"""What every page of the door needs: the office, who asks, the form given out and taken back."""

from dataclasses import dataclass
from urllib.parse import urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from county.domain.people import SignedIn
from county.domain.plan import Plan
from county.errors import NotAllowed
from county.wiring import Office
from dashboard import feed
from dashboard.people_now import PeopleNow
from dashboard.sign_in.cookies import Cookies
from dashboard.sign_in.forms import FIELD, Forms
from dashboard.sign_in.hosts import Hosts
from dashboard.sign_in.pages import page

LARGEST_FORM = 20_000


class TooLarge(NotAllowed):
    """A form longer than any person fills in."""


@dataclass(frozen=True, slots=True)
class Counter:
    """One board's door."""

    office: Office
    people: PeopleNow
    cookies: Cookies
    hosts: Hosts

    @property
    def plan(self) -> Plan:
        """The plan in force: the newest board's, or the one there was when the office was opened."""
        try:
            newest = feed.newest()
        except RuntimeError:
            newest = None
        return newest.plan if newest else self.office.plan

    @property
    def forms(self) -> Forms:
        return Forms(self.cookies, self.hosts)

    async def signed_in(self, request: Request) -> SignedIn | None:
        """Who asks; None where nobody is signed in."""
        mark = self.cookies.session(request)
        return await run_in_threadpool(self.people.of, mark) if mark else None

    async def filled_in(self, request: Request) -> dict[str, str]:
        """A form's fields. Raises Elsewhere where this board did not give it out to this browser, or TooLarge."""
        if int(request.headers.get("content-length") or LARGEST_FORM + 1) > LARGEST_FORM:
            raise TooLarge("That is more than a form of this page holds.")
        async with request.form(max_files=0, max_fields=20) as form:
            said = {name: value for name, value in form.items() if isinstance(value, str)}
        self.forms.must_be_ours(request, said.get(FIELD, ""))
        return said

    def shown(self, request: Request, template: str, status: int = 200, **said: object) -> Response:
        """One of the door's pages, with a form for this browser in it."""
        given = self.forms.given(request)
        response = page(template, self.plan, status, form_word=given.field, **said)
        self.cookies.give_form(response, given.cookie)
        return response

    def led_on(self, to: str) -> RedirectResponse:
        """On to a page of this board."""
        return RedirectResponse(to, 303, {"cache-control": "no-store"})


def further(asked: str) -> str:
    """Where on this board a person wanted to go; the first page where that leads anywhere else."""
    parts = urlsplit(asked)
    own = not parts.scheme and not parts.netloc and asked.startswith("/") and not asked.startswith(("//", "/\\"))
    return asked if own and asked.isprintable() and "\\" not in asked else "/"
