"""An archive: one file, whole or refused, opened to be read by this and every later version, and never added to."""

import zipfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import time
from pathlib import Path

import pytest
from sqlalchemy.exc import DBAPIError

from county import desk, settling, signing_in, upkeep
from county.cli import main
from county.domain.earlier_steps import parse_earlier_steps
from county.domain.intake import Hand
from county.domain.people import Account
from county.domain.roster import Place, Rover
from county.errors import Archived, BadCopy
from county.pack import verify
from county.pack.archives.archive_file import ARCHIVE, packed, read_archive
from county.pack.archives.earlier import steps_of
from county.pack.archives.opening import open_archive
from county.pack.archives.rows import rows_in, rows_out
from county.pack.archives.writing import write_archive
from county.pack.gathering import kept_by
from county.pack.record import Choice
from county.pack.writing import write_pack
from county.person_facts import REAL
from county.setting_up import FIRST_PERSON, set_up
from county.settings import settings_from, sqlite_url
from county.store import device_logs
from county.store import roster as stored_roster
from county.store.engine import make_engine, writing
from county.store.migrate import migrate
from county.store.schema import device_logs as device_logs_table
from county.store.schema import places as places_table
from county.store.schema import rovers as rovers_table
from county.wiring import Office, open_office
from ingest.__main__ import main as ingest
from tests.an_office import PLAN_TEXT, ROSTER, at
from tests.desk.reports import a_refusal, a_step

FORMAT_1 = Path(__file__).with_name("archive_of_format_1.zip")


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """An office after its day: two places, one late, one report set aside."""
    environ = {"POLLRISE_DATA": str(tmp_path / "data")}
    set_up(settings_from(environ))
    (tmp_path / "data" / "plan.toml").write_text(PLAN_TEXT)
    office = open_office(settings_from(environ))
    upkeep.load_roster(office, ROSTER)
    desk.keep(office, [a_step("zero-report", "05:40", device="SC-0141", public_counter=0), a_step("open", "06:20")])
    desk.keep(office, [a_step("open", "05:58", place="P015"), a_refusal()])
    yield office
    office.engine.dispose()


@pytest.fixture
def file(office: Office, tmp_path: Path) -> Path:
    write_archive(office, kept_by(office), tmp_path / "election.zip")
    return tmp_path / "election.zip"


@pytest.fixture
def opened(file: Path, tmp_path: Path) -> Iterator[Office]:
    """The archive opened in a folder of its own."""
    settings = settings_from({"POLLRISE_DATA": str(tmp_path / "opened")})
    open_archive(read_archive(file), settings, tmp_path / "opened")
    office = open_office(settings)
    yield office
    office.engine.dispose()


def test_the_same_record_is_archived_as_the_same_bytes(office: Office, file: Path, tmp_path: Path) -> None:
    write_archive(office, kept_by(office), tmp_path / "again.zip")
    assert (tmp_path / "again.zip").read_bytes() == file.read_bytes()


def test_it_holds_plan_roster_ledger_and_set_aside_and_no_key_or_password(file: Path) -> None:
    parts = read_archive(file).parts
    assert {"plan.toml", "ledger.jsonl", "tables/places.jsonl", "tables/set_aside.jsonl"} <= parts.keys()
    assert parts["plan.toml"].decode() == PLAN_TEXT
    assert not [name for name in parts for word in ("keys", "people", "sessions", "sign", "outbox") if word in name]
    assert b"argon2" not in b"".join(parts.values())


