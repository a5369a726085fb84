"""Whom to tell: roles as people on shift, each once for each rung, and the next rung where nobody is there."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.plan import UNLESS, Plan, Rung
from county.domain.to_tell import Nobody, Owed, next_look
from tests.builders import after, an_action, an_exception
from tests.looking import the_case
from tests.told import a_ladder, a_person, a_rung, look, watched

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"
Told = list[tuple[datetime, Owed | Nobody]]


def deed(action: str, minutes: float) -> Entry:
    return an_action(NAME, action, after(minutes))


def minute_by_minute(until: int = 300, since: int = 60) -> list[datetime]:
    return [after(minute + 0.1) for minute in range(since, until)]


def said(told: Told) -> list[str]:
    """`62 lead Ada Rill`: minutes after the opening, role, person; or nobody."""
    return [
        f"{(now - after()) // timedelta(minutes=1)} {one.role} {one.person.name if isinstance(one, Owed) else 'nobody'}"
        for now, one in told
    ]


def test_each_rung_is_told_when_it_is_due_and_once() -> None:
    plan = a_ladder(a_rung(0), a_rung(5, "director"), people=[a_person(), a_person("Bo Fenn", "director")])
    told, _ = watched(plan, [JAM], minute_by_minute())
    assert said(told) == ["60 lead Ada Rill", "65 director Bo Fenn"]


def test_everybody_on_shift_in_a_role_is_told_and_nobody_twice() -> None:
    people = [a_person("Ada Rill", "lead", "director"), a_person("Bo Fenn", "director"), a_person("Cy Moss", "counsel")]
    told, _ = watched(a_ladder(a_rung(0, "lead", "director"), people=people), [JAM], minute_by_minute())
    assert said(told) == ["60 lead Ada Rill", "60 director Bo Fenn"]


def test_a_rung_may_name_a_person() -> None:
    told, _ = watched(a_ladder(a_rung(0, "Ada Rill")), [JAM], minute_by_minute())
    assert said(told) == ["60 Ada Rill Ada Rill"]


def test_whoever_is_on_shift_is_told_and_the_next_shift_is_not_told_again() -> None:
    people = [a_person("Ada Rill", starts="04:00", ends="07:30"), a_person("Bo Fenn", starts="07:30", ends="19:00")]
    told, _ = watched(a_ladder(a_rung(0), a_rung(40), people=people), [JAM], minute_by_minute())
    assert said(told) == ["60 lead Ada Rill", "100 lead Bo Fenn"]


def test_a_shift_may_go_over_midnight() -> None:
    night = a_person(starts="18:00", ends="02:00")
    told, _ = watched(a_ladder(a_rung(0), people=[night]), [JAM], [after(719.9), after(720), after(1200)])
    assert said(told)[:2] == ["719 lead nobody", "720 lead Ada Rill"]


def test_where_nobody_is_on_shift_it_is_said_once_and_the_next_rung_is_told_at_once() -> None:
    plan = a_ladder(a_rung(0), a_rung(30, "director"), people=[a_person("Bo Fenn", "director")])
    told, _ = watched(plan, [JAM], minute_by_minute())
    assert said(told) == ["60 lead nobody", "60 director Bo Fenn"]
    pulled = told[1][1]
    assert isinstance(pulled, Owed)
    assert (pulled.vacant, pulled.telling.due_at) == (("lead",), after(60))


def test_where_nobody_is_there_on_any_rung_each_role_is_said_once() -> None:
    told, _ = watched(a_ladder(a_rung(0), a_rung(30, "director"), people=[]), [JAM], minute_by_minute())
    assert said(told) == ["60 lead nobody", "60 director nobody"]


def test_only_the_next_rung_is_told_early() -> None:
    people = [a_person("Bo Fenn", "director"), a_person("Cy Moss", "counsel")]
    plan = a_ladder(a_rung(0), a_rung(30, "director"), a_rung(50, "counsel"), people=people)
    told, _ = watched(plan, [JAM], minute_by_minute())
    assert said(told) == ["60 lead nobody", "60 director Bo Fenn", "110 counsel Cy Moss"]


def test_a_rung_whose_reason_is_gone_is_not_told_early() -> None:
    plan = a_ladder(
        a_rung(10, "lead", unless="cleared"),
        a_rung(30, "director", unless="on-site"),
        a_rung(50, "counsel", unless="cleared"),
        people=[a_person("Bo Fenn", "director"), a_person("Cy Moss", "counsel")],
    )
    told, _ = watched(plan, [JAM, deed("on-site", 65)], minute_by_minute())
    assert said(told) == ["70 lead nobody", "70 counsel Cy Moss"]


def test_whoever_comes_on_shift_while_the_reason_stands_is_told_then_and_late() -> None:
    plan = a_ladder(a_rung(0), people=[a_person(starts="08:00", ends="19:00")])
    told, held = watched(plan, [JAM], minute_by_minute())
    assert said(told) == ["60 lead nobody", "120 lead Ada Rill"]
    assert held[-1].fields["late"] is True
    assert the_case(NAME, *held, plan=plan).told == (
        "nobody on shift for lead 07:00",
        "lead (Ada Rill) by console 08:00, on its way (late: due 07:00)",
    )


def test_acknowledging_stops_the_ladder_and_reopening_starts_it_again() -> None:
    plan = a_ladder(a_rung(0), a_rung(10), a_rung(20, unless="cleared"))
    deeds = [deed("acknowledge", 65), deed("clear", 90), deed("reopen", 120)]
    told, _ = watched(plan, [JAM, *deeds], minute_by_minute())
    assert said(told) == [f"{minute} lead Ada Rill" for minute in (60, 80, 120, 130, 140)]


def test_a_past_election_is_not_told_of() -> None:
    assert look(a_ladder(a_rung(0)), [JAM], after(hours=26)) == []


def test_it_is_known_when_to_look_again() -> None:
    plan = a_ladder(a_rung(0), a_rung(5), a_rung(45), people=[a_person(starts="07:20", ends="19:00")])
    case = the_case(NAME, JAM, plan=plan)
    moments: list[datetime] = []
    now = after(60)
    while (again := next_look(case, plan, now)) and len(moments) < 9:
        moments.append(again)
        now = again
    assert moments == [after(65), after(80), after(105)]


ROLES = ("lead", "director", "counsel")
RUNGS = st.builds(
    lambda minutes, unless, tell: a_rung(minutes, *tell, unless=unless),
    st.sampled_from([0, 0, 5, 5, 10, 20, 40]),
    st.sampled_from(UNLESS),
    st.lists(st.sampled_from(ROLES), min_size=1, max_size=2, unique=True),
)
SHIFTS = st.sampled_from([("", ""), ("04:00", "07:10"), ("07:10", "19:00"), ("07:30", "09:00")])
PEOPLE = st.lists(
    st.tuples(st.lists(st.sampled_from(ROLES), min_size=1, max_size=2, unique=True), SHIFTS), max_size=4
).map(lambda drawn: [a_person(f"P{n}", *r, starts=s, ends=e) for n, (r, (s, e)) in enumerate(drawn)])
PLANS = st.builds(lambda rungs, people: a_ladder(*rungs, people=people), st.lists(RUNGS, max_size=4), PEOPLE)
DEEDS = st.lists(
    st.tuples(st.sampled_from(["acknowledge", "on-site", "clear", "reopen", "withdraw"]), st.integers(61, 200)),
    max_size=4,
    unique_by=lambda drawn: drawn[1],
).map(lambda drawn: [deed(*each) for each in drawn])
LOOKS = st.lists(st.integers(58, 240), min_size=1, max_size=12, unique=True).map(
    lambda minutes: [after(minute + 0.2) for minute in sorted(minutes)]
)


def case_at(now: datetime, entries: list[Entry], plan: Plan) -> Case | None:
    return the_case(NAME, *(e for e in entries if e.received_at <= now), plan=plan) if now >= JAM.received_at else None


def begins(case: Case) -> tuple[datetime, int]:
    """When the case was last opened, and for which time, worked out here without the ladder's help."""
    opened, life, is_open = case.raised_at, 0, True
    for step in case.steps:
        if step.action == "reopen" and not is_open:
            opened, life = step.at, life + 1
        is_open = step.action == "reopen" or (is_open and step.action not in ("clear", "withdraw"))
    return opened, life


