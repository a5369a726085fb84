"""Every row of the tables of rules has a stable id, a source, a kind of exception, and a case file of its own."""

from pathlib import Path

import pytest

from county.domain.exception_kinds import EXCEPTION_KINDS
from county.domain.rules import CLOCK_RULES, FACT_RULES, clock_findings, fact_findings
from county.domain.rules.by_clock import STALE
from county.domain.rules.scene import ClockRule, Rule
from tests.builders import OPENS, a_full_opening, after
from tests.looking import a_scene

HERE = Path(__file__).parent
ROWS: tuple[Rule | ClockRule, ...] = (*FACT_RULES, *CLOCK_RULES)
NO_RULE = {"test_the_tables.py", "test_kinds_of_exception.py"}


@pytest.mark.parametrize("rule", ROWS, ids=lambda rule: rule.id)
def test_each_rule_has_a_case_file_that_names_it(rule: Rule | ClockRule) -> None:
    file = HERE / f"test_{rule.id.replace('-', '_')}.py"
    assert file.exists(), f"no case file for the rule {rule.id}"
    text = file.read_text()
    assert text.startswith(f'"""{rule.id}: ')
    assert text.count("\ndef test_") >= 3


@pytest.mark.parametrize("rule", ROWS, ids=lambda rule: rule.id)
def test_each_rule_names_its_source_and_a_kind_of_exception(rule: Rule | ClockRule) -> None:
    assert rule.source
    assert rule.exception in {"*", *EXCEPTION_KINDS}


def test_no_two_rules_have_the_same_id() -> None:
    ids = [rule.id for rule in ROWS]
    assert len(set(ids)) == len(ids)


def test_every_case_file_is_of_a_rule_that_exists() -> None:
    of_rules = {f"test_{rule.id.replace('-', '_')}.py" for rule in ROWS}
    assert {file.name for file in HERE.glob("test_*.py")} == of_rules | {
        "test_the_tables.py",
        "test_kinds_of_exception.py",
    }


@pytest.mark.parametrize("place", ["P014", "P015", "P016"])
def test_a_good_opening_raises_nothing(place: str) -> None:
    scene = a_scene(*a_full_opening(place), place=place)
    assert fact_findings(scene) == []
    assert clock_findings(scene, after(70)) == []


def test_a_silent_place_raises_what_the_clock_alone_can_tell() -> None:
    found = {rule.id for rule, _ in clock_findings(a_scene(), after(hours=20))}
    assert found == {"late-opening", "step-overdue", "silent", "not-closed", "not-received"}


def test_what_became_true_more_than_a_day_ago_is_left_alone() -> None:
    late = [due for rule, due in clock_findings(a_scene(), OPENS + STALE) if rule.id == "late-opening"]
    assert [due.since for due in late] == [OPENS]
    assert clock_findings(a_scene(), after(hours=24 * 21)) == []