def test_unpacked_it_is_checked_by_the_verifier_it_holds(file: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(file) as parts:
        parts.extractall(tmp_path / "unpacked")
    assert verify.main([str(tmp_path / "unpacked")]) == 0


def test_an_opened_archive_tells_the_very_record_that_was_archived(
    office: Office, opened: Office, tmp_path: Path
) -> None:
    for choice, name in ((Choice(), "public"), (Choice(names=True), "full")):
        write_pack(kept_by(office), choice, tmp_path / f"{name}-before")
        write_pack(kept_by(opened), choice, tmp_path / f"{name}-after")
        before, after = ((tmp_path / f"{name}-{when}" / verify.SUMS).read_text() for when in ("before", "after"))
        assert before == after


def test_a_devices_own_log_is_archived_byte_by_byte(office: Office, tmp_path: Path) -> None:
    other = make_engine(sqlite_url(tmp_path / "other.db"))
    migrate(other)
    with writing(office.engine) as connection:
        device_logs.put(connection, "sc-0141.xml", b"\x00\xff<log/>", at("21:00"))
        written = "\n".join(rows_out(connection, device_logs_table))
    with writing(other) as connection:
        rows_in(connection, device_logs_table, written)
        (log,) = device_logs.load(connection)
    other.dispose()
    assert (log.name, log.content, log.taken_in_at) == ("sc-0141.xml", b"\x00\xff<log/>", at("21:00"))


def test_a_row_of_a_newer_version_is_refused_by_its_column(office: Office) -> None:
    with (
        pytest.raises(BadCopy, match="rovers has language: it was written by a newer version"),
        writing(office.engine) as connection,
    ):
        rows_in(connection, rovers_table, '{"rover": "R09", "language": "es"}')


def test_a_row_of_an_earlier_version_has_what_it_did_not_know_empty(office: Office) -> None:
    with writing(office.engine) as connection:
        rows_in(connection, places_table, '{"place": "P099", "name": "Old Mill", "opens": "07:00:00"}')
        (found,) = [place for place in stored_roster.load(connection).places if place.place == "P099"]
    assert found == Place("P099", "Old Mill", opens=time(7))


def test_nothing_is_added_to_an_opened_archive(opened: Office) -> None:
    seq = desk.last_seq(opened)
    with pytest.raises(Archived, match="this is the archive of General Election, Wrenfield County, 2026-11-03"):
        desk.keep(opened, [a_step("closed", "19:00")])
    with pytest.raises(Archived):
        desk.keep(opened, [a_refusal('{"other": 1}')])
    with pytest.raises(Archived):
        upkeep.load_roster(opened, replace(ROSTER, rovers=(Rover("R04", "Another"),)))
    (item,) = settling.waiting(opened)
    with pytest.raises(Archived):
        settling.dismiss(opened, item, "too late", desk_hand())
    assert desk.last_seq(opened) == seq


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM places",
        "UPDATE rovers SET name = 'x'",
        "INSERT INTO seals VALUES ('SC-0141', 'x', 'y')",
        "DELETE FROM ledger",
        "INSERT INTO set_aside SELECT number + 1, set_aside_at, key, sender, door, reason, problems, raw, source, 'x' "
        "FROM set_aside",
    ],
)
def test_the_database_itself_refuses_any_change_of_the_record(opened: Office, statement: str) -> None:
    with pytest.raises(DBAPIError, match="nothing is"), writing(opened.engine) as connection:
        connection.exec_driver_sql(statement)


def test_whoever_reads_it_signs_in_and_is_no_part_of_its_record(opened: Office) -> None:
    seq = desk.last_seq(opened)
    token = signing_in.begin_session(opened, Account(FIRST_PERSON, REAL.now()), "password")
    assert signing_in.session_of(opened, signing_in.mark_of(token)) is not None
    assert desk.last_seq(opened) == seq


def test_in_an_archive_it_is_for_ever_the_moment_its_record_ends(opened: Office, office: Office) -> None:
    assert opened.archive is not None
    assert opened.clock.now() == opened.clock.now() == opened.archive.as_of
    assert office.archive is None


