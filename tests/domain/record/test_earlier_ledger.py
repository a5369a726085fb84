"""An earlier election's ledger, as exported, gives the steps of then; what is no ledger is refused by line."""

import json
from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest

from county.domain.entries import Entry, Kind
from county.domain.entry_form import written
from county.domain.intake import Hand
from county.domain.plan_file import parse_plan
from county.domain.plan_versions import plan_entry
from county.domain.record.earlier_ledger import steps_of_ledger
from county.errors import Refused
from county.setting_up import SAMPLE_PLAN
from tests.builders import OPENS, a_correction, a_plan, a_roster, a_step

TWO_YEARS = timedelta(days=728)
THEN = OPENS - TWO_YEARS
TEXT = SAMPLE_PLAN.read_text(encoding="utf-8").replace("2026-11-03", "2024-11-05").replace("2026", "2024")


def a_ledger(*entries: Entry) -> str:
    plan = plan_entry(1, TEXT, parse_plan(TEXT, "then"), Hand("desk:Office", "Office", "board", THEN))
    forms = [written(entry, seq, "0" * 64) for seq, entry in enumerate((plan, *entries), 1)]
    return "".join(f"{json.dumps(form)}\n" for form in forms)


def test_each_step_is_told_in_minutes_from_the_places_own_opening_of_then_corrections_applied() -> None:
    opened = a_step("open", THEN + timedelta(minutes=4), key="open")
    righted = a_correction(opened, THEN + timedelta(minutes=9), told=True, received_at=THEN + timedelta(hours=2))
    vote_centre = a_step("open", THEN + timedelta(minutes=59), place="P016")
    found = steps_of_ledger(a_ledger(opened, righted, vote_centre), "then.jsonl", a_roster(), a_plan())
    assert {(each.place, each.step, each.minutes) for each in found} == {("P014", "open", 9), ("P016", "open", -1)}


def test_a_line_that_is_no_entry_is_named() -> None:
    with pytest.raises(Refused) as refused:
        steps_of_ledger(a_ledger() + '{"seq": 9}\n[1]\nx\n', "then.jsonl", a_roster(), a_plan())
    assert [problem.field for problem in refused.value.problems] == [f"then.jsonl, line {n}" for n in (2, 3, 4)]


@pytest.mark.parametrize("text", ["", "\n \n"])
def test_an_empty_file_is_no_ledger(text: str) -> None:
    with pytest.raises(Refused):
        steps_of_ledger(text, "then.jsonl", a_roster(), a_plan())


def test_a_ledger_of_this_election_is_no_earlier_one() -> None:
    today = replace(a_step("open", OPENS), fields=MappingProxyType({"step": "open"}), kind=Kind.STEP)
    text = json.dumps(written(today, 1, "0" * 64))
    with pytest.raises(Refused, match="of this election"):
        steps_of_ledger(text, "today.jsonl", a_roster(), a_plan())