def stands(case: Case, rung: Rung) -> bool:
    """Whether the milestone that would end a rung has not been reached."""
    reached = {
        "acknowledged": case.acknowledged_at or case.on_site_at,
        "on-site": case.on_site_at,
        "cleared": case.cleared_at,
    }
    return case.state.open and reached[rung.unless] is None


def same(one: Rung, other: Rung) -> bool:
    """Whether two rungs are one, though they name the same roles in another order."""
    return replace(one, tell=()) == replace(other, tell=()) and set(one.tell) == set(other.tell)


@given(PLANS, DEEDS, LOOKS)
def test_nobody_is_told_before_it_is_due_nor_without_a_reason_nor_twice(
    plan: Plan, deeds: list[Entry], looks: list[datetime]
) -> None:
    told, held = watched(plan, [JAM, *deeds], looks)
    for now, one in told:
        case = case_at(now, held, plan)
        assert case is not None
        assert stands(case, one.telling.rung)
        assert one.telling.due_at <= now
        early = isinstance(one, Owed) and one.vacant
        if isinstance(one, Owed) and not early and one.telling.due_at != case.raised_at:
            assert one.telling.due_at >= begins(case)[0]
    names = [(one.telling.key, one.person.name) for _, one in told if isinstance(one, Owed)]
    assert len(names) == len(set(names))
    assert len({one.notice for _, one in told}) == len(told)


@given(PLANS, DEEDS, LOOKS)
def test_however_long_nobody_looked_every_rung_that_is_due_has_been_told_or_has_nobody(
    plan: Plan, deeds: list[Entry], looks: list[datetime]
) -> None:
    told, held = watched(plan, [JAM, *deeds], looks)
    now = looks[-1]
    case = case_at(now, held, plan)
    if case is None:
        return
    opened, life = begins(case)
    for rung in plan.ladder:
        if not stands(case, rung) or opened + rung.after > now:
            continue
        for role in rung.tell:
            found = [one for _, one in told if one.telling.life == life and same(one.telling.rung, rung)]
            named = {person.name for person in plan.people if role in person.roles}
            assert any(one.person.name in named if isinstance(one, Owed) else one.role == role for one in found)
    assert look(plan, held, now) == []


@given(PLANS, st.integers(0, 120))
def test_what_was_missed_while_nobody_looked_is_told_late_and_says_so(plan: Plan, down: int) -> None:
    """The clock stops before the case and comes back `down` minutes after it was raised."""
    now = after(60 + down) + timedelta(seconds=30)
    for one, fact in look(plan, [JAM], now):
        late = now - one.telling.due_at
        assert late >= timedelta(0)
        assert fact.fields["late"] is (late > timedelta(minutes=2))
        if isinstance(one, Owed) and not one.vacant:
            assert one.telling.due_at == after(60) + one.telling.rung.after


@pytest.mark.parametrize("unless", UNLESS)
def test_nothing_is_told_of_a_case_that_has_ended(unless: str) -> None:
    for ending in ("clear", "withdraw"):
        told, _ = watched(a_ladder(a_rung(5, unless=unless)), [JAM, deed(ending, 62)], minute_by_minute())
        assert told == []
