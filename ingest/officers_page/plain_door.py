"""The sheet for any browser: a page, and a plain form for each step that needs no script."""

from dataclasses import dataclass
from urllib.parse import parse_qsl, quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from county.domain.intake import Hand
from county.domain.receipts import Outcome
from county.errors import Busy, NotAllowed, NotFound, PollriseError, Refused, UnknownKey
from ingest.body import TooLarge, TooSlow, read_body
from ingest.officers_page.answers import page
from ingest.officers_page.desk_side import DeskSide
from ingest.officers_page.door_name import DOOR
from ingest.officers_page.forms import Form
from ingest.officers_page.pages import key_page, sheet_page, word_page
from ingest.officers_page.reading import read_forms
from ingest.officers_page.sign_in import NoKey, own_page_only, remember
from ingest.officers_page.troubled import Troubled
from ingest.writer import CannotKeep

MOST_FIELDS = 60
_TAKE_BACK = "Go back, and send it again in a moment. Nothing was lost: it is still in the form."


@dataclass(frozen=True, slots=True)
class PlainDoor:
    """GET and POST /at/{place}."""

    desk: DeskSide

    async def get(self, request: Request) -> Response:
        """The sheet, to whoever has the place's key; with `?k=KEY` the way in from the card."""
        try:
            place = await self.desk.place(request)
            if request.path_params["place"] != place.place:
                return _see(f"{_path(place.place)}{f'?{request.url.query}' if request.url.query else ''}")
            key = request.query_params.get("k")
            if key is not None:
                return await self._let_in(request, key, place.place)
            await self.desk.sign_in.by_cookie(request, place.place)
            return self._sheet(request, place.place)
        except PollriseError as error:
            return _refusal(request, error)

    async def post(self, request: Request) -> Response:
        """One form: what was typed is kept and the sheet shown again, or the form with what it lacks."""
        try:
            own_page_only(request)
            place = (await self.desk.place(request)).place
            form = await _form(request)
            if form.get("form") == "sign-in":
                return await self._let_in(request, form.get("k", ""), place)
            sender = await self.desk.sign_in.by_cookie(request, place)
            troubled = self._troubled(form, place)
            if troubled.problems:
                return self._sheet(request, place, troubled, 422)
            receipt = (await self.desk.keep([form], place, sender))[0]
            if receipt.outcome is Outcome.CONFLICT:
                return page(request, word_page("Sent already", _twice(receipt.says), place), 409)
            return _see(f"{_path(place)}?told={quote(form.get('anchor', ''))}{self._shown_next(form, place)}")
        except PollriseError as error:
            return _refusal(request, error)

    def _sheet(self, request: Request, place: str, troubled: Troubled | None = None, status: int = 200) -> Response:
        view = self.desk.view(place)
        told = request.query_params.get("told", "")
        again = request.query_params.get("again", "")
        about = request.query_params.get("about", "")
        html = sheet_page(view, self.desk.clock(), troubled or Troubled(), told=told, again=again, about=about)
        return page(request, html, status)

    async def _let_in(self, request: Request, key: str, place: str) -> Response:
        await self.desk.sign_in.by_key(request, key, place)
        answer = _see(_path(place))
        remember(answer, request, key, place)
        return answer

    def _troubled(self, form: Form, place: str) -> Troubled:
        """Read the form without keeping it, so that what it lacks is asked for and not set aside."""
        clock = self.desk.office.clock
        hand = Hand("", "", DOOR, clock.now(), clock.word, place)
        read = read_forms([form], self.desk.following.picture, place, hand)[0]
        return Troubled(form.get("anchor", ""), form, read.problems)

    def _shown_next(self, form: Form, place: str) -> str:
        """Where the page opens: at the same task where something was found, at trouble told, else at what is next."""
        anchor = form.get("anchor", "")
        stopped = any(task.anchor == anchor and task.stop for task in self.desk.view(place).tasks)
        return f"#{quote(anchor)}" if stopped else "#office" if form.get("form") in ("help", "over", "withdraw") else ""


async def _form(request: Request) -> Form:
    body = await read_body(request)
    try:
        pairs = parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=MOST_FIELDS)
    except ValueError:
        raise Refused([]) from None
    return dict(pairs)


def _path(place: str) -> str:
    return f"/at/{quote(place, safe='')}"


def _see(address: str) -> Response:
    return RedirectResponse(address, 303, {"cache-control": "no-store", "referrer-policy": "same-origin"})


def _twice(says: str) -> str:
    return f"This form was sent before with other words in it. Both are kept; the office looks at the second. {says}"


def _refusal(request: Request, error: PollriseError) -> Response:
    """What a person is told instead of the sheet."""
    place = request.path_params["place"]
    if isinstance(error, NoKey):
        return page(request, key_page(place), 401)
    if isinstance(error, UnknownKey):
        says = "This key is not known, or it was ended. Ask the office for the card that is valid now."
        return page(request, key_page(place, says), 401)
    if isinstance(error, Busy):
        says = f"Too many tries. Wait {error.seconds} s, then try again."
        return page(request, key_page(place, says), 429, {"retry-after": str(error.seconds)})
    if isinstance(error, NotAllowed):
        return page(request, word_page("Not this sheet", f"{str(error)[:1].upper()}{str(error)[1:]}."), 403)
    if isinstance(error, NotFound):
        return page(request, word_page("No such place", str(error)), 404)
    if isinstance(error, TooLarge | TooSlow | Refused):
        return page(request, word_page("That was too much", "The form was larger than any form of this sheet."), 413)
    status = 503 if isinstance(error, CannotKeep) else 500
    return page(request, word_page("Not kept yet", _TAKE_BACK, place), status, {"retry-after": "2"})
