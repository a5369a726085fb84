"""Response times against the county's targets, cases by kind, and steps beside an earlier election's."""

from dataclasses import replace
from datetime import datetime

from county.domain.earlier_steps import EarlierStep
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.milestones import Milestone
from county.domain.picture import Picture
from county.domain.plan import Target
from county.domain.record.against_targets import kept, response_rows
from county.domain.record.by_kind import by_kind
from county.domain.record.earlier_compared import compared
from county.domain.response import groupings
from tests.builders import (
    OPENS,
    a_plan,
    a_roster,
    a_step,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    the_end,
)

PLAN = replace(a_plan(), targets={Effect.IMPAIRED: Target(acknowledge=5, on_site=30, clear=60)})
PLACES = ("P014", "P015", "P016")


def picture(*entries: Entry) -> Picture:
    return Picture.of(a_roster(), PLAN, entries)


def three_jams(*entries: Entry) -> Picture:
    return picture(*(an_exception("scanner-jam", after(0), place=p, effect="impaired") for p in PLACES), *entries)


def test_each_case_stands_to_the_target_of_its_own_effect() -> None:
    drawn = three_jams(
        an_action("P014.scanner-jam", "acknowledge", after(3)),
        an_action("P015.scanner-jam", "acknowledge", after(9)),
        an_exception("other", after(0), effect="record"),
    )
    found = kept(drawn.cases(), Milestone.ACKNOWLEDGED, PLAN, after(20))
    assert (found.in_time, found.later, found.waiting_over, found.no_target) == (1, 1, 1, 1)
    assert kept(drawn.cases(), Milestone.ACKNOWLEDGED, PLAN, after(4)).waiting == 1


def test_a_pattern_stands_to_no_target_and_is_in_no_group() -> None:
    cases = three_jams().cases()
    pattern = replace(cases[0], case="P014.same-trouble", exception="same-trouble", of="scanner-jam")
    for milestone in Milestone:
        assert kept([*cases, pattern], milestone, PLAN, after(40)) == kept(cases, milestone, PLAN, after(40))
    by = groupings(a_roster(), PLAN)["kind"]
    rows = response_rows(by, [*cases, pattern], Milestone.ACKNOWLEDGED, PLAN, after(40))
    assert [row.group for row in rows] == ["scanner-jam"]


def test_rows_by_zone_or_kind_carry_a_target_only_where_all_cases_share_it() -> None:
    drawn = three_jams(an_action("P014.scanner-jam", "acknowledge", after(3)), an_exception("other", effect="record"))
    by = groupings(drawn.roster, PLAN)
    kinds = response_rows(by["kind"], drawn.cases(), Milestone.ACKNOWLEDGED, PLAN, after(20))
    assert [(row.group, row.response.cases, row.target) for row in kinds] == [("scanner-jam", 3, 5), ("other", 1, None)]
    (hour,) = response_rows(by["hour"], drawn.cases(), Milestone.ACKNOWLEDGED, PLAN, after(20))
    assert (hour.group, hour.target) == ("06", None)


def test_kinds_say_how_their_cases_ended_and_which_needed_nobody() -> None:
    drawn = three_jams(
        an_action("P014.scanner-jam", "clear", after(30), note="emptied"),
        an_action("P015.scanner-jam", "withdraw", after(30), note="a drill"),
        an_interruption("impaired", after(0), exception="pollbook-outage"),
        the_end(after(20), exception="pollbook-outage"),
    )
    jam, outage = by_kind(drawn.cases(), PLAN, after(60))
    assert (jam.exception, jam.cases, jam.places, jam.open, jam.cleared, jam.withdrawn) == (
        "scanner-jam",
        3,
        3,
        1,
        1,
        1,
    )
    assert (outage.cleared, outage.cleared_by_facts, jam.cleared_by_facts) == (1, 1, 0)
    assert str(jam.clearing.median) == "more than 60"


def test_steps_stand_beside_the_earlier_elections_of_the_same_places() -> None:
    def then(place: str, minutes: int, at: datetime = OPENS) -> EarlierStep:
        return EarlierStep("2024 General Election", place, "open", at, minutes)

    drawn = picture(a_step("open", after(10), place="P014"), a_step("open", before(1), place="P015"))
    rows = {row.step: row for row in compared(drawn, [then("P014", 2), then("P015", 0), then("P099", 40)], after(60))}
    opened = rows["open"]
    assert opened.now is not None
    assert opened.then is not None
    assert (opened.now.places, opened.now.half, opened.now.nine_tenths, opened.now.by_opening) == (2, -1, 10, 1)
    assert (opened.then.places, opened.then.half, opened.then.nine_tenths) == (3, 2, 40)
    assert (opened.due, opened.of_both, opened.later_than_then) == (3, 2, 1)
    assert rows["staffed"].now is None
    assert "closed" not in rows
