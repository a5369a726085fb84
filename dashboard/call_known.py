"""What the board knows already about the place that a call comes from."""

from collections.abc import Iterable

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.phone_call import PhoneCall
from county.domain.picture import PlaceNow
from dashboard import words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.layout import CAUTIONS
from dashboard.looks import trouble
from dashboard.markup import Markup, quiet, tag, text

CALL_911 = CAUTIONS[0]


def sentence(board: Board) -> str:
    """What a call-taker should know before the next call: whether much has nobody yet."""
    nobody = sum(1 for case in board.cases if case.state is State.RAISED)
    if not board.cases:
        return "Take a call. No case is open."
    return f"Take a call. {words.counted(len(board.cases), 'case')} open, {nobody:,} with nobody yet."


def the_911_line(board: Board, call: PhoneCall) -> Markup:
    """Loud as soon as anyone is in danger; quiet, and in the same place, until then."""
    endangers = call.danger or board.plan.kind(call.exception).effect is Effect.DANGER
    if endangers and call.danger is not False:
        return tag("p", text(CALL_911), cls="pr-911", role="alert")
    if endangers:
        return tag("p", text(f"{CALL_911} This kind of trouble counts as danger."), cls="pr-911", role="alert")
    return tag("p", text(CALL_911), cls="pr-note")


def where(now: PlaceNow) -> Markup:
    """The place as the caller can confirm it, and how it stands."""
    place = now.place
    return tag(
        "p",
        tag("b", text(f"{place.name}, {place.place}. ")),
        text(words.sentence(words.STANDING[now.standing]) + " "),
        quiet(words.commas([place.address, place.city, "telephone " if place.phone else ""])),
        tag("span", text(place.phone), cls="pr-quiet pr-whole"),
    )


def in_brief(board: Board, now: PlaceNow | None) -> Markup:
    """On a narrow screen, where the list stands below all questions: which place it is and what is open there."""
    if now is None:
        return tag("p")
    open_cases = words.listed(words.unbegun(trouble(case, board.plan)) for case in now.open_cases)
    known = f" Known already: {open_cases}." if open_cases else " Nothing is open there."
    return tag("p", tag("b", text(f"{now.place.name}, {now.place.place}.")), text(known), cls="pr-narrow pr-said")


def already_known(board: Board, open_cases: Iterable[Case], exception: str) -> Markup:
    """That the same kind of trouble is known there, who has it and how far they are; empty where it is not."""
    same = [case for case in open_cases if case.exception == exception]
    if not same:
        return ""
    lines = [tag("b", text("Already known: ")) + text(f"{_how_far(board, case)}. ") for case in same]
    return tag("p", *lines, text("The call is added to what is known."), cls="pr-said", role="status")


def _how_far(board: Board, case: Case) -> str:
    who = f"rover {rover_name(board, case.rover)} {words.STATE[case.state]}" if case.rover else words.STATE[case.state]
    since = words.clock(case.raised_at, board.zone)
    return words.commas([f"{words.unbegun(trouble(case, board.plan))} since {since}", who])
