"""What was expected beside what was found, the difference seen at once."""

from dashboard.evidence import differing, expected_and_found, reports_behind
from tests.builders import a_step, an_exception, before
from tests.dashboard.a_board import a_board


def test_numbers_of_one_length_are_compared_digit_by_digit() -> None:
    assert differing("800412", "800421") == ([("8004", False), ("12", True)], [("8004", False), ("21", True)])
    assert differing("100", "100") == ([("100", False)], [("100", False)])


def test_a_missing_digit_does_not_mark_all_that_follow() -> None:
    assert differing("80412", "8412") == ([("8", False), ("0", True), ("412", False)], [("8412", False)])


def test_a_seal_is_shown_as_recorded_and_as_found() -> None:
    board = a_board(a_step("seals-checked", before(25), device="SC-0141", seal_position="front", seal_number="A1<0"))
    case = board.case_by_id["P014.seal-mismatch.SC-0141"]
    shown = expected_and_found(case)
    assert "recorded at final testing" in shown
    assert "A100" in shown.replace("<mark>", "").replace("</mark>", "")
    assert "A1<mark>&lt;</mark>0" in shown
    assert [entry.text("seal_number") for entry in reports_behind(case, board.place_by_id["P014"])] == ["A1<0"]


def test_a_trouble_without_anything_to_compare_shows_nothing() -> None:
    board = a_board(an_exception("scanner-jam", device="SC-0141"))
    assert expected_and_found(board.cases[0]) == ""
