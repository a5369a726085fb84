"""`plan load`, `plan versions`, `plan show` and `ready`, as they are typed."""

from pathlib import Path

import pytest

from county import desk, staffing, upkeep
from county.domain.senders import Sender
from tests.an_office import PLAN_TEXT, ROSTER
from tests.cli.test_cli import Shell, refused
from tests.desk.reports import a_step

EARLIER_DUE = PLAN_TEXT.replace('due = "-15m"', 'due = "-20m"')
OTHER_HOURS = PLAN_TEXT.replace('opens = "06:00"', 'opens = "07:00"')


@pytest.fixture
def shell(tmp_path: Path) -> Shell:
    made = Shell(tmp_path / "data")
    made.data.mkdir()
    (made.data / "plan.toml").write_text(PLAN_TEXT, encoding="utf-8")
    assert made("init").code == 0
    return made


def a_file(shell: Shell, text: str) -> str:
    file = shell.data / "next.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_a_loaded_plan_is_in_force_and_the_one_before_stays_readable(shell: Shell) -> None:
    said = shell("plan", "load", a_file(shell, EARLIER_DUE), "--by", "Ines Corwith", "--note", "earlier tapes")
    assert (said.code, said.out.split(" is ")[1][:31]) == (0, "version 2 of the plan and in fo")
    first, second = shell("plan", "versions").lines
    assert first.startswith("1\t")
    assert "the plan file" in first
    assert "Ines Corwith, a rehearsal\tearlier tapes" in second
    assert shell("plan", "show").out == EARLIER_DUE
    assert shell("plan", "check").out.startswith("plan version 2 can be used: General Election")
    assert shell("plan", "show", "1").out.rstrip() == PLAN_TEXT.rstrip()
    assert '+due = "-20m"' in shell("plan", "show", "2", "--changes").lines


def test_a_change_the_day_rests_on_is_named_and_done_only_with_sure(shell: Shell) -> None:
    said = shell("plan", "load", a_file(shell, OTHER_HOURS))
    refused(said, "nothing is loaded", "1 change", "--sure")
    assert "07:00" in said.out
    assert shell("plan", "load", a_file(shell, OTHER_HOURS), "--sure").code == 0


def test_a_file_with_a_mistake_is_refused_with_its_own_name_and_line(shell: Shell) -> None:
    refused(shell("plan", "load", a_file(shell, PLAN_TEXT.replace("county =", "country ="))), "next.toml, line 4")
    refused(shell("plan", "load", a_file(shell, PLAN_TEXT)), "nothing is changed")
    refused(shell("plan", "show", "9"), "no version 9")
    refused(shell("plan", "load", a_file(shell, EARLIER_DUE), "--by", ""), "1 to 60 characters")


def test_a_plan_file_changed_afterwards_is_offered_and_not_in_force(shell: Shell) -> None:
    shell("plan", "load", a_file(shell, EARLIER_DUE))
    (shell.data / "plan.toml").write_text(OTHER_HOURS, encoding="utf-8")
    assert "makes it the newest version" in shell("plan", "versions").lines[-1]
    assert shell("plan", "show").out == EARLIER_DUE


def test_ready_says_in_its_first_line_how_it_stands_and_then_what_to_do(shell: Shell) -> None:
    said = shell("ready", POLLRISE_NOW="2026-10-27T09:00:00-05:00x0")
    assert (said.code, said.err) == (1, "")
    assert said.lines[0].startswith("Not ready: 3 things stop the day, ")
    assert "stops the day: No place is in the roster [Roster]" in said.lines
    assert "stops the day: The plan still says that this is a rehearsal [Plan]" in said.lines
    assert "stops the day: The clock is not the real one [settings]" in said.lines


def test_ready_names_a_dozen_and_counts_the_rest(shell: Shell) -> None:
    few, every = shell("ready"), shell("ready", "--all")
    kinds = next(line for line in few.lines if line.endswith(" more"))
    assert kinds.count("; ") == 12
    assert len(every.out) > len(few.out)


def test_a_new_folder_carries_over_the_set_up_and_begins_an_empty_ledger(shell: Shell, tmp_path: Path) -> None:
    with shell.office() as office:
        upkeep.load_roster(office, ROSTER)
        (key,) = upkeep.issue_keys(office, [Sender.at_place("P014")])
        desk.keep(office, [a_step("open", "05:40")])
    shell("plan", "load", a_file(shell, EARLIER_DUE))
    new = Shell(tmp_path / "day")
    said = new("init", "--like", str(shell.data))
    assert (said.code, "and the 2 places of" in said.out) == (0, True)
    with new.office() as office:
        assert [entry["kind"] for entry in desk.ledger_pages(office)] == ["roster"]
        assert desk.find_sender(office, key).place == "P014"
        assert desk.roster(office) == ROSTER
        assert [person.name for person in staffing.everyone(office)] == ["desk"]
    assert new("plan", "show").out == EARLIER_DUE
    refused(new("init", "--like", str(shell.data)), "is there already")
    refused(new("init", "--like", str(tmp_path / "nowhere")), "there is no data folder")


@pytest.mark.parametrize("broken", ["", "no plan"])
def test_a_plan_file_that_is_broken_or_gone_is_no_hindrance_to_loading_another(shell: Shell, broken: str) -> None:
    file = a_file(shell, EARLIER_DUE)
    (shell.data / "plan.toml").unlink()
    if broken:
        (shell.data / "plan.toml").write_text(broken, encoding="utf-8")
    assert shell("ready").code == 2
    assert shell("plan", "load", file, "--sure").code == 0
    assert shell("plan", "show").out == EARLIER_DUE
    assert shell("ready").code == 1
