"""The same trouble at many places on the board: counted once, linked both ways, in the county's sentence."""

from dataclasses import replace

from county.domain.entries import Entry, Kind
from dashboard import case_panel, county_sentence, sentences
from dashboard.board_now import Board
from dashboard.case_rows import linked_cases, open_cases, worst_cases
from dashboard.entry_words import what
from dashboard.pattern_words import by_chance, counted, linked, pattern_of, places, sentence
from tests.builders import a_full_opening, after, an_action, an_entry, an_exception
from tests.dashboard.a_board import a_board

THREE = tuple(f"P01{n}.scanner-jam" for n in (4, 5, 6))
NAME = "P014.same-trouble.scanner-jam"
JAMS = [an_exception("scanner-jam", after(60), place=f"P01{n}") for n in (4, 5, 6)]


def told(of: str = "scanner-jam", minute: float = 62, **more: object) -> Entry:
    fields: dict[str, object] = {
        "exception": "same-trouble",
        "effect": "stopped",
        "of": of,
        "cause": of,
        "cases": THREE,
    }
    fields |= {"says": "Scanner jam at 3 places; 1 in 900 by chance", "expected": "about 0.1", "found": "3", **more}
    entry = an_entry(Kind.RAISED, after(minute), by="clock", sender="clock")
    return replace(entry, key=f"clock/{of}/{minute}/{len(fields)}", fields=fields)


def board(*entries: Entry) -> Board:
    return a_board(*a_full_opening(), *JAMS, told(), *entries, now=after(70))


def test_it_is_one_row_with_how_many_places_and_how_unlikely() -> None:
    row = next(row for row in open_cases(board(), "") if row.id == NAME)
    assert (row.title, row.beside) == ("3 places", "")
    assert row.says == "same trouble: scanner jam, 1 in 900 by chance, counts as voting stopped"


def test_each_of_its_cases_says_so_and_leads_to_it_and_it_to_them() -> None:
    made = board()
    pattern, member = made.case_by_id[NAME], made.case_by_id[THREE[0]]
    assert pattern_of(made)[THREE[0]] is pattern
    row = next(row for row in open_cases(made, "") if row.id == THREE[0])
    assert row.says == "scanner jam, voting impaired, one of a pattern"
    assert "One of 3 places with the same trouble, 1 in 900 by chance: " in case_panel.panel(made, member)
    assert {row.id for row in linked_cases(made, linked(made, pattern))} == set(THREE)
    assert (places(pattern), by_chance(pattern)) == (3, "1 in 900 by chance")


def test_a_case_of_a_pattern_that_is_over_is_an_ordinary_one_again() -> None:
    made = board(an_action(NAME, "clear", after(65), note="one bad delivery"))
    assert pattern_of(made) == {}
    assert (sentence(made), counted(made)) == ("", "")
    assert "One of" not in case_panel.panel(made, made.case_by_id[THREE[0]])


def test_the_countys_sentence_names_the_worst_and_counts_the_others() -> None:
    assert county_sentence.county(board()).endswith(" 3 places may share one cause: scanner jam.")
    two = board(told("no-power", effect="at-risk", says="No power at 3 places; 1 in 40 by chance"))
    assert county_sentence.county(two).endswith(" 3 places may share one cause: scanner jam, and 1 more pattern.")
    assert "2 patterns over several places." in sentences.exceptions(two)


def test_its_panel_says_where_it_began_and_has_no_way_to_the_place() -> None:
    drawn = case_panel.panel(board(), board().case_by_id[NAME])
    assert "Begun at Mill Creek School" in drawn
    assert "Same trouble at 3 places, scanner jam" in drawn
    assert "Counts as voting stopped." in drawn
    assert "under way" not in drawn
    assert "on site" not in drawn


def test_the_place_where_it_began_is_not_stopped_by_it_and_counts_its_own_cases_only() -> None:
    made = board()
    assert [case.case for case in made.place_by_id["P014"].open_cases] == [THREE[0]]
    assert made.place_by_id["P014"].standing.value == "impaired"
    assert [row.id for row in worst_cases(made)][:2] == [NAME, THREE[0]]


def test_the_ledger_says_that_it_was_noticed_and_that_it_is_over() -> None:
    made = board()
    assert what(told(), made) == "Noticed: scanner jam at 3 places; 1 in 900 by chance"
    assert what(told(ends=True), made).startswith("Over: same trouble at many places")
