"""What people typed is text, never markup."""

from county.domain.receipts import SetAside
from county.errors import Problem
from dashboard.case_panel import panel, record
from dashboard.markup import tag, text
from dashboard.place_panel import entries
from dashboard.set_aside_list import listed
from tests.builders import OPENS, a_note, a_withdrawal, an_action, an_exception
from tests.dashboard.a_board import a_board

NASTY = "<img src=x onerror=alert(1)>"


def test_a_tag_escapes_its_attributes_and_text_its_value() -> None:
    assert tag("p", text(NASTY), cls='a"b') == f'<p class="a&quot;b">{text(NASTY)}</p>'
    assert "<" not in text(NASTY)


def test_nothing_reported_reaches_a_page_as_markup() -> None:
    act = an_action("P014.other", "note", note=NASTY, by=NASTY)
    note = a_note(note=NASTY)
    board = a_board(an_exception("other", note=NASTY, by=NASTY, fallback=NASTY), note, act, a_withdrawal(note))
    aside = SetAside("k", f"place:{NASTY}", "endpoint", OPENS, "refused", (Problem(NASTY, NASTY),), NASTY)
    case = board.cases[0]
    pages = [panel(board, case), record(board, case), entries(board, board.place_by_id["P014"]), listed(board, [aside])]
    assert all("<img" not in page and "&lt;img" in page for page in pages)


def test_a_withdrawn_report_is_struck_and_stays_readable() -> None:
    note = a_note(note="chairs are short")
    board = a_board(note, a_withdrawal(note, reason="wrong place"))
    shown = entries(board, board.place_by_id["P014"])
    assert "<s>Note, chairs are short</s>" in shown
    assert "Now: withdrawn." in shown
