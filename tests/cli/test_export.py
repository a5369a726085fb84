"""`export`: one line on what was written and what was left out; bad input is one clear line and exit code 2."""

from pathlib import Path

import pytest

from county import desk, upkeep
from county.cli import main
from county.pack import verify
from county.setting_up import set_up
from county.settings import settings_from
from county.wiring import open_office
from tests.an_office import PLAN_TEXT, ROSTER
from tests.desk.reports import a_step


@pytest.fixture
def environ(tmp_path: Path) -> dict[str, str]:
    """An office with a roster and two reports."""
    environ = {"POLLRISE_DATA": str(tmp_path / "data")}
    settings = settings_from(environ)
    set_up(settings)
    settings.plan.write_text(PLAN_TEXT)
    office = open_office(settings)
    upkeep.load_roster(office, ROSTER)
    desk.keep(office, [a_step("open", "06:01"), a_step("open", "05:58", place="P015")])
    office.engine.dispose()
    return environ


def test_it_says_what_was_written_and_what_was_left_out(
    environ: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", "--out", str(tmp_path / "pack")], environ) == 0
    said = capsys.readouterr()
    assert "names and telephone numbers left out; the chain holds" in said.out
    assert (said.out.count("\n"), said.err) == (1, "")
    assert verify.main([str(tmp_path / "pack")]) == 0
    assert (tmp_path / "pack" / "report.pdf").read_bytes().startswith(b"%PDF-")


def test_with_names_it_says_so_loudly(
    environ: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", "--out", str(tmp_path / "pack"), "--with-names"], environ) == 0
    assert "WITH names and telephone numbers" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--place", "P999"], "no place P999 on the roster"),
        (["--with-names", "--without-notes"], "--without-notes is for a public copy"),
    ],
)
def test_bad_input_is_one_line_and_writes_nothing(
    more: list[str], says: str, environ: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", "--out", str(tmp_path / "pack"), *more], environ) == 2
    said = capsys.readouterr()
    assert says in said.err
    assert said.err.count("\n") == 1
    assert not (tmp_path / "pack").exists()
