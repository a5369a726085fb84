"""The sheet for any browser: a page, and a plain form for each step that needs no script."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from county.domain.intake import Hand
from county.domain.receipts import Outcome
from county.errors import PollriseError
from ingest.officers_page.desk_side import DeskSide
from ingest.officers_page.door_name import DOOR
from ingest.officers_page.pages import SHEET, sheet_page
from ingest.officers_page.reading import read_forms
from ingest.officers_page.troubled import Troubled
from ingest.phone.answers import page
from ingest.phone.forms import Form, posted_form, see
from ingest.phone.sign_in import own_page_only

# where the page opens after a form that is no step's
_OPENS_AT: Mapping[str, str] = MappingProxyType(
    {"help": "#office", "over": "#office", "withdraw": "#office", "seen": "#messages"}
)


@dataclass(frozen=True, slots=True)
class PlainDoor:
    """GET and POST /at/{place}."""

    desk: DeskSide

    async def get(self, request: Request) -> Response:
        """The sheet, to whoever has the place's key; with `?k=KEY` the way in from the card."""
        try:
            place = await self.desk.place(request)
            if request.path_params["place"] != place.place:
                return see(f"{SHEET.path(place.place)}{f'?{request.url.query}' if request.url.query else ''}")
            key = request.query_params.get("k")
            if key is not None:
                return await self._let_in(request, key, place.place)
            await self.desk.sign_in.by_cookie(request, place.place)
            return self._sheet(request, place.place)
        except PollriseError as error:
            return SHEET.refusal(request, error, request.path_params["place"])

    async def post(self, request: Request) -> Response:
        """One form: what was typed is kept and the sheet shown again, or the form with what it lacks."""
        try:
            own_page_only(request)
            place = (await self.desk.place(request)).place
            form = await posted_form(request)
            if form.get("form") == "sign-in":
                return await self._let_in(request, form.get("k", ""), place)
            sender = await self.desk.sign_in.by_cookie(request, place)
            troubled = self._troubled(form, place)
            if troubled.problems:
                return self._sheet(request, place, troubled, 422)
            receipt = (await self.desk.keep([form], place, sender))[0]
            if receipt.outcome is Outcome.CONFLICT:
                return page(request, SHEET.word("Sent already", _twice(receipt.says), place), 409)
            return see(f"{SHEET.path(place)}?told={quote(form.get('anchor', ''))}{self._shown_next(form, place)}")
        except PollriseError as error:
            return SHEET.refusal(request, error, request.path_params["place"])

    def _sheet(self, request: Request, place: str, troubled: Troubled | None = None, status: int = 200) -> Response:
        view = self.desk.view(place)
        told = request.query_params.get("told", "")
        again = request.query_params.get("again", "")
        asked = request.query_params.get("step", "")
        about = request.query_params.get("about", "")
        clock = self.desk.side.clock()
        html = sheet_page(view, clock, troubled or Troubled(), told=told, again=again, asked=asked, about=about)
        return page(request, html, status)

    async def _let_in(self, request: Request, key: str, place: str) -> Response:
        await self.desk.sign_in.by_key(request, key, place)
        answer = see(SHEET.path(place))
        self.desk.sign_in.remember(answer, request, key, place)
        return answer

    def _troubled(self, form: Form, place: str) -> Troubled:
        """Read the form without keeping it, so that what it lacks is asked for and not set aside."""
        clock = self.desk.side.office.clock
        hand = Hand("", "", DOOR, clock.now(), clock.word, place)
        read = read_forms([form], self.desk.side.picture, place, hand)[0]
        return Troubled(form.get("anchor", ""), form, read.problems)

    def _shown_next(self, form: Form, place: str) -> str:
        """Where the page opens: at the same task where something was found, at trouble told, else at what is next."""
        anchor = form.get("anchor", "")
        stopped = any(task.anchor == anchor and task.stop for task in self.desk.view(place).tasks)
        return f"#{quote(anchor)}" if stopped else _OPENS_AT.get(form.get("form", ""), "")


def _twice(says: str) -> str:
    return f"This form was sent before with other words in it. Both are kept; the office looks at the second. {says}"
