"""The earlier election's file is found where it may lie, read again when changed, and never stops the day."""

import os
from pathlib import Path

import pytest

from county.earlier_file import FILE, earlier_steps_at_hand
from county.settings import Settings, settings_from

HEADER = "election,place,step,done_at,minutes\n"
ROW = "2024,P001,open,2024-11-05T06:02:00-06:00,2\n"


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "data").mkdir()
    (tmp_path / "plan" / "earlier_election").mkdir(parents=True)
    return settings_from(
        {"POLLRISE_DATA": str(tmp_path / "data"), "POLLRISE_PLAN": str(tmp_path / "plan" / "plan.toml")}
    )


def test_without_a_file_there_are_no_steps(settings: Settings) -> None:
    assert earlier_steps_at_hand(settings) == ()


def test_the_data_folder_comes_before_the_plans(settings: Settings) -> None:
    (settings.plan.parent / "earlier_election" / FILE).write_text(HEADER + ROW)
    assert [step.place for step in earlier_steps_at_hand(settings)] == ["P001"]
    (settings.plan.parent / FILE).write_text(HEADER + ROW.replace("P001", "P002"))
    assert [step.place for step in earlier_steps_at_hand(settings)] == ["P002"]
    (settings.data / FILE).write_text(HEADER + ROW.replace("P001", "P003"))
    assert [step.place for step in earlier_steps_at_hand(settings)] == ["P003"]


def test_the_same_file_is_read_once_and_again_when_it_has_changed(settings: Settings) -> None:
    file = settings.data / FILE
    file.write_text(HEADER + ROW)
    first = earlier_steps_at_hand(settings)
    assert earlier_steps_at_hand(settings) is first
    file.write_text(HEADER + ROW + ROW.replace("P001", "P002"))
    os.utime(file, ns=(1, 1))
    assert len(earlier_steps_at_hand(settings)) == 2


@pytest.mark.parametrize(
    "content", [b"nothing of the kind", b"\xff\xfe\xff", HEADER.encode() + b"2024,P001,open,soon,2\n"]
)
def test_one_that_cannot_be_read_is_logged_and_left_out(
    settings: Settings, content: bytes, caplog: pytest.LogCaptureFixture
) -> None:
    (settings.data / FILE).write_bytes(content)
    assert earlier_steps_at_hand(settings) == ()
    assert "the earlier election is left out" in caplog.text
