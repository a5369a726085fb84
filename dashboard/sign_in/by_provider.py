"""Signing in by the county's own provider: the provider says who, the people at the office say what for."""

import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from dataclasses import asdict, dataclass

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from county import signing_in
from county.person_facts import REAL
from county.signing_in import BY_PROVIDER
from dashboard.sign_in.coming_in import ComingIn
from dashboard.sign_in.counter import Counter, further
from dashboard.sign_in.openid import LASTS, Journey, NotTrusted, OpenId

_FAILED, _UNKNOWN = "Nobody was signed in", "You are not on this board"


@dataclass(frozen=True, slots=True)
class ByProvider:
    """The way to the provider, and back to the same session as any other."""

    counter: Counter
    coming_in: ComingIn
    openid: OpenId

    async def there(self, request: Request) -> Response:
        """Send a person to the provider; what must come back with them is kept in a cookie of this browser's."""
        journey = Journey.begun(further(request.query_params.get("next", "/")))
        try:
            response = self.counter.led_on(await self.openid.way_there(journey))
        except NotTrusted as error:
            return await self._refused(request, str(error), 502)
        self.counter.cookies.give_journey(response, _written(journey), int(LASTS.total_seconds()))
        return response

    async def back(self, request: Request) -> Response:
        """Take a person in who comes back; each journey is good once."""
        journey = _read(self.counter.cookies.journey(request))
        try:
            if journey is None:
                raise NotTrusted("not begun in this browser, or too long ago")
            subject = await self.openid.whom(journey, request.query_params)
        except NotTrusted as error:
            return await self._refused(request, str(error), 403)
        account = await run_in_threadpool(signing_in.account_known_as, self.counter.office, subject)
        if account is None:
            return await self._unknown(request, subject)
        response = await self.coming_in.let_in(request, account, BY_PROVIDER, journey.to)
        self.counter.cookies.drop_journey(response)
        return response

    async def _refused(self, request: Request, why: str, status: int) -> Response:
        await self._written_down(request, f"provider: {why}")
        says = f"The county's sign-in did not work: {why}. Try once more, or sign in with a password of this board."
        return self._page(request, _FAILED, says, status)

    async def _unknown(self, request: Request, subject: str) -> Response:
        await self._written_down(request, "provider: nobody is known so")
        says = (
            f"The county's sign-in says that you are {subject[:200]}. Nobody on this board is known so, or the account "
            "has ended. The desk lead can add you."
        )
        return self._page(request, _UNKNOWN, says, 403)

    async def _written_down(self, request: Request, why: str) -> None:
        address = self.counter.hosts.address(request)
        await run_in_threadpool(signing_in.sign_in_refused, self.counter.office, address, why)

    def _page(self, request: Request, title: str, says: str, status: int) -> Response:
        response = self.counter.shown(request, "refused", status, title=title, says=says)
        self.counter.cookies.drop_journey(response)
        return response


def _written(journey: Journey) -> str:
    said = json.dumps({**asdict(journey), "begun": REAL.now().timestamp()})
    return urlsafe_b64encode(said.encode()).decode()


def _read(said: str) -> Journey | None:
    """The journey as it was kept; None where there is none, or it has taken too long."""
    if not said:
        return None
    kept = json.loads(urlsafe_b64decode(said))
    if REAL.now().timestamp() - kept.pop("begun") > LASTS.total_seconds():
        return None
    return Journey(**kept)
