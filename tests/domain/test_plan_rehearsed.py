"""A plan's text made into a rehearsal's: marked as one, nobody outside is told, and nothing else changes."""

from dataclasses import replace

import pytest

from county.domain.plan_file import parse_plan
from county.domain.plan_rehearsed import rehearsed
from county.errors import BadPlan
from county.setting_up import SAMPLE_PLAN
from tests.an_office import PLAN_TEXT

PEOPLE = """
[[person]]
name = "Odessa Marl"
roles = ["lead"]
notice = "mailto://mail.example?to=lead@mail.example"  # her own

[[person]]
name = "Teo Brannick"
roles = ["lead"]

[[person]]
name = "Ines Corwith"
roles = ["director"]
notice = 'setting:DIRECTOR'
"""


@pytest.mark.parametrize(
    "text",
    [
        PLAN_TEXT + PEOPLE,
        PLAN_TEXT.replace("rehearsal = true", "rehearsal = false  # the day") + PEOPLE,
        PLAN_TEXT.replace("rehearsal = true\n", "") + PEOPLE,
        PLAN_TEXT.replace("[election]", "[ election ]").replace("rehearsal = true\n", "") + PEOPLE,
        SAMPLE_PLAN.read_text(encoding="utf-8").replace("rehearsal = true", "rehearsal = false"),
    ],
)
def test_it_says_rehearsal_and_keeps_every_notice_in_the_room(text: str) -> None:
    before, after = parse_plan(text, "x"), parse_plan(rehearsed(text), "x")
    assert after.election.rehearsal
    assert {person.notice for person in after.people} == {"console"}
    people = tuple(replace(person, notice="console") for person in before.people)
    assert after == replace(before, election=replace(before.election, rehearsal=True), people=people)


def test_comments_stay_where_they_were() -> None:
    assert '"console"  # her own' in rehearsed(PLAN_TEXT + PEOPLE)


def test_made_twice_it_stays_the_same() -> None:
    once = rehearsed(PLAN_TEXT + PEOPLE)
    assert rehearsed(once) == once


@pytest.mark.parametrize(
    "text",
    [
        "no plan",
        PLAN_TEXT + 'person = [{name = "Bo", roles = ["lead"], notice = "json://hooks.example/x"}]\n',
    ],
)
def test_what_cannot_be_changed_line_by_line_is_refused_and_never_half_done(text: str) -> None:
    with pytest.raises(BadPlan):
        rehearsed(text)