def test_the_endpoint_does_not_start_on_an_archive(
    opened: Office, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("POLLRISE_DATA", str(opened.settings.data))
    assert ingest([]) == 2
    assert "nothing can be reported to it" in capsys.readouterr().err


def test_a_damaged_archive_is_refused_wherever_the_damage_is(file: Path, tmp_path: Path) -> None:
    whole = file.read_bytes()
    held = read_archive(file)
    for byte in range(0, len(whole), 97):
        (tmp_path / "damaged.zip").write_bytes(whole[:byte] + bytes([whole[byte] ^ 64]) + whole[byte + 1 :])
        try:
            assert read_archive(tmp_path / "damaged.zip").parts == held.parts  # a byte of the wrapping alone
        except BadCopy:
            continue


def test_another_ledger_in_an_archive_is_refused_though_every_sum_is_made_anew(file: Path, tmp_path: Path) -> None:
    parts = {name: part for name, part in read_archive(file).parts.items() if name != verify.SUMS}
    parts[verify.LEDGER] = parts[verify.LEDGER].replace(b'"public_counter":0', b'"public_counter":9')
    (tmp_path / "forged.zip").write_bytes(packed(parts.items()))
    with pytest.raises(BadCopy, match="entry 2: does not have its digest"):
        read_archive(tmp_path / "forged.zip")


def test_a_newer_format_is_refused_by_its_name(file: Path, tmp_path: Path) -> None:
    parts = {name: part for name, part in read_archive(file).parts.items() if name != verify.SUMS}
    parts[ARCHIVE] = parts[ARCHIVE].replace(b"pollrise-archive-1", b"pollrise-archive-7")
    (tmp_path / "newer.zip").write_bytes(packed(parts.items()))
    with pytest.raises(BadCopy, match="format pollrise-archive-7; this version reads pollrise-archive-1"):
        read_archive(tmp_path / "newer.zip")


@pytest.mark.parametrize("content", [b"", b"PK\x05\x06" + b"\0" * 18, b"no archive"])
def test_what_is_no_archive_is_refused(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "x.zip").write_bytes(content)
    with pytest.raises(BadCopy):
        read_archive(tmp_path / "x.zip")


def test_an_archive_written_by_the_first_version_opens(tmp_path: Path) -> None:
    """The file was written when the format was new; it must open for as long as elections are kept."""
    settings = settings_from({"POLLRISE_DATA": str(tmp_path / "opened")})
    open_archive(read_archive(FORMAT_1), settings, tmp_path / "opened")
    office = open_office(settings)
    kept = kept_by(office)
    office.engine.dispose()
    assert (len(kept.entries), kept.broken) == (4, None)
    assert kept.digests[-1] == "296177537b817c5112fb5434f9cbe1cfbe29b396668c9fbd45cc74246ad3c75e"
    assert [place.place for place in kept.roster.places] == ["P014", "P015"]
    assert len(kept.set_aside) == 1


def test_a_broken_chain_is_not_archived(office: Office, tmp_path: Path) -> None:
    with pytest.raises(BadCopy, match="entry 2 is wrong or missing"):
        write_archive(office, replace(kept_by(office), broken=2), tmp_path / "x.zip")
    assert not (tmp_path / "x.zip").exists()


def test_an_archive_serves_as_the_earlier_election(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    steps = {(step.place, step.step): step.minutes for step in steps_of(read_archive(file))}
    assert steps["P014", "open"] == 20
    assert steps["P015", "open"] == -2
    environ = {"POLLRISE_DATA": str(tmp_path / "data")}
    assert main(["archive", "earlier", str(file)], environ) == 0
    written = (tmp_path / "data" / "earlier_steps.csv").read_text()
    assert parse_earlier_steps(written, "x") == steps_of(read_archive(file))
    assert "2 places of General Election, Wrenfield County, 2026-11-03" in capsys.readouterr().out


def test_each_command_says_in_a_line_what_it_did(
    office: Office, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    environ = {"POLLRISE_DATA": str(office.settings.data)}
    file, folder = str(tmp_path / "e.zip"), str(tmp_path / "there")
    for words, says in (
        ([file], "note its SHA-256: "),
        (["check", file], "keep it through 2028-09-03"),
        (["open", file, "--in", folder], "to be read only"),
    ):
        assert main(["archive", *words], environ) == 0
        said = capsys.readouterr()
        assert says in said.out
        assert said.out.count("\n") == 1
    for words, says in (
        ([file], "never written over a file"),
        (["open", file], "--in FOLDER is needed"),
        (["open", file, "--in", folder], "a folder of its own"),
        (["check", folder], "cannot be read"),
    ):
        assert main(["archive", *words], environ) == 2
        assert says in capsys.readouterr().err


def test_no_word_of_the_archive_but_its_wrapping_is_binary(file: Path) -> None:
    for name, part in read_archive(file).parts.items():
        assert part.decode().isprintable() or "\n" in part.decode(), name


def desk_hand() -> Hand:
    return Hand("board:desk", "desk", "board", at("08:00"))
