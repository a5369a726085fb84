"""The rover's page for any browser: a page, and a plain form for each button that needs no script."""

from dataclasses import dataclass
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from county.domain.receipts import Outcome
from county.domain.roster import Rover
from county.errors import PollriseError
from ingest.phone.answers import page
from ingest.phone.forms import posted_form, see
from ingest.phone.sign_in import own_page_only
from ingest.rovers_page.assignment import anchor_of
from ingest.rovers_page.desk_side import RoverSide
from ingest.rovers_page.pages import ROVER, rover_page
from ingest.rovers_page.reading import in_words


@dataclass(frozen=True, slots=True)
class PlainDoor:
    """GET and POST /rover/{rover}."""

    rovers: RoverSide

    async def get(self, request: Request) -> Response:
        """The page, to whoever has the rover's key; with `?k=KEY` the way in from the card."""
        name = request.path_params["rover"]
        try:
            rover = await self.rovers.rover(request)
            key = request.query_params.get("k")
            if key is not None:
                return await self._let_in(request, key, name)
            await self.rovers.sign_in.by_cookie(request, name)
            html = rover_page(
                await self.rovers.view(rover), self.rovers.side.clock(), request.query_params.get("told", "")
            )
            return page(request, html)
        except PollriseError as error:
            return ROVER.refusal(request, error, name)

    async def post(self, request: Request) -> Response:
        """One tap: it is kept and the page shown again, or the page with what was wrong."""
        name = request.path_params["rover"]
        try:
            own_page_only(request)
            rover = await self.rovers.rover(request)
            form = await posted_form(request)
            if form.get("form") == "sign-in":
                return await self._let_in(request, form.get("k", ""), name)
            sender = await self.rovers.sign_in.by_cookie(request, name)
            case = form.get("case", "")
            (read,) = self.rovers.read([form], rover, sender)
            if read.lacks:
                return await self._again(request, rover, case, in_words(read.problems))
            (receipt,) = await self.rovers.keep([form], rover, sender)
            if receipt.outcome in (Outcome.REFUSED, Outcome.CONFLICT):
                return await self._again(request, rover, case, receipt.says)
            return see(f"{ROVER.path(name)}?told={quote(case)}#{anchor_of(case)}")
        except PollriseError as error:
            return ROVER.refusal(request, error, name)

    async def _again(self, request: Request, rover: Rover, case: str, says: str) -> Response:
        view = await self.rovers.view(rover)
        return page(request, rover_page(view, self.rovers.side.clock(), lacks={case: says}), 422)

    async def _let_in(self, request: Request, key: str, name: str) -> Response:
        await self.rovers.sign_in.by_key(request, key, name)
        answer = see(ROVER.path(name))
        self.rovers.sign_in.remember(answer, request, key, name)
        return answer
