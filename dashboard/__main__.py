"""`python -m dashboard`: the board as its own process; whoever uses it signs in."""

import argparse
import errno
import os
import signal
import socket
import sys
from types import FrameType

from sqlalchemy.exc import SQLAlchemyError

from county.errors import BadSetting, PollriseError
from county.plans import take_up_file
from county.settings import Settings, settings_from
from county.wiring import Office, open_office

LOOPBACK = ("127.0.0.1", "localhost", "::1")
OPEN_WIRE = (
    "Not https: on the way to other machines passwords can be read. Put a proxy with a certificate before it and say "
    "the board's address in POLLRISE_BOARD_ADDRESS."
)


def main(arguments: list[str] | None = None) -> int:
    """Serve the board until told to stop. 0 after a clean stop, 2 when a setting, the plan or the port will not do."""
    argparse.ArgumentParser(prog="python -m dashboard", description=__doc__, epilog=_EPILOG).parse_args(arguments)
    for each in (signal.SIGINT, signal.SIGTERM):
        signal.signal(each, _stop)
    try:
        settings = settings_from(os.environ)
        _refuse_a_taken_port(settings)
        office = open_office(settings)
        take_up_file(office)
        _serve(office)
    except KeyboardInterrupt:
        print("The board has stopped.", flush=True)
        return 0
    except PollriseError as error:
        print(error, file=sys.stderr)
        return 2
    except SQLAlchemyError as error:
        print(f"POLLRISE_DATABASE_URL: the database cannot be opened: {_first_line(error)}", file=sys.stderr)
        return 2
    return 0


_EPILOG = """Settings: POLLRISE_HOST (127.0.0.1), POLLRISE_BOARD_PORT (8501), POLLRISE_BOARD_ADDRESS (the board's own
address where a proxy stands before it), POLLRISE_PROXIES, POLLRISE_IDLE_MINUTES (60), POLLRISE_SIGNED_IN_HOURS (24),
POLLRISE_OIDC_ISSUER, _CLIENT_ID, _CLIENT_SECRET and _CLAIM, POLLRISE_DATA, POLLRISE_DATABASE_URL, POLLRISE_PLAN,
POLLRISE_NOW. People are added with `python -m county people add`."""


def _serve(office: Office) -> None:
    settings = office.settings
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    address = settings.signing.address or f"http://{host}:{settings.board_port}"
    print(f"Board on {address}; people sign in with their name and password. Ctrl-C stops it.", flush=True)
    if settings.host not in LOOPBACK and not settings.signing.secure:
        print(OPEN_WIRE, file=sys.stderr, flush=True)
    # Streamlit takes a second to import: the refusals above need not wait for it
    from dashboard import server

    server.serve(office)


def _refuse_a_taken_port(settings: Settings) -> None:
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    with socket.socket(family) as trial:
        if os.name != "nt":
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((settings.host, settings.board_port))
        except OSError as error:
            reason = "is in use" if error.errno == errno.EADDRINUSE else f"cannot be opened: {error.strerror}"
            raise BadSetting(f"POLLRISE_BOARD_PORT: port {settings.board_port} {reason}") from None


def _first_line(error: Exception) -> str:
    return str(error).splitlines()[0]


def _stop(signal_number: int, frame: FrameType | None) -> None:
    raise KeyboardInterrupt


if __name__ == "__main__":
    sys.exit(main())
