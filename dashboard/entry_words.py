"""One entry of the ledger in words: what it says, when it happened and was learned, by whose clock, and from whom."""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from county.domain.entries import FIELDS, REPORT_KINDS, Entry, Kind, Stamp
from dashboard import words
from dashboard.board_now import Board

_ASIDE = frozenset(
    {
        "step",
        "device",
        "exception",
        "effect",
        "since",
        "ends",
        "note",
        "corrects",
        "reason",
        "withdraw",
        "message",
        "role",
    }
)
_NAMES = {
    "check_ins": "check-ins",
    "in_line": "people in line",
    "seal_position": "seal at",
    "item": "on",
    "items_missing": "not there:",
    "roles": "by",
    "auxiliary": "in auxiliary",
}
OTHER_DAYS = "+1 d: a day after election day; -1 d: a day before it."
_FACTS = {"owed": "on its way", "failed": "did not arrive", "arrived": "arrived", "nobody": "nobody on shift"}
_BY_WHOSE_CLOCK: Mapping[Stamp, str] = MappingProxyType(
    {
        Stamp.TOLD: "",
        Stamp.RECEIVED: "time of receipt, none was told",
        Stamp.CLOCK_AHEAD: "time of receipt, the sender's clock is ahead",
        Stamp.CLOCK_BEHIND: "the sender's clock is behind",
    }
)


def other_days(told: Iterable[Entry], board: Board) -> str:
    """What a time such as 02:57 +1 d means, where the entries of a table have one; else empty."""
    moments = (moment for entry in told for moment in (entry.happened_at, entry.received_at))
    return OTHER_DAYS if any(board.wall.days_apart(moment) for moment in moments) else ""


def happened(entry: Entry, board: Board) -> str:
    """When it happened, to the second."""
    return board.wall.second(entry.happened_at)


def by_whose_clock(entry: Entry) -> str:
    """By whose clock a report happened then, where it is not the sender's; empty otherwise."""
    return _BY_WHOSE_CLOCK[entry.stamp] if entry.kind in REPORT_KINDS else ""


def sender(entry: Entry) -> str:
    """From whom, and through which door."""
    by = "the place" if entry.by == entry.place else entry.by
    return by if entry.door in ("board", "clock", "notices", "") else f"{by}, {entry.door}"


def what(entry: Entry, board: Board) -> str:
    """What the entry says, with every field it has."""
    about = _ABOUT.get(entry.kind)
    return words.commas(
        [about(entry, board) if about else entry.kind.value, entry.device, *details(entry), entry.text("note")]
    )


def details(entry: Entry) -> list[str]:
    """The numbers and readings of an entry, each with its name."""
    told = [name for name in FIELDS if name in entry.fields and name not in _ASIDE]
    return [_detail(name, entry.fields[name]) for name in told]


def report_line(entry: Entry, board: Board) -> str:
    """One report in a line: when it happened and was learned, from whom, and whatever it said."""
    told, learned = (board.wall.minute(moment) for moment in (entry.happened_at, entry.received_at))
    times = told if told == learned else f"{told}, learned {learned}"
    return words.commas([f"{times} from {sender(entry)}", *details(entry), entry.text("note")])


def _step(entry: Entry, board: Board) -> str:
    step = board.plan.step(entry.text("step"))
    return step.says if step else words.begun(words.step(entry.text("step")))


def _trouble(entry: Entry, board: Board) -> str:
    return words.commas([board.plan.kind(entry.text("exception")).says, entry.text("effect").replace("-", " ")])


def _interruption(entry: Entry, board: Board) -> str:
    if entry.fields.get("ends"):
        return words.commas(["An interruption is over", _trouble(entry, board)])
    return f"Interruption: {words.unbegun(_trouble(entry, board))}"


def _correction(entry: Entry, board: Board) -> str:
    if entry.fields.get("withdraw"):
        return words.commas(["A report is withdrawn", entry.text("reason")])
    return words.commas(["A report is put right", entry.text("reason")])


def _action(entry: Entry, board: Board) -> str:
    case = board.case_by_id.get(entry.text("case"))
    about = board.plan.kind(case.exception).says if case else entry.text("case")
    rover = board.roster.rover_by_id.get(entry.text("rover"))
    did = words.did(entry.text("action"), rover.name if rover else entry.text("rover"))
    return f"{words.begun(did)}: {words.unbegun(about)}"


def _message(entry: Entry, board: Board) -> str:
    return f"Message to the place: {entry.text('text')}"


def _message_seen(entry: Entry, board: Board) -> str:
    now = board.place_by_id.get(entry.place)
    told = now.day.messages if now else ()
    message = next((each for each in told if each.message == entry.text("message")), None)
    sent = f"sent {board.wall.minute(message.sent_at)}" if message else "that is not known here"
    return words.commas([f"Acknowledged the message {sent}", entry.text("role")])


def _raised(entry: Entry, board: Board) -> str:
    if entry.fields.get("ends"):
        return f"Over: {words.unbegun(_trouble(entry, board))}"
    return f"Noticed: {words.unbegun(entry.text('says') if entry.text('of') else _trouble(entry, board))}"


def _notice(entry: Entry, board: Board) -> str:
    case = board.case_by_id.get(entry.text("case"))
    subject = words.unbegun(board.plan.kind(case.exception).says) if case else entry.text("case")
    whom = entry.text("person") or entry.text("role")
    return f"Notice to {whom} about {subject}: {_FACTS.get(entry.text('fact'), entry.text('fact'))}"


_ABOUT: Mapping[Kind, Callable[[Entry, Board], str]] = MappingProxyType(
    {
        Kind.STEP: _step,
        Kind.COUNT: lambda entry, board: "Count",
        Kind.EXCEPTION: _trouble,
        Kind.INTERRUPTION: _interruption,
        Kind.NOTE: lambda entry, board: "Note",
        Kind.CORRECTION: _correction,
        Kind.MESSAGE: _message,
        Kind.MESSAGE_SEEN: _message_seen,
        Kind.ACTION: _action,
        Kind.RAISED: _raised,
        Kind.NOTICE: _notice,
    }
)


def _detail(name: str, value: object) -> str:
    if name == "seal_intact":
        return "seal whole" if value else "seal not whole"
    return f"{_NAMES.get(name, name.replace('_', ' '))} {_plain(value)}"


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    return f"{value:,}" if isinstance(value, int) else str(value)
