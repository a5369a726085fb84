"""A backup taken while others write is one moment's state; restored, its chain holds; anything else is refused."""

import subprocess
import time
from pathlib import Path

import pytest
from sqlalchemy import Engine

from county.domain.receipts import SetAside
from county.domain.roster import Roster
from county.errors import BadCopy, Problem
from county.store import chain, copies, keys, ledger, people, roster, set_aside
from county.store.engine import reading, sqlite_library, writing
from tests.store.an_entry import OPENING, an_entry, entries
from tests.store.test_roster_store import WHOLE
from tests.store.test_two_writers import appending


def everything(engine: Engine) -> tuple[object, ...]:
    with reading(engine) as connection:
        return (
            ledger.pages(connection),
            set_aside.latest(connection),
            roster.load(connection),
            people.everyone(connection),
            keys.live(connection),
        )


def fill(engine: Engine) -> str:
    aside = SetAside("k", "place:P014", "endpoint", OPENING, "refused", (Problem("place", "is needed"),), "é")
    with writing(engine) as connection:
        ledger.append(connection, [*entries(5), an_entry("words", note="é 😀", shown_precincts=("14", "99"))])
        set_aside.put(connection, [aside])
        roster.replace(connection, WHOLE)
        return keys.issue(connection, "place:P014", OPENING)


def test_everything_comes_back_and_goes_on(engine: Engine, another: Engine, tmp_path: Path) -> None:
    token = fill(engine)
    assert copies.back_up(engine, tmp_path / "copy.db") == (6, None)
    assert copies.restore(another, tmp_path / "copy.db") == 6
    assert everything(another) == everything(engine)
    with writing(another) as connection:
        assert keys.holder_of(connection, token) == "place:P014"
        assert ledger.append(connection, [an_entry("next"), *entries(1)])[0].seq == 7
        assert chain.verify(connection) is None


def test_a_backup_while_others_append_is_one_moments_state(
    engine: Engine, database_url: str, another: Engine, tmp_path: Path
) -> None:
    writer = appending(database_url, "P014", batches=100_000, size=3)
    assert writer.stdout is not None
    writer.stdout.readline()
    taken = []
    for n in range(3):
        taken.append(copies.back_up(engine, tmp_path / f"{n}.db"))
        time.sleep(0.1)
    _end(writer)
    assert [bad for _, bad in taken] == [None] * 3
    assert all(number % 3 == 0 for number, _ in taken)
    assert taken[0][0] < taken[2][0]
    assert copies.restore(another, tmp_path / "2.db") == taken[2][0]
    with reading(engine) as connection:
        original = ledger.pages(connection, 0, taken[2][0])
    with reading(another) as connection:
        assert ledger.pages(connection) == original
        assert chain.verify(connection) is None


def test_a_backup_moves_to_the_other_kind_of_database(engine: Engine, other_kind: Engine, tmp_path: Path) -> None:
    fill(engine)
    copies.back_up(engine, tmp_path / "copy.db")
    assert copies.restore(other_kind, tmp_path / "copy.db") == 6
    assert everything(other_kind) == everything(engine)
    with writing(other_kind) as connection:
        assert ledger.append(connection, [an_entry("next")])[0].seq == 7


def test_progress_is_told_where_rows_are_copied_one_by_one(engine: Engine, another: Engine, tmp_path: Path) -> None:
    fill(engine)
    copies.back_up(engine, tmp_path / "copy.db")
    told: list[int] = []
    copies.restore(another, tmp_path / "copy.db", told.append)
    assert told
    assert told == sorted(told)


def test_a_backup_is_for_its_owners_eyes_and_leaves_nothing_beside_it(engine: Engine, tmp_path: Path) -> None:
    folder = tmp_path / "backups"
    folder.mkdir()
    copies.back_up(engine, folder / "copy.db")
    assert [file.name for file in folder.iterdir()] == ["copy.db"]
    assert (folder / "copy.db").stat().st_mode & 0o077 == 0


def test_a_backup_never_writes_over_a_file(engine: Engine, tmp_path: Path) -> None:
    (tmp_path / "copy.db").write_text("something else")
    with pytest.raises(BadCopy, match="exists already"):
        copies.back_up(engine, tmp_path / "copy.db")
    assert (tmp_path / "copy.db").read_text() == "something else"


