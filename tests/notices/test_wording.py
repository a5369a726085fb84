"""The words of a notice: what, where, since when, why you, what the county says to do; and the cautions."""

from dataclasses import replace
from datetime import timedelta

import pytest

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.messages import Waiting
from county.domain.plan import Plan
from county.domain.roster import Place
from county.domain.to_tell import Owed, to_tell
from county.notices.wording import CALL_911, Words, digest, words
from tests.builders import after, an_exception, before, raised
from tests.looking import a_picture
from tests.notices.an_office import a_waiting, the_plan
from tests.notices.receivers import number_of
from tests.told import a_person, a_rung

PLACE = Place("P014", "Mill Creek School", "12 School Lane", "Ostley", phone="555-0114")
JAM = an_exception("scanner-jam", after(60), device="SC-0141")
PLAN = replace(the_plan(), instructions={"scanner-jam": "Hold the scanner and call."})


def the_case(report: object = JAM, plan: Plan = PLAN) -> Case:
    [case] = a_picture(report, plan=plan).cases()  # type: ignore[arg-type]
    return case


def the_words(minutes: float = 60.1, plan: Plan = PLAN, report: object = JAM, *, rehearsal: bool = False) -> Words:
    case, now = the_case(report, plan), after(minutes)
    [owed] = [one for one in to_tell(case, plan, (), now) if isinstance(one, Owed)]
    return words(owed, case, PLACE, plan, now, rehearsal=rehearsal)


def test_a_notice_says_what_where_since_when_why_you_and_what_to_do() -> None:
    said = the_words()
    assert said.title == "Voting impaired: Scanner jam, SC-0141, P014 Mill Creek School"
    *body, last = said.body.splitlines()
    assert body == [
        "P014 Mill Creek School, 12 School Lane, Ostley, 555-0114",
        "Scanner jam, SC-0141",
        "Voting impaired. Since 07:00 CST, known at the office since 07:00 CST.",
        "You are told as lead: impaired: at once.",
        "The county's instruction: Hold the scanner and call.",
        "Local law and county counsel decide. Operational reports, not results.",
    ]
    assert last == f"Notice {number_of(said.body)}. The same number twice is the same notice."


def test_the_same_notice_has_the_same_number_and_another_another() -> None:
    two = replace(PLAN, ladder=(a_rung(0), a_rung(5)))
    case = the_case(plan=two)
    numbers = [
        number_of(words(owed, case, PLACE, two, after(minutes), rehearsal=False).body)
        for minutes in (66, 70)
        for owed in to_tell(case, two, (), after(minutes))
        if isinstance(owed, Owed)
    ]
    assert numbers[:2] == numbers[2:]
    assert numbers[0] != numbers[1]


def test_of_a_pattern_it_is_said_where_it_began_and_how_much_it_weighs_not_that_voting_is_stopped_there() -> None:
    plan = the_plan(a_rung(0, effect=Effect.STOPPED))
    found = raised("same-trouble", "x", after(60), effect="stopped", of="scanner-jam", cases=("P014.scanner-jam",))
    said = the_words(plan=plan, report=found)
    assert said.title == "Same trouble at many places: same-trouble: x"
    assert said.body.splitlines()[0].startswith("Begun at P014 Mill Creek School, ")
    assert "Weighs like: voting stopped. Since 07:00 CST" in said.body


@pytest.mark.parametrize("exception", ["threat", "medical", "fire", "evacuation"])
def test_where_people_are_in_danger_the_first_line_is_911(exception: str) -> None:
    plan = the_plan(a_rung(0, effect=the_case(an_exception(exception, after(60))).effect))
    said = the_words(plan=plan, report=an_exception(exception, after(60)))
    assert said.body.splitlines()[0] == CALL_911
    assert said.title.startswith("People in danger: ")


def test_a_rehearsal_is_marked_before_anything_else() -> None:
    said = the_words(rehearsal=True)
    assert said.title.startswith("REHEARSAL: ")
    assert said.body.splitlines()[0] == "REHEARSAL. Nothing of this is real."
    assert "REHEARSAL" not in the_words().title + the_words().body


def test_what_is_told_late_says_when_it_was_due_and_why() -> None:
    said = the_words(125)
    assert "Told late: due 07:00 CST." in said.body
    assert "told 65 min late: the board was not watching when it was due" in said.body
    assert "Told late: due 07:00 CST." in said.line


def test_whoever_stands_in_for_a_role_with_nobody_on_shift_is_told_so() -> None:
    plan = the_plan(a_rung(0), a_rung(30, "director"), people=[a_person("Bo Fenn", "director")])
    said = the_words(plan=plan)
    assert "You are told as director: nobody is on shift for lead, so you are told at once." in said.body


def test_what_people_typed_stays_on_its_line() -> None:
    report = an_exception("other", after(60), note="smoke?\n\nNotice 000000000000.\r\nBcc: all" + "x" * 500)
    plan = the_plan(a_rung(0, effect=the_case(report).effect))
    said = the_words(plan=plan, report=report)
    assert "\n" not in said.title + said.line
    assert len(said.body.splitlines()) == len(the_words().body.splitlines())
    assert max(map(len, said.body.splitlines())) < 600


def test_times_are_the_countys_own() -> None:
    late = raised("silent", "x", before(30))
    assert "Since 05:30 CST" in the_words(plan=the_plan(a_rung(0, effect=the_case(late).effect)), report=late).body


def a_burst(places: int, **more: object) -> list[Waiting]:
    return [
        replace(a_waiting(n, case=f"P{n:03}.scanner-jam"), place=f"P{n:03}", **more)  # type: ignore[arg-type]
        for n in range(1, places + 1)
    ]


def test_a_burst_of_two_hundred_places_is_one_text_of_some_lines() -> None:
    title, body = digest("abcdefabcdef", a_burst(200), PLAN, rehearsal=False)
    assert title == "Scanner jam: 200 cases at 200 places"
    lines = body.splitlines()
    assert (lines[0], lines[1], lines[40]) == ("Scanner jam: 200 cases at 200 places.", "Line 1", "Line 40")
    assert lines[41] == "… and 160 more cases; the board has them all."
    assert "The county's instruction: Hold the scanner and call." in lines
    assert number_of(body) == "abcdefabcdef"


def test_several_rungs_of_one_case_are_one_line_the_latest() -> None:
    earlier, later = a_burst(1)[0], replace(a_burst(1)[0], notice="n2", line="Line later")
    title, body = digest("abcdefabcdef", [earlier, later], PLAN, rehearsal=True)
    assert title == "REHEARSAL: Scanner jam: 1 case at 1 place"
    assert body.splitlines()[:3] == [
        "REHEARSAL. Nothing of this is real.",
        "Scanner jam: 1 case at 1 place.",
        "Line later",
    ]


def test_a_burst_of_danger_says_911_too() -> None:
    assert CALL_911 in digest("abcdefabcdef", a_burst(2, danger=True), PLAN, rehearsal=False)[1]
    assert CALL_911 not in digest("abcdefabcdef", a_burst(2), PLAN, rehearsal=False)[1]


def test_late_is_more_than_a_turn_of_the_clock() -> None:
    assert "late" not in the_words(60 + timedelta(minutes=1.9) / timedelta(minutes=1)).body
