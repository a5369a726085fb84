"""Every path in front of the board, and the guard that stands there."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import BaseRoute, Route

from county.guesses import Guesses
from county.signing_in import signing_key
from county.wiring import Office
from dashboard.people_now import PeopleNow
from dashboard.sign_in import guard
from dashboard.sign_in.coming_in import ComingIn
from dashboard.sign_in.cookies import Cookies
from dashboard.sign_in.counter import Counter
from dashboard.sign_in.going_out import GoingOut
from dashboard.sign_in.guard import Guard
from dashboard.sign_in.hosts import hosts_of
from dashboard.sign_in.pages import look

FREE_BY_NAME, FREE_BY_ADDRESS = 5, 20
"""Wrong tries that cost nothing, under one name and from one address."""
_ICON = Path(__file__).parents[1] / "icon.png"
_KEPT = {"cache-control": "public, max-age=3600", "x-content-type-options": "nosniff"}


@dataclass(frozen=True, slots=True)
class Door:
    """The board's door: its own pages, and the guard in front of all others."""

    counter: Counter
    timer: Callable[[], float] = time.monotonic
    """In seconds; by it those who guess wait."""

    def routes(self) -> list[BaseRoute]:
        """The pages that are reached before anybody is signed in, and the way out."""
        coming_in = ComingIn(
            self.counter, Guesses(free=FREE_BY_NAME, timer=self.timer), Guesses(free=FREE_BY_ADDRESS, timer=self.timer)
        )
        going_out = GoingOut(self.counter, coming_in.by_name)
        return [
            Route(guard.SIGN_IN, coming_in.ask, methods=["GET"]),
            Route(guard.SIGN_IN, coming_in.sign_in, methods=["POST"]),
            Route(guard.PASSWORD, going_out.ask_password, methods=["GET"]),
            Route(guard.PASSWORD, going_out.change_password, methods=["POST"]),
            Route(guard.SIGN_OUT, going_out.ask_out, methods=["GET"]),
            Route(guard.SIGN_OUT, going_out.sign_out, methods=["POST"]),
            Route(guard.LOOK, _look, methods=["GET"]),
            Route(guard.ICON, _icon, methods=["GET"]),
            *self._provider_routes(coming_in),
        ]

    def _provider_routes(self, coming_in: ComingIn) -> list[BaseRoute]:
        signing = self.counter.office.settings.signing
        if signing.provider is None:
            return []
        # Authlib takes a moment to import, and most boards need none of it
        from dashboard.sign_in.by_provider import ByProvider
        from dashboard.sign_in.openid import OpenId

        way = ByProvider(self.counter, coming_in, OpenId(signing.provider, f"{signing.address}{guard.BACK}"))
        return [
            Route(guard.TO_PROVIDER, way.there, methods=["GET"]),
            Route(guard.BACK, way.back, methods=["GET"]),
        ]

    def guard(self) -> Middleware:
        """What stands in front of everything."""
        counter = self.counter
        return Middleware(Guard, people=counter.people, cookies=counter.cookies, hosts=counter.hosts)


def door_of(office: Office, people: PeopleNow, timer: Callable[[], float] = time.monotonic) -> Door:
    """The door that the office's settings ask for; its cookies stay good when the board is started anew."""
    settings = office.settings
    cookies = Cookies(signing_key(office), settings.board_port, settings.signing.secure)
    return Door(Counter(office, people, cookies, hosts_of(settings)), timer)


async def _look(request: Request) -> Response:
    return Response(look(), 200, _KEPT, "text/css; charset=utf-8")


async def _icon(request: Request) -> Response:
    return FileResponse(_ICON, headers=_KEPT)
