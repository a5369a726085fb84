"""Response times from cases as they were really folded: whose wait ended how, and what is left out aloud."""

from dataclasses import replace

import pytest

from county.domain.cases import Case
from county.domain.entries import Entry
from county.domain.milestones import Milestone
from county.domain.response import Times, groupings, response, responses_by, times
from county.domain.roster import Place
from county.domain.survival import Outcome
from tests.builders import OPENS, a_correction, a_plan, a_roster, a_step, after, an_action, an_exception, before, raised
from tests.looking import the_cases

NOW = after(180)
JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"


def deed(action: str, minutes: float, case: str = NAME, **more: object) -> Entry:
    return an_action(case, action, after(minutes), **more)


def waited(milestone: Milestone, *entries: Entry) -> Times:
    return times(the_cases(*entries).values(), milestone, NOW)


def the_wait(milestone: Milestone, *deeds: Entry) -> tuple[float, Outcome]:
    found = waited(milestone, JAM, *deeds)
    assert (len(found.minutes), found.untimed) == (1, 0)
    return found.minutes[0], found.outcomes[0]


WHOLE = (
    deed("acknowledge", 62),
    deed("assign", 65, rover="R03"),
    deed("under-way", 66),
    deed("on-site", 80),
    deed("clear", 95),
)


@pytest.mark.parametrize(
    ("milestone", "minutes"), list(zip(Milestone, (2, 5, 6, 20, 35), strict=True)), ids=[str(m) for m in Milestone]
)
def test_each_milestone_counts_from_when_the_case_was_raised(milestone: Milestone, minutes: float) -> None:
    assert the_wait(milestone, *WHOLE) == (minutes, Outcome.REACHED)


@pytest.mark.parametrize("milestone", Milestone)
def test_a_case_still_open_is_censored_now(milestone: Milestone) -> None:
    assert the_wait(milestone) == (120, Outcome.WAITING)


@pytest.mark.parametrize("milestone", Milestone)
def test_a_case_withdrawn_before_it_was_reached_ended_otherwise(milestone: Milestone) -> None:
    assert the_wait(milestone, deed("withdraw", 70)) == (10, Outcome.ENDED_OTHERWISE)


@pytest.mark.parametrize("milestone", Milestone)
def test_a_report_taken_back_ends_a_case_otherwise_too(milestone: Milestone) -> None:
    short = a_step("zero-report", before(10), device="SC-0141", copies=1, signers=3, public_counter=0)
    found = waited(milestone, short, a_correction(short, after(30), withdraw=True))
    assert found == Times((40,), (Outcome.ENDED_OTHERWISE,))


def test_whoever_does_anything_with_a_case_has_acknowledged_it() -> None:
    assert the_wait(Milestone.ACKNOWLEDGED, deed("on-site", 75, rover="R03")) == (15, Outcome.REACHED)
    assert the_wait(Milestone.ACKNOWLEDGED, deed("clear", 77)) == (17, Outcome.REACHED)


def test_a_place_that_opened_by_itself_was_neither_acknowledged_nor_visited_but_is_cleared() -> None:
    late = raised("late-opening", "opening", OPENS, effect="stopped")
    opened = a_step("open", after(25))
    assert waited(Milestone.CLEARED, late, opened) == Times((25,), (Outcome.REACHED,))
    for milestone in (Milestone.ACKNOWLEDGED, Milestone.ON_SITE):
        assert waited(milestone, late, opened) == Times((25,), (Outcome.ENDED_OTHERWISE,))


def test_a_case_cleared_by_telephone_never_needed_anybody_on_site() -> None:
    assert the_wait(Milestone.ON_SITE, deed("acknowledge", 61), deed("clear", 70)) == (10, Outcome.ENDED_OTHERWISE)


def test_a_rover_who_cleared_without_ever_tapping_on_site_leaves_a_time_missing_and_counted() -> None:
    sent_and_cleared = (deed("assign", 61, rover="R03"), deed("clear", 90))
    assert waited(Milestone.ON_SITE, JAM, *sent_and_cleared) == Times(untimed=1)
    assert waited(Milestone.UNDER_WAY, JAM, deed("assign", 61, rover="R03"), deed("on-site", 80)) == Times(untimed=1)


