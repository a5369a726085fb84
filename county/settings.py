"""Where things are and how the program listens, read once from POLLRISE_ variables; a bad value names its variable."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from county.domain.moments import parse_moment
from county.errors import BadSetting
from county.sending import Sending, sending_from
from county.signing_settings import Signing, as_said, signing_from

PREFIX = "POLLRISE_"
_ADDRESS = re.compile(r"(https?://(?:\[[0-9A-Fa-f:.]{2,45}\]|[A-Za-z0-9._-]{1,253})(?::\d{1,5})?)/?", re.ASCII)
_SPEED = re.compile(r"(?P<moment>.*?)(?:\s*x(?P<speed>\d{1,5}(?:\.\d{1,3})?))?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Settings:
    """One run's settings. `now` is POLLRISE_NOW as written, empty for the real clock; `now_since` is Unix seconds.

    `address` is where phones reach the endpoint, empty where that is its host and port. `requests_a_minute` is how many
    requests with reports one place's key may send, and one rover's with taps.
    """

    data: Path
    database_url: str
    plan: Path
    host: str = "127.0.0.1"
    port: int = 8100
    board_port: int = 8501
    now: str = ""
    now_since: float | None = None
    sending: Sending = field(default_factory=Sending)
    address: str = ""
    signing: Signing = field(default_factory=Signing)
    requests_a_minute: int = 240

    @property
    def base(self) -> str:
        """The endpoint's address as phones reach it, without a slash at its end."""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return self.address or f"http://{host}:{self.port}"


def settings_from(environ: Mapping[str, str]) -> Settings:
    """Read every setting, with its default where it is missing or empty. Raises BadSetting naming the variable."""
    said = {name.removeprefix(PREFIX): value.strip() for name, value in environ.items() if name.startswith(PREFIX)}
    data = _path("DATA", said.get("DATA") or "data")
    if said.get("NOW"):
        parse_set_clock(said["NOW"])
    return Settings(
        data=data,
        database_url=_database_url(said.get("DATABASE_URL") or sqlite_url(data / "pollrise.db")),
        plan=_path("PLAN", said["PLAN"]) if said.get("PLAN") else data / "plan.toml",
        host=_host(said.get("HOST") or "127.0.0.1"),
        port=_port("PORT", said.get("PORT") or "8100"),
        board_port=_port("BOARD_PORT", said.get("BOARD_PORT") or "8501"),
        now=said.get("NOW", ""),
        now_since=_seconds("NOW_SINCE", said["NOW_SINCE"]) if said.get("NOW_SINCE") else None,
        sending=sending_from(said),
        address=_address(said["ADDRESS"]) if said.get("ADDRESS") else "",
        signing=signing_from(said),
        requests_a_minute=_pace(said.get("REQUESTS_A_MINUTE") or "240"),
    )


def as_environ(settings: Settings) -> dict[str, str]:
    """The settings as a program of ours that is started beside this one reads them from its environment."""
    since = "" if settings.now_since is None else f"{settings.now_since:.6f}"
    said = {
        "DATA": str(settings.data.absolute()),
        "DATABASE_URL": settings.database_url,
        "PLAN": str(settings.plan.absolute()),
        "HOST": settings.host,
        "PORT": str(settings.port),
        "BOARD_PORT": str(settings.board_port),
        "NOW": settings.now,
        "NOW_SINCE": since,
        "REQUESTS_A_MINUTE": str(settings.requests_a_minute),
        **as_said(settings.signing),
    }
    return {f"{PREFIX}{name}": value for name, value in said.items()}


def parse_set_clock(text: str) -> tuple[datetime, float]:
    """Read POLLRISE_NOW: where the clock starts (UTC) and how many times as fast as real time it runs."""
    found = _SPEED.fullmatch(text)
    try:
        moment = parse_moment(found["moment"]) if found else None
    except ValueError:
        moment = None
    if found is None or moment is None:
        raise _bad("NOW", "must be a time with its offset, like 2026-11-03T05:00:00-06:00, and may end in x60 or x0")
    return moment, float(found["speed"] or 1)


def sqlite_url(file: Path) -> str:
    """The address of a SQLite database in a file."""
    return URL.create("sqlite", database=str(file)).render_as_string(hide_password=False)


def _bad(name: str, says: str) -> BadSetting:
    return BadSetting(f"{PREFIX}{name} {says}")


def _path(name: str, text: str) -> Path:
    if "\0" in text:
        raise _bad(name, "is no path")
    return Path(text).expanduser()


def _database_url(text: str) -> str:
    # the value may hold a password, so it is never repeated
    try:
        url = make_url(text)
    except (ArgumentError, ValueError):
        raise _bad("DATABASE_URL", "is not an address like postgresql+psycopg://user@host/name") from None
    if url.get_backend_name() == "sqlite" and url.get_driver_name() == "pysqlite":
        if url.database in (None, "", ":memory:"):
            raise _bad("DATABASE_URL", "names no file; SQLite needs one, like sqlite:///data/pollrise.db")
    elif url.drivername not in ("postgresql", "postgresql+psycopg"):
        raise _bad("DATABASE_URL", "must begin with sqlite:/// or postgresql+psycopg://")
    return text


def _host(text: str) -> str:
    if not re.fullmatch(r"[A-Za-z0-9.:_-]{1,253}", text, re.ASCII):
        raise _bad("HOST", "is not a host name or address")
    return text


def _address(text: str) -> str:
    found = _ADDRESS.fullmatch(text)
    if not found:
        raise _bad("ADDRESS", "must be an address like https://board.example.gov or http://192.168.4.20:8100")
    return found[1]


def _port(name: str, text: str) -> int:
    if not re.fullmatch(r"\d{1,5}", text, re.ASCII) or not 1 <= int(text) <= 65_535:
        raise _bad(name, f"must be a port from 1 to 65535, not {text[:40]!r}")
    return int(text)


def _pace(text: str) -> int:
    if not re.fullmatch(r"\d{1,6}", text, re.ASCII) or not 1 <= int(text) <= 100_000:
        raise _bad("REQUESTS_A_MINUTE", f"must be a whole number from 1 to 100,000, not {text[:40]!r}")
    return int(text)


def _seconds(name: str, text: str) -> float:
    if not re.fullmatch(r"\d{1,12}(\.\d{1,9})?", text, re.ASCII):
        raise _bad(name, f"must be Unix seconds, not {text[:40]!r}")
    return float(text)
