"""The sign-in page: a name and a password become a new session. Whoever guesses waits, longer each time."""

from dataclasses import dataclass
from functools import partial

from anyio import CapacityLimiter, to_thread
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from county import signing_in
from county.domain.people import Account
from county.errors import Busy
from county.guesses import Guesses
from county.signing_in import BY_PASSWORD, WrongPassword
from dashboard import words
from dashboard.sign_in import guard
from dashboard.sign_in.counter import Counter, TooLarge, further
from dashboard.sign_in.forms import Elsewhere

HASHES_AT_ONCE = 2
"""A hash takes 19 MiB and a core for a while, however many people try."""


@dataclass(slots=True)
class ComingIn:
    """Signs people in. A browser from which they have signed in before is held to its own tries alone, so that
    nobody can keep a person out by guessing under their name from elsewhere.
    """

    counter: Counter
    by_name: Guesses
    by_address: Guesses
    _hashing: CapacityLimiter | None = None

    async def ask(self, request: Request) -> Response:
        """The page with the form; whoever is signed in already goes on."""
        to = further(request.query_params.get("next", "/"))
        signed_in = await self.counter.signed_in(request)
        if signed_in:
            return self.counter.led_on(guard.PASSWORD if signed_in.must_change else to)
        return self._page(request, to)

    async def sign_in(self, request: Request) -> Response:
        """Take the form: a session that did not exist before, whatever the browser brought along."""
        try:
            said = await self.counter.filled_in(request)
        except (Elsewhere, TooLarge) as error:
            return self._page(request, "/", str(error), status=403)
        name, password, to = said.get("name", "").strip(), said.get("password", ""), further(said.get("next", "/"))
        try:
            account = await self._checked(request, name, password)
        except WrongPassword as error:
            return self._page(request, to, str(error), name, 403)
        except Busy as busy:
            says = f"Too many tries. Try again in {words.counted(busy.seconds, 'second')}."
            response = self._page(request, to, says, name, 429)
            response.headers["retry-after"] = str(busy.seconds)
            return response
        return await self.let_in(request, account, BY_PASSWORD, guard.PASSWORD if account.must_change else to)

    async def let_in(self, request: Request, account: Account, how: str, to: str) -> Response:
        """Begin a session and go on; a session that this browser had ends."""
        before = self.counter.cookies.session(request)
        office = self.counter.office
        token = await run_in_threadpool(signing_in.begin_session, office, account, how, before)
        self.counter.people.forget(before)
        response = self.counter.led_on(to)
        self.counter.cookies.give_session(response, token, account.name)
        return response

    async def _checked(self, request: Request, name: str, password: str) -> Account:
        """The account behind a name and password. Raises WrongPassword, or Busy to a guesser."""
        slowed = self._slowed(request, name)
        for guesses, who in slowed:
            guesses.may_try(who)
        self._hashing = self._hashing or CapacityLimiter(HASHES_AT_ONCE)
        check = partial(signing_in.check_password, self.counter.office, name, password)
        try:
            account = await to_thread.run_sync(check, limiter=self._hashing)
        except WrongPassword:
            for guesses, who in slowed:
                guesses.was_wrong(who)
            address = self.counter.hosts.address(request)
            await run_in_threadpool(
                signing_in.sign_in_failed, self.counter.office, name, address, "not the right password"
            )
            raise
        for guesses, who in slowed[:1]:
            guesses.was_right(who)
        return account

    def _slowed(self, request: Request, name: str) -> list[tuple[Guesses, str]]:
        """Against what a wrong try is held."""
        browser = self.counter.cookies.known_browser(request, name)
        if browser:
            return [(self.by_name, f"browser {browser}")]
        plain = " ".join(name.split()).casefold()
        return [(self.by_name, f"name {plain}"), (self.by_address, self.counter.hosts.address(request))]

    def _page(self, request: Request, to: str, says: str = "", name: str = "", status: int = 200) -> Response:
        provider = self.counter.office.settings.signing.provider is not None
        return self.counter.shown(request, "sign_in", status, says=says, name=name[:60], next=to, provider=provider)