def test_reopening_takes_back_the_clearing_but_not_the_first_acknowledgement() -> None:
    again = (deed("acknowledge", 62), deed("clear", 65), deed("reopen", 100), deed("acknowledge", 101))
    assert the_wait(Milestone.ACKNOWLEDGED, *again) == (2, Outcome.REACHED)
    assert the_wait(Milestone.CLEARED, *again) == (120, Outcome.WAITING)
    assert the_wait(Milestone.CLEARED, *again, deed("clear", 110)) == (50, Outcome.REACHED)


def test_what_is_tapped_after_a_case_has_ended_counts_for_nothing() -> None:
    found = waited(Milestone.ON_SITE, JAM, deed("clear", 70), deed("on-site", 75))
    assert found == Times((10,), (Outcome.ENDED_OTHERWISE,))


def test_a_response_says_how_many_are_open_ended_otherwise_and_without_a_time() -> None:
    jams = [an_exception("scanner-jam", after(60), device=f"X{n}", key=f"jam-{n}") for n in range(6)]
    names = [f"P014.scanner-jam.X{n}" for n in range(6)]
    deeds = [
        deed("on-site", 70, names[0], rover="R03"),
        deed("on-site", 90, names[1], rover="R03"),
        deed("withdraw", 65, names[2]),
        deed("assign", 66, names[3], rover="R03"),
        deed("clear", 99, names[3]),
    ]
    found = response(the_cases(*jams, *deeds).values(), Milestone.ON_SITE, NOW)
    assert (found.cases, found.reached, found.open, found.ended_otherwise, found.untimed) == (6, 2, 2, 1, 1)
    assert str(found.median) == "more than 120"
    assert found.within(10) == pytest.approx(4 / 5 * 1 / 4)  # one of the four who were not withdrawn before
    assert found.within(121) is None
    assert found.mean is not None
    assert found.mean.to == 120


def test_with_all_seen_to_the_end_the_share_within_a_target_is_the_plain_share() -> None:
    jams = [an_exception("scanner-jam", after(60), device=f"X{n}", key=f"jam-{n}") for n in range(4)]
    deeds = [
        deed("on-site", 60 + wait, f"P014.scanner-jam.X{n}", rover="R03") for n, wait in enumerate((5, 10, 15, 40))
    ]
    found = response(the_cases(*jams, *deeds).values(), Milestone.ON_SITE, NOW)
    assert [found.within(minutes) for minutes in (4, 5, 15, 39, 40, 500)] == pytest.approx([0, 0.25, 0.75, 0.75, 1, 1])
    assert (str(found.median), str(found.ninetieth)) == ("10", "40")


def test_response_is_told_apart_by_effect_kind_zone_rover_and_hour() -> None:
    roster = a_roster(
        places=(Place("P014", "Mill Creek School", zone="West"), Place("P015", "Grange Hall", zone="East"))
    )
    cases: list[Case] = [
        *the_cases(
            JAM,
            an_exception("no-power", after(-30), place="P015"),
            deed("assign", 65, rover="R03"),
            roster=roster,
        ).values()
    ]
    group = groupings(roster, a_plan())
    groups = {name: sorted(responses_by(group[name], cases, Milestone.ASSIGNED, NOW)) for name in group}
    assert groups == {
        "effect": ["impaired", "stopped"],
        "kind": ["no-power", "scanner-jam"],
        "zone": ["East", "West"],
        "rover": ["", "R03"],
        "hour": ["05", "07"],
    }


def test_a_place_in_another_time_zone_has_its_own_hour_and_one_not_on_the_roster_no_zone() -> None:
    roster = a_roster(places=(Place("P014", "Mill Creek School", zone="West", time_zone="America/Denver"),))
    case = the_cases(JAM)[NAME]
    group = groupings(roster, a_plan())
    assert group["hour"](case) == "06"
    assert group["zone"](replace(case, place="P099")) == ""
    assert group["hour"](replace(case, place="P099")) == "07"


def test_a_pattern_is_left_out_because_its_cases_count_themselves() -> None:
    (case,) = the_cases(JAM, *WHOLE).values()
    pattern = replace(case, case="P014.same-trouble", exception="same-trouble", of="scanner-jam", links=(NAME,))
    assert times([case, pattern], Milestone.ON_SITE, NOW) == times([case], Milestone.ON_SITE, NOW)
    assert list(responses_by(lambda each: each.exception, [case, pattern], Milestone.ON_SITE, NOW)) == ["scanner-jam"]
