"""The board's cookies: who is signed in, which form was given out, who has signed in from this browser before."""

import hashlib
import secrets
from dataclasses import dataclass
from typing import Literal

from itsdangerous import BadSignature, Signer
from starlette.requests import HTTPConnection
from starlette.responses import Response

from county.signing_in import mark_of

KNOWN_FOR = 90 * 24 * 3600
_BETWEEN = "|"


@dataclass(frozen=True, slots=True)
class Cookies:
    """Every cookie is signed with the board's key, is for this board alone, and no script can read it.

    Boards on other ports of the same machine have cookies of their own. With `secure` they go by https only.
    """

    key: str
    port: int
    secure: bool

    def session(self, asked: HTTPConnection) -> str:
        """The mark of the session in a request's cookie; empty where there is none that was signed here."""
        token = self._read(asked, "session")
        return mark_of(token) if token else ""

    def give_session(self, response: Response, token: str, name: str) -> None:
        """Have the browser keep a session until it is closed, and know that this person signs in from it."""
        self._give(response, "session", token)
        self._give(response, "known", f"{secrets.token_hex(8)}{_BETWEEN}{_of_name(name)}", kept_for=KNOWN_FOR)

    def drop_session(self, response: Response) -> None:
        """Have the browser forget the session."""
        response.delete_cookie(self._named("session"), path="/", secure=self.secure, httponly=True, samesite="lax")

    def known_browser(self, asked: HTTPConnection, name: str) -> str:
        """A word for this browser where this person has signed in from it before; empty where they have not."""
        word, _, known = self._read(asked, "known").partition(_BETWEEN)
        return word if word and known == _of_name(name) else ""

    def form(self, asked: HTTPConnection) -> str:
        """What the form cookie holds; empty where there is none."""
        return self._read(asked, "form")

    def give_form(self, response: Response, word: str) -> None:
        """Have the browser keep the word that goes with the forms it is given; other sites' pages never send it."""
        self._give(response, "form", word, same_site="strict")

    def give_journey(self, response: Response, said: str, seconds: int) -> None:
        """Keep what a person's way to the provider and back needs, for so long."""
        self._give(response, "journey", said, kept_for=seconds)

    def journey(self, asked: HTTPConnection) -> str:
        """What was kept for the way back; empty where there is nothing."""
        return self._read(asked, "journey")

    def drop_journey(self, response: Response) -> None:
        """Forget it: a way back is gone once."""
        response.delete_cookie(self._named("journey"), path="/", secure=self.secure, httponly=True, samesite="lax")

    def signer(self, what: str) -> Signer:
        """What signs, or sees through, one kind of value."""
        return Signer(self.key, salt=f"pollrise.{what}", digest_method=hashlib.sha256)

    def _named(self, what: str) -> str:
        return f"{'__Host-' if self.secure else ''}pollrise_{what}_{self.port}"

    def _read(self, asked: HTTPConnection, what: str) -> str:
        try:
            return self.signer(what).unsign(asked.cookies.get(self._named(what), "")).decode()
        except (BadSignature, UnicodeError):
            return ""

    def _give(
        self,
        response: Response,
        what: str,
        value: str,
        *,
        kept_for: int | None = None,
        same_site: Literal["lax", "strict"] = "lax",
    ) -> None:
        response.set_cookie(
            self._named(what),
            self.signer(what).sign(value).decode(),
            max_age=kept_for,
            path="/",
            secure=self.secure,
            httponly=True,
            samesite=same_site,
        )


def _of_name(name: str) -> str:
    """A person's name as a cookie can hold it, however it is written."""
    return hashlib.sha256(" ".join(name.split()).casefold().encode()).hexdigest()[:32]
