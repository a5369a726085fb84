"""A password of one's own, and the way out of the board, with a note for whoever has the desk next."""

from dataclasses import dataclass

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from county import handing_over, signing_in
from county.domain.passwords import SHORTEST
from county.domain.people import SignedIn
from county.domain.roles import Deed, may
from county.errors import Busy, NotAllowed, Refused
from county.guesses import Guesses
from county.person_facts import REAL
from county.signing_in import WrongPassword
from dashboard import words
from dashboard.sign_in import guard
from dashboard.sign_in.counter import Counter, further


@dataclass(frozen=True, slots=True)
class GoingOut:
    """Signs people out, and changes their password. The guard lets nobody here who is not signed in."""

    counter: Counter
    guesses: Guesses

    async def ask_password(self, request: Request) -> Response:
        """The page where a person chooses a password of their own."""
        signed_in = await self.counter.signed_in(request)
        to = further(request.query_params.get("next", "/"))
        return self._password_page(request, signed_in, to) if signed_in else self.counter.led_on(guard.SIGN_IN)

    async def change_password(self, request: Request) -> Response:
        """Take it: every session of this person ends, and a new one begins."""
        signed_in = await self.counter.signed_in(request)
        if signed_in is None:
            return self.counter.led_on(guard.SIGN_IN)
        to = "/"
        try:
            said = await self.counter.filled_in(request)
            to = further(said.get("next", "/"))
            self.guesses.may_try(signed_in.session)
            token = await run_in_threadpool(self._changed, signed_in, said)
        except WrongPassword:
            self.guesses.was_wrong(signed_in.session)
            return self._password_page(request, signed_in, to, "That is not your password up to now.", 403)
        except Busy as busy:
            says = f"Too many tries. Try again in {words.counted(busy.seconds, 'second')}."
            return self._password_page(request, signed_in, to, says, 429)
        except Refused as refused:
            says = f"The new password {refused.problems[0].says}."
            return self._password_page(request, signed_in, to, says, 422)
        except NotAllowed as error:
            return self._password_page(request, signed_in, to, str(error), 403)
        response = self.counter.led_on(to)
        self.counter.cookies.give_session(response, token, signed_in.name)
        self.counter.people.forget(signed_in.session)
        return response

    async def ask_out(self, request: Request) -> Response:
        """The page that asks whether to sign out, and for a note."""
        signed_in = await self.counter.signed_in(request)
        return self._out_page(request, signed_in) if signed_in else self.counter.led_on(guard.SIGN_IN)

    async def sign_out(self, request: Request) -> Response:
        """End the session; the cookie is of no use to anybody after that."""
        signed_in = await self.counter.signed_in(request)
        try:
            said = await self.counter.filled_in(request)
        except NotAllowed:
            return self._out_page(request, signed_in, 403) if signed_in else self.counter.led_on(guard.SIGN_IN)
        if signed_in:
            await run_in_threadpool(self._gone, signed_in, said.get("note", ""))
            self.counter.people.forget(signed_in.session)
        response = self.counter.led_on(guard.SIGN_IN)
        self.counter.cookies.drop_session(response)
        return response

    def _gone(self, signed_in: SignedIn, note: str) -> None:
        if note.strip() and self._hands_over(signed_in):
            handing_over.leave(self.counter.office, signed_in.name, note)
        signing_in.sign_out(self.counter.office, signed_in)

    def _hands_over(self, signed_in: SignedIn) -> bool:
        """An archive's desk is handed over to nobody, and neither is one that a person has not got to yet."""
        archived = self.counter.office.archive is not None
        return may(signed_in.role, Deed.HAND_OVER) and not signed_in.must_change and not archived

    def _changed(self, signed_in: SignedIn, said: dict[str, str]) -> str:
        if said.get("new", "") != said.get("again", ""):
            raise NotAllowed("The new password was not typed the same twice.")
        return signing_in.change_password(self.counter.office, signed_in, said.get("former", ""), said.get("new", ""))

    def _password_page(
        self, request: Request, signed_in: SignedIn, to: str, says: str = "", status: int = 200
    ) -> Response:
        first = signed_in.must_change
        return self.counter.shown(
            request, "password", status,
            says=says, name=signed_in.name, first=first, next=to, shortest=SHORTEST,
        )  # fmt: skip

    def _out_page(self, request: Request, signed_in: SignedIn, status: int = 200) -> Response:
        return self.counter.shown(
            request, "sign_out", status,
            name=signed_in.name, role=signed_in.role.value, since=words.span(REAL.now() - signed_in.since),
            hands_over=self._hands_over(signed_in),
        )  # fmt: skip
