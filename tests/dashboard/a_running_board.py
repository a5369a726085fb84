"""The endpoint and the board as people run them: two processes over one made-up county, on ports of their own."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from typing import Any
from uuid import uuid4

from playwright.sync_api import Browser, BrowserContext, Page

from county.domain.people import Role
from county.domain.senders import Sender
from county.rehearsal.roster import made_up_county
from county.setting_up import SAMPLE_PLAN
from county.settings import settings_from
from county.upkeep import issue_keys, load_roster
from county.wiring import Office, open_office
from tests.dashboard.signed_in import ANN, cookie_of
from tests.ingest.a_process import free_port

HERE = Path(__file__).parents[2]
HALF_PAST_SIX = "2026-11-03T06:30:00-06:00"
PLACES = 40
DESK = {"width": 1366, "height": 768}


@dataclass(frozen=True)
class RunningBoard:
    """A board with its endpoint; `board` and `ingest` are the two processes."""

    port: int
    endpoint_port: int
    desk_key: str
    office: Office
    board: subprocess.Popen[str]
    ingest: subprocess.Popen[str]

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def context(self, browser: Browser, name: str = ANN.name, role: Role = ANN.role, **options: Any) -> BrowserContext:
        """A browser's context in which this person is signed in: its pages are the board's at once."""
        context = browser.new_context(**options)
        cookie, value = cookie_of(self.office, name, role)
        context.add_cookies([{"name": cookie, "value": value, "url": self.address}])
        return context

    @contextmanager
    def tab(self, browser: Browser, **options: Any) -> Iterator[Page]:
        """A tab on a desk's screen in which Ann Lee is signed in, nothing opened in it yet."""
        context = self.context(browser, **{"viewport": dict(DESK), **options})
        page = context.new_page()
        page.set_default_timeout(30_000)
        yield page
        context.close()

    def ask(self, method: str, path: str, body: object = None) -> Any:
        """One request to the endpoint with the desk's key; the answer's body."""
        connection = HTTPConnection("127.0.0.1", self.endpoint_port, timeout=30)
        try:
            told = json.dumps(body) if body is not None else None
            connection.request(method, path, told, {"Authorization": f"Bearer {self.desk_key}"})
            answer = connection.getresponse()
            assert answer.status < 300, answer.read()
            return json.loads(answer.read())
        finally:
            connection.close()

    def report(self, place: str, kind: str, **fields: object) -> Any:
        """Send a report; its receipt, given once it is kept."""
        return self.ask("POST", "/reports", {"key": uuid4().hex, "place": place, "kind": kind, **fields})

    def act(self, case: str, action: str, **fields: object) -> Any:
        """Do something with a case as another desk does, through the endpoint."""
        return self.ask("POST", f"/cases/{case}/actions", {"key": uuid4().hex, "action": action, **fields})

    def actions(self, case: str) -> list[dict[str, Any]]:
        """What the ledger holds of things done with a case, in order."""
        entries = self.ask("GET", "/ledger?limit=1000")
        return [entry for entry in entries if entry["kind"] == "action" and entry["case"] == case]

    def case(self, case: str) -> dict[str, Any]:
        """The case as the endpoint gives it."""
        return next(each for each in self.ask("GET", "/cases?state=all") if each["case"] == case)


def environment(settings: Mapping[str, str]) -> dict[str, str]:
    """This environment with these settings of ours and no others."""
    plain = {name: value for name, value in os.environ.items() if not name.startswith(("POLLRISE_", "STREAMLIT_"))}
    return plain | {f"POLLRISE_{name}": value for name, value in settings.items()}


def start(module: str, settings: Mapping[str, str]) -> subprocess.Popen[str]:
    """Start `python -m MODULE`; what it says can be read from its stdout."""
    return subprocess.Popen(
        [sys.executable, "-m", module],
        cwd=HERE,
        env=environment(settings),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )


@contextmanager
def a_running_board(data: Path, now: str = HALF_PAST_SIX, places: int = PLACES) -> Iterator[RunningBoard]:
    """A county nobody has reported from yet, half an hour after opening, with endpoint and board running over it."""
    port, endpoint_port = free_port(), free_port()
    data.mkdir()
    (data / "plan.toml").write_text(SAMPLE_PLAN.read_text(encoding="utf-8"), encoding="utf-8")
    settings = {"DATA": str(data), "BOARD_PORT": str(port), "PORT": str(endpoint_port), "NOW": now}
    settings["NOW_SINCE"] = str(int(time.time()))
    office = open_office(settings_from({f"POLLRISE_{name}": value for name, value in settings.items()}))
    load_roster(office, made_up_county(places))
    (desk_key,) = issue_keys(office, [Sender.at_desk("Front desk")])
    with ExitStack() as stack:
        ingest = stack.enter_context(_running("ingest", settings, endpoint_port, "/health"))
        board = stack.enter_context(_running("dashboard", settings, port, "/_stcore/health"))
        stack.callback(office.engine.dispose)
        yield RunningBoard(port, endpoint_port, desk_key, office, board, ingest)


@contextmanager
def board_alone(settings: Mapping[str, str]) -> Iterator[subprocess.Popen[str]]:
    """A board without an endpoint, with these settings: its process."""
    with _running("dashboard", settings, int(settings["BOARD_PORT"]), "/_stcore/health") as process:
        yield process


@contextmanager
def _running(module: str, settings: Mapping[str, str], port: int, path: str) -> Iterator[subprocess.Popen[str]]:
    process = start(module, settings)
    try:
        _wait_until_it_answers(process, port, path)
        yield process
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGCONT)
            process.terminate()
            process.communicate(timeout=30)


def _wait_until_it_answers(process: subprocess.Popen[str], port: int, path: str) -> None:
    until = time.monotonic() + 60
    while time.monotonic() < until and process.poll() is None:
        connection = HTTPConnection("127.0.0.1", port, timeout=5)
        try:
            connection.request("GET", path)
            if connection.getresponse().status == 200:
                return
        except OSError:
            time.sleep(0.1)
        finally:
            connection.close()
    process.kill()
    raise AssertionError(f"did not begin: {process.communicate()}")
