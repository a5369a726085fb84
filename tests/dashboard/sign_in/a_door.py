"""The board's door, served for real, with one page and one socket behind it that say who reached them."""

import socket
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from pathlib import Path
from threading import Thread

import httpx
import uvicorn
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route, WebSocketRoute
from starlette.types import ASGIApp
from starlette.websockets import WebSocket
from websockets.sync.client import ClientConnection, connect

from county import staffing
from county.domain.people import Person, Role
from county.settings import settings_from
from county.wiring import Office
from dashboard.people_now import PeopleNow
from dashboard.sign_in.door import Door, door_of
from tests.an_office import an_office
from tests.ingest.a_process import free_port

PAGE = {"accept": "text/html"}
ANN = Person("Ann Lee", Role.LEAD)
OWN = "four words that nobody guesses"


@dataclass
class AtTheDoor:
    """A served door: its office, its address, and the way to open it as a new browser would."""

    office: Office
    door: Door
    address: str
    people: PeopleNow
    browsers: list[httpx.Client] = field(default_factory=list)

    def browser(self) -> httpx.Client:
        """A browser that has never been here; it follows no redirects by itself."""
        made = httpx.Client(base_url=self.address, headers=PAGE, trust_env=False, timeout=30)
        self.browsers.append(made)
        return made

    def added(self, name: str = ANN.name, role: Role = ANN.role) -> str:
        """A person with an account; their password, which is their own already."""
        return staffing.add_person(self.office, Person(name, role), must_change=False)

    def signed_in(self, name: str = ANN.name, role: Role = ANN.role) -> httpx.Client:
        """A browser in which this new person has signed in."""
        browser, password = self.browser(), self.added(name, role)
        assert sign_in(browser, name, password).status_code == 303
        return browser

    @contextmanager
    def socket(self, browser: httpx.Client | None, **headers: str) -> Iterator[ClientConnection]:
        """A socket as this browser opens it."""
        cookies = "; ".join(f"{name}={value}" for name, value in browser.cookies.items()) if browser else ""
        more = {**({"Cookie": cookies} if cookies else {}), **headers}
        with connect(f"ws{self.address.removeprefix('http')}/live", additional_headers=more, proxy=None) as made:
            yield made


@contextmanager
def a_door(folder: Path, timer: Callable[[], float] = time.monotonic, /, **settings: str) -> Iterator[AtTheDoor]:
    """A door with these settings, on a port of its own; whoever guesses waits by `timer`."""
    port = free_port()
    told = {name: value.replace("PORT", str(port)) for name, value in settings.items()} | {
        "DATA": str(folder),
        "BOARD_PORT": str(port),
    }
    with an_office(folder) as made:
        office = replace(made, settings=settings_from({f"POLLRISE_{name}": value for name, value in told.items()}))
        people = PeopleNow(office)
        door = door_of(office, people, timer)
        with served(behind(door), port):
            at = AtTheDoor(office, door, f"http://127.0.0.1:{port}", people)
            yield at
            for browser in at.browsers:
                browser.close()


def behind(door: Door) -> Starlette:
    """What stands behind the guard here."""
    routes = [*door.routes(), Route("/", who_asks), Route("/exceptions", who_asks), WebSocketRoute("/live", echo)]
    return Starlette(routes=routes, middleware=[door.guard()])


async def who_asks(request: Request) -> Response:
    """What the guard says of who asks."""
    return JSONResponse({name: value for name, value in request.headers.items() if name.startswith("x-pollrise")})


async def echo(socket: WebSocket) -> None:
    """Says first what the guard says, and then whatever it is told."""
    await socket.accept()
    await socket.send_text(socket.headers.get("x-pollrise-session", "nobody"))
    async for said in socket.iter_text():
        await socket.send_text(said)


@contextmanager
def served(app: ASGIApp, port: int) -> Iterator[None]:
    """An application on this port until the end."""
    server = uvicorn.Server(uvicorn.Config(app, ws="websockets-sansio", log_config=None, proxy_headers=False))
    with socket.create_server(("127.0.0.1", port)) as listener:
        thread = Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        try:
            yield
        finally:
            server.should_exit = True
            thread.join()


class _Fields(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, str] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if tag == "input" and named.get("name"):
            self.found[str(named["name"])] = named.get("value") or ""


def fields(html: str) -> dict[str, str]:
    """What the fields of a page's form hold."""
    reader = _Fields()
    reader.feed(html)
    return reader.found


def sent(browser: httpx.Client, path: str, said: Mapping[str, str], **headers: str) -> httpx.Response:
    """Ask for a page, fill in its form, and send it as a browser does."""
    form = {**fields(browser.get(path).text), **said}
    return browser.post(path.partition("?")[0], data=form, headers={"origin": str(browser.base_url), **headers})


def sign_in(browser: httpx.Client, name: str, password: str, to: str = "/") -> httpx.Response:
    """Sign in by the page."""
    return sent(browser, f"/sign-in?next={to}", {"name": name, "password": password})