def test_a_backup_into_no_folder_says_so(engine: Engine, tmp_path: Path) -> None:
    with pytest.raises(BadCopy, match=r"cannot be written: No such file or directory"):
        copies.back_up(engine, tmp_path / "nowhere" / "copy.db")


@pytest.mark.parametrize("held", ["entries", "places", "reports set aside"])
def test_nothing_is_restored_over_what_stands(engine: Engine, tmp_path: Path, held: str) -> None:
    copies.back_up(engine, tmp_path / "copy.db")
    with writing(engine) as connection:
        if held == "entries":
            ledger.append(connection, entries(1))
        elif held == "places":
            roster.replace(connection, WHOLE)
        else:
            set_aside.put(connection, [SetAside("k", "s", "endpoint", OPENING, "refused", (), "")])
    before = everything(engine)
    with pytest.raises(BadCopy, match=f"{held} already"):
        copies.restore(engine, tmp_path / "copy.db")
    assert everything(engine) == before


def test_a_backup_with_a_broken_chain_is_not_restored(engine: Engine, another: Engine, tmp_path: Path) -> None:
    fill(engine)
    copies.back_up(engine, tmp_path / "copy.db")
    with _raw(tmp_path / "copy.db") as raw:
        raw.execute("DROP TRIGGER ledger_no_update")
        raw.execute("UPDATE ledger SET entry = replace(entry, '😀', '😁')")
    with pytest.raises(BadCopy, match="entry 6 is wrong or missing; nothing was restored"):
        copies.restore(another, tmp_path / "copy.db")
    assert everything(another) == ([], [], Roster(), (), {})


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "cannot be read"),
        (b"", "is not a backup"),
        (b"key,place\n", "is not a backup"),
        (b"SQLite format 3\0" + b"\xff" * 4_000, "damaged"),
    ],
)
def test_what_is_no_backup_is_refused(engine: Engine, tmp_path: Path, content: bytes | None, says: str) -> None:
    if content is not None:
        (tmp_path / "copy.db").write_bytes(content)
    with pytest.raises(BadCopy, match=says):
        copies.restore(engine, tmp_path / "copy.db")


def test_another_programs_database_is_refused(engine: Engine, tmp_path: Path) -> None:
    with _raw(tmp_path / "other.db") as raw:
        raw.execute("CREATE TABLE songs (title TEXT)")
    with pytest.raises(BadCopy, match="is not a backup"):
        copies.restore(engine, tmp_path / "other.db")


def test_a_newer_programs_backup_is_refused(engine: Engine, tmp_path: Path) -> None:
    copies.back_up(engine, tmp_path / "copy.db")
    with _raw(tmp_path / "copy.db") as raw:
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(BadCopy, match="newer version"):
        copies.restore(engine, tmp_path / "copy.db")


def test_a_backup_says_where_the_original_is_broken(engine: Engine, tmp_path: Path) -> None:
    fill(engine)
    with writing(engine) as connection:
        if engine.dialect.name == "sqlite":
            connection.exec_driver_sql("DROP TRIGGER ledger_no_update")
        else:
            connection.exec_driver_sql("ALTER TABLE ledger DISABLE TRIGGER ALL")
        connection.exec_driver_sql("UPDATE ledger SET place = 'P099' WHERE seq = 3")
    assert copies.back_up(engine, tmp_path / "copy.db") == (6, 3)


class _raw:  # noqa: N801  reads as a function: a plain connection that commits, then closes
    def __init__(self, file: Path) -> None:
        self._connection = sqlite_library().connect(str(file))

    def __enter__(self) -> "_raw":
        return self

    def execute(self, statement: str) -> None:
        self._connection.execute(statement)

    def __exit__(self, *raised: object) -> None:
        self._connection.commit()
        self._connection.close()


def _end(process: subprocess.Popen[str]) -> None:
    process.terminate()
    assert process.stdout is not None
    process.stdout.read()
    process.wait(timeout=30)
    process.stdout.close()
