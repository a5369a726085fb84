"""Cases as rows: worst first, nobody's waiting said, rovers by name."""

from dataclasses import replace

from county.domain.effects import Effect
from county.domain.plan import Target
from dashboard.case_rows import ended_cases, open_cases, rovers_busy, worst_cases
from tests.builders import a_full_opening, a_plan, after, an_action, an_exception
from tests.dashboard.a_board import a_board

PLAN = replace(a_plan(), targets={Effect.IMPAIRED: Target(5, 30, 90)})
JAM = an_exception("scanner-jam", device="SC-0141")
FIRE = an_exception("fire", after(1))


def test_worst_first_with_what_is_waited_for() -> None:
    rows = open_cases(a_board(*a_full_opening(), JAM, FIRE, now=after(9), plan=PLAN), "P014.fire")
    assert [(row.id, row.state, row.alarm, row.chosen) for row in rows] == [
        ("P014.fire", "nobody yet, 8 min", False, True),
        ("P014.scanner-jam.SC-0141", "nobody yet, 9 min", True, False),
    ]


def test_a_rover_is_called_by_name_and_counted_busy() -> None:
    assign = an_action("P014.scanner-jam.SC-0141", "assign", after(4), rover="R03")
    board = a_board(*a_full_opening(), JAM, assign, now=after(9))
    assert open_cases(board, "")[0].who == "Rover Three"
    assert rovers_busy(board) == "On open cases now: Rover Three (1)."
    assert rovers_busy(a_board()) == "No rover is on an open case now."


def test_a_case_that_ended_leaves_the_open_ones() -> None:
    clear = an_action("P014.fire", "clear", after(6), note="false alarm")
    board = a_board(*a_full_opening(), FIRE, clear, now=after(9))
    assert open_cases(board, "") == []
    assert [(row.id, row.state, row.bar) for row in ended_cases(board, "")] == [("P014.fire", "cleared 06:06", None)]


def test_the_worst_of_a_place_stands_for_its_others() -> None:
    rows = worst_cases(a_board(*a_full_opening(), JAM, FIRE, now=after(9)))
    assert [(row.id, row.says) for row in rows] == [("P014.fire", "fire or alarm, 1 more case")]
