"""`python -m dashboard`: the board as its own process, for this machine only until people can sign in."""

import argparse
import errno
import os
import signal
import socket
import sys
from types import FrameType

from sqlalchemy.exc import SQLAlchemyError

from county.errors import BadSetting, PollriseError
from county.settings import Settings, settings_from
from county.wiring import Office, open_office

LOOPBACK = ("127.0.0.1", "localhost", "::1")


def main(arguments: list[str] | None = None) -> int:
    """Serve the board until told to stop. 0 after a clean stop, 2 when a setting, the plan or the port will not do."""
    argparse.ArgumentParser(prog="python -m dashboard", description=__doc__, epilog=_EPILOG).parse_args(arguments)
    for each in (signal.SIGINT, signal.SIGTERM):
        signal.signal(each, _stop)
    try:
        settings = settings_from(os.environ)
        _refuse_other_hosts(settings)
        _refuse_a_taken_port(settings)
        _serve(open_office(settings))
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


_EPILOG = """Settings: POLLRISE_BOARD_PORT (8501), POLLRISE_DATA, POLLRISE_DATABASE_URL, POLLRISE_PLAN, POLLRISE_NOW.
The board does not sign people in yet, so it listens on this machine alone and asks who is at the desk."""


def _serve(office: Office) -> None:
    settings = office.settings
    print(
        f"Board on http://{settings.host}:{settings.board_port} for this machine only, until people can sign in. "
        "Ctrl-C stops it.",
        flush=True,
    )
    # Streamlit takes a second to import: the refusals above need not wait for it
    from dashboard import server

    server.serve(office)


def _refuse_other_hosts(settings: Settings) -> None:
    if settings.host not in LOOPBACK:
        raise BadSetting(
            f"POLLRISE_HOST is {settings.host}, but nobody signs in to the board yet, so it listens on this machine "
            "only: start it with POLLRISE_HOST=127.0.0.1"
        )


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
