"""How soon: curves and words against the county's targets; what is open, ended otherwise or untimed is said."""

from dataclasses import replace

from county.domain.effects import Effect
from county.domain.entries import Entry, Kind
from county.domain.plan import Target
from county.domain.survival import Outcome, incidence
from dashboard.waits import PANELS, panels, points, says, waits
from tests.builders import a_plan, after, an_action, an_entry, an_exception
from tests.dashboard.a_board import a_board

TARGETS = {Effect.STOPPED: Target(3, 20, 45), Effect.IMPAIRED: Target(5, 30, 90), Effect.AT_RISK: Target(10)}
PLAN = replace(a_plan(), targets=TARGETS)
ACKNOWLEDGED, ON_SITE = PANELS


def told(*entries: Entry, now: float = 100) -> dict[str, dict[str, str]]:
    """What each panel says of each effect."""
    board = a_board(*entries, now=after(now), plan=PLAN)
    return {panel.title: {wait.effect.value: says(wait) for wait in waits(board, panel)} for panel in PANELS}


def jam(place: str, *deeds: tuple[str, float]) -> list[Entry]:
    rovers = {"assign": {"rover": "R03"}}
    done = [an_action(f"{place}.scanner-jam", each, after(at), **rovers.get(each, {})) for each, at in deeds]
    return [an_exception("scanner-jam", after(0), place=place), *done]


def test_half_nine_tenths_target_and_what_is_still_open() -> None:
    entries = [
        *jam("P014", ("acknowledge", 2), ("assign", 3), ("on-site", 20)),
        *jam("P015", ("acknowledge", 4)),
        *jam("P016"),
    ]
    assert told(*entries) == {
        "Acknowledged": {"impaired": "half within 4 min, nine tenths not reached, target 5; 3 cases, 1 still waiting"},
        "Somebody on site": {
            "impaired": "half not reached, nine tenths not reached, target 30; 3 cases, 2 still waiting"
        },
    }


def test_what_was_withdrawn_or_passed_over_is_counted_and_not_dropped() -> None:
    entries = [*jam("P014", ("withdraw", 9)), *jam("P015", ("assign", 3), ("clear", 40)), *jam("P016", ("on-site", 8))]
    assert told(*entries)["Somebody on site"] == {
        "impaired": "half within 8 min, nine tenths not reached, target 30; "
        "3 cases, 1 ended without it, 1 without a time"
    }


def test_only_effects_with_a_target_are_shown_and_on_site_only_where_somebody_goes() -> None:
    threat, overdue = an_exception("threat", after(1)), an_exception("step-overdue", after(1), place="P015")
    assert told(threat, overdue) == {
        "Acknowledged": {"at-risk": "half not reached, nine tenths not reached, target 10; 1 case, 1 still waiting"},
        "Somebody on site": {},
    }
    nobody_goes = an_exception("drift", after(1), effect="impaired")
    assert told(nobody_goes)["Somebody on site"] == {}
    sent = an_action("P014.drift", "assign", after(2), rover="R03")
    assert "1 still waiting" in told(nobody_goes, sent)["Somebody on site"]["impaired"]


def test_a_pattern_is_left_out_because_its_cases_are_counted() -> None:
    fields = {"exception": "same-trouble", "effect": "stopped", "of": "scanner-jam", "cause": "x", "says": "x"}
    pattern = replace(an_entry(Kind.RAISED, after(5)), fields={**fields, "cases": ("P014.scanner-jam",)})
    board = a_board(*jam("P014"), pattern, now=after(9), plan=PLAN)
    assert any(case.is_pattern for case in board.cases)
    assert [wait.effect for wait in waits(board, ACKNOWLEDGED)] == [Effect.IMPAIRED]


def test_the_curve_steps_down_and_ends_with_the_longest_wait_or_the_chart() -> None:
    curve = incidence([2, 4, 10], [Outcome.REACHED, Outcome.REACHED, Outcome.WAITING])
    assert points(curve, 30) == [(0, 1), (2, 1), (2, 0.6667), (4, 0.6667), (4, 0.3333), (10, 0.3333)]
    assert points(curve, 3) == [(0, 1), (2, 1), (2, 0.6667), (3, 0.6667)]


def test_a_chart_is_three_of_its_longest_target_long() -> None:
    (first, second) = panels(a_board(*jam("P014"), now=after(300), plan=PLAN))
    assert (first["title"], first["until"], first["ticks"]) == ("Acknowledged", 15, ["0", "5", "10", "15 min"])
    assert (second["until"], second["ticks"]) == (90, ["0", "30", "60", "90 min"])


def test_a_county_without_targets_has_no_chart() -> None:
    assert panels(a_board(*jam("P014"), now=after(9))) == []
