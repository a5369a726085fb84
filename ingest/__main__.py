"""`python -m ingest`: endpoint, drop folder, clock and notices in one process, until told to stop."""

import argparse
import gc
import logging
import os
import signal
import socket
import sys
from collections.abc import Sequence

import uvicorn
from sqlalchemy.exc import SQLAlchemyError

from county.domain.going_round import Work
from county.errors import BadSetting, PollriseError
from county.following import Following
from county.plans import take_up_file
from county.settings import Settings, settings_from
from county.wiring import Office, open_office
from ingest.api import create_app, writer_for
from ingest.clock_loop import clock_loop
from ingest.csv_drop import DropFolder
from ingest.drop_file import DropFile
from ingest.log_drop import log_drop_loop
from ingest.loops import Loop, signs_of_life
from ingest.notice_loop import Sender, notice_loop
from ingest.short_heads import ShortHeads
from ingest.writer import Writer

LOOKS_EVERY = 1.0
WAITS_FOR_REQUESTS = 10
WAITS_FOR_NOTICES = 3
KEEPS_ALIVE = 30


def main(arguments: Sequence[str] | None = None) -> int:
    """Run until SIGINT or SIGTERM; 0 where it was told to stop, 2 where it could not begin."""
    _parser().parse_args(arguments)
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    logging.getLogger("alembic").setLevel(logging.WARNING)
    try:
        settings = settings_from(os.environ)
        office = open_office(settings)
        if office.archive:
            return _cannot_begin(f"POLLRISE_DATA: this is {office.archive}; nothing can be reported to it")
        take_up_file(office)
        following = Following(office)
        listener = listen(settings)
    except PollriseError as error:
        return _cannot_begin(str(error))
    except SQLAlchemyError as error:
        return _cannot_begin(f"POLLRISE_DATABASE_URL: the database does not answer: {str(error).splitlines()[0]}")
    serve(office, following, listener)
    return 0


def serve(office: Office, following: Following, listener: socket.socket) -> None:
    """Answer, look and watch until a signal comes; what was taken is written before this returns."""
    writer = writer_for(office)
    sender = Sender(office, following=following)
    loops = (
        clock_loop(office, following),
        drop_loop(office, following, writer),
        log_drop_loop(office, writer.keep_waiting),
        notice_loop(sender),
    )
    config = uvicorn.Config(
        create_app(office, following, writer, loops=loops),
        http=ShortHeads,
        ws="none",
        access_log=False,
        log_config=None,
        log_level="warning",
        server_header=False,
        proxy_headers=False,
        timeout_keep_alive=KEEPS_ALIVE,
        timeout_graceful_shutdown=WAITS_FOR_REQUESTS,
    )
    server = uvicorn.Server(config)

    def stop(number: int, frame: object) -> None:
        server.should_exit = True

    # the server handles them itself while it runs and hands them on afterwards: being told to stop is no failure
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, stop)
    running = (*loops, signs_of_life(office, loops))
    spare_the_collector()
    print(_begun(office, listener), flush=True)
    for loop in running:
        loop.start()
    try:
        server.run(sockets=[listener])
    finally:
        writer.stop()
        for loop in running:
            loop.stop()
        sender.stop(WAITS_FOR_NOTICES)
        office.engine.dispose()


def spare_the_collector() -> None:
    """Entries only ever grow in number; to look through them all for garbage now and then would hold up answers."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 50, 100)


def drop_loop(office: Office, following: Following, writer: Writer) -> Loop:
    """A look at the drop folder every second."""
    folder = DropFolder(
        office.settings.data / "drop", lambda name: DropFile(name, office, following, writer.keep_waiting)
    )
    return Loop(Work.DROP, LOOKS_EVERY, folder.poll)


def listen(settings: Settings) -> socket.socket:
    """A socket on the host and port of the settings. Raises BadSetting where it cannot be had."""
    try:
        family, *_, address = socket.getaddrinfo(settings.host, settings.port, type=socket.SOCK_STREAM)[0]
        return socket.create_server(address[:2], family=family, backlog=1024)
    except OSError as error:
        where = f"{settings.host}:{settings.port}"
        raise BadSetting(f"POLLRISE_HOST, POLLRISE_PORT: cannot listen on {where}: {error.strerror}") from None


def _begun(office: Office, listener: socket.socket) -> str:
    host, port = listener.getsockname()[:2]
    shown = f"[{host}]" if ":" in host else host
    clock = office.clock
    by = "the real clock" if clock.real else f"NOT the real clock: it says {clock.now().isoformat(timespec='seconds')}"
    rehearsal = "; a REHEARSAL, as the plan says" if office.plan.election.rehearsal else ""
    return f"Pollrise endpoint on http://{shown}:{port}, data in {office.settings.data.resolve()}, by {by}{rehearsal}"


def _parser() -> argparse.ArgumentParser:
    return argparse.ArgumentParser(
        prog="python -m ingest",
        description="Take reports at the endpoint and in the drop folder, watch the clock and send notices, "
        "until told to stop. Settings come from POLLRISE_ variables.",
    )


def _cannot_begin(says: str) -> int:
    print(f"python -m ingest: {says}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
