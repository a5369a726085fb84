"""What each role may see and do on the board: one table, asked by the pages and again where things are written down.

To add a page or a deed: a row here. The test walks every page and every deed with every role.
"""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from county.domain.cases import Action
from county.domain.entries import REPORT_KINDS, Entry, Kind
from county.domain.people import Role

DESK, LEAD, ROVER, VIEWER = Role.DESK, Role.LEAD, Role.ROVER, Role.VIEWER


class Page(StrEnum):
    """The board's pages, by the last part of their address."""

    COUNTY = "county"
    EXCEPTIONS = "exceptions"
    PLACE = "place"
    CALL = "call"
    SET_ASIDE = "set-aside"
    ROVERS = "rovers"
    MESSAGES = "messages"
    LINES = "lines"
    CLOSING = "closing"
    SET_UP = "set-up"
    REVIEW = "review"


class Deed(StrEnum):
    """What can be done on the board, in words that go after `may not`."""

    SEE_TO_CASES = "see to cases"
    JUDGE_CASES = "withdraw a case or change its effect"
    REPORT = "write down a report"
    SETTLE = "settle what was set aside"
    HAND_OVER = "hand over the desk"
    TELL_EVERYBODY = "send messages"
    SET_UP = "change the roster, the plan or the keys"
    STAFF = "add people or change what they may do"
    EXPORT = "export the record"


SEES: Mapping[Page, tuple[Role, ...]] = MappingProxyType(
    {
        Page.COUNTY: (DESK, LEAD, VIEWER),
        Page.EXCEPTIONS: (DESK, LEAD, VIEWER),
        Page.PLACE: (DESK, LEAD, VIEWER),
        Page.CALL: (DESK, LEAD),
        Page.SET_ASIDE: (DESK, LEAD, VIEWER),
        Page.ROVERS: (DESK, LEAD, ROVER, VIEWER),
        Page.MESSAGES: (DESK, LEAD, VIEWER),
        Page.LINES: (DESK, LEAD, VIEWER),
        Page.CLOSING: (DESK, LEAD, VIEWER),
        Page.SET_UP: (LEAD,),
        Page.REVIEW: (DESK, LEAD, VIEWER),
    }
)
MAY: Mapping[Deed, tuple[Role, ...]] = MappingProxyType(
    {
        Deed.SEE_TO_CASES: (DESK, LEAD),
        Deed.JUDGE_CASES: (LEAD,),
        Deed.REPORT: (DESK, LEAD),
        Deed.SETTLE: (DESK, LEAD),
        Deed.HAND_OVER: (DESK, LEAD),
        Deed.TELL_EVERYBODY: (DESK, LEAD),
        Deed.SET_UP: (LEAD,),
        Deed.STAFF: (LEAD,),
        Deed.EXPORT: (DESK, LEAD, VIEWER),
    }
)
AT_THE_DESK: tuple[Role, ...] = (DESK, LEAD)
"""Who counts as being on the desk, for the hand-over."""
JUDGING = (Action.WITHDRAW, Action.EFFECT)
_DEED_OF: Mapping[Kind, Deed] = MappingProxyType(
    {
        **dict.fromkeys(REPORT_KINDS, Deed.REPORT),
        Kind.SET_ASIDE_OUTCOME: Deed.SETTLE,
        Kind.MESSAGE: Deed.TELL_EVERYBODY,
        Kind.HAND_OVER: Deed.HAND_OVER,
        Kind.ROSTER: Deed.SET_UP,
        Kind.PLAN: Deed.SET_UP,
        Kind.PERSON: Deed.STAFF,
    }
)


def sees(role: Role, page: Page) -> bool:
    """Whether this role is shown the page."""
    return role in SEES[page]


def first_page(role: Role) -> Page:
    """The page at the board's own address for this role."""
    return next(page for page in SEES if sees(role, page))


def may(role: Role, deed: Deed) -> bool:
    """Whether this role may do it."""
    return role in MAY[deed]


def deed_of_action(action: Action) -> Deed:
    """What acting so on a case counts as."""
    return Deed.JUDGE_CASES if action in JUDGING else Deed.SEE_TO_CASES


def deed_of(entry: Entry) -> Deed | None:
    """What writing this entry down at the board counts as; None where nobody may, whatever their role."""
    if entry.kind is Kind.ACTION:
        return deed_of_action(Action(entry.text("action")))
    return _DEED_OF.get(entry.kind)
