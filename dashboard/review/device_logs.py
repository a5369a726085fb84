"""Devices' own logs beside the record: claim by claim, what is odd about each log, and its lines."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from statistics import median_low

from county.domain.log_claims import LogClaim, Verdict
from county.domain.log_milestones import Milestone
from county.domain.logs_beside import DeviceBeside, LogLine
from dashboard import words
from dashboard.board_now import Board
from dashboard.markup import Markup, quiet, tag, text
from dashboard.review.table import cells, table

MOST_LINES = 200
_ALIKE = timedelta(minutes=4)
_WORDS = {
    Milestone.OPENED: "polls opened",
    Milestone.CLOSED: "polls closed",
    Milestone.ZERO_REPORT: "zero report",
    Milestone.RESULTS_PRINTED: "results printed",
    Milestone.POWERED: "powered",
    Milestone.POWER_LOST: "power lost",
    Milestone.POWER_RESTORED: "power restored",
    Milestone.BATTERY_LOW: "battery low",
    Milestone.NOTHING: "nothing of the day",
}
_HEADS = ("Claim", "Reported", "In the log", "So")


def sentence(every: Sequence[DeviceBeside]) -> str:
    """What to say of all logs: how many claims agree, differ, and where the log does not say."""
    if not every:
        return "No device's log has been taken in."
    told = Counter(claim.verdict for each in every for claim in each.claims)
    parts = (
        (words.counted(told[Verdict.AGREES], "claim agrees", "claims agree"), True),
        (f"{told[Verdict.DIFFERS]:,} {'differs' if told[Verdict.DIFFERS] == 1 else 'differ'}", told[Verdict.DIFFERS]),
        (f"on {told[Verdict.LOG_SILENT]:,} the log does not say", told[Verdict.LOG_SILENT]),
        (f"{told[Verdict.NOT_REPORTED]:,} in a log nobody reported", told[Verdict.NOT_REPORTED]),
    )
    said = words.listed(part for part, worth in parts if worth)
    return f"{words.counted(len(every), 'device')} with a log: {said}."


def overview(board: Board, every: Sequence[DeviceBeside]) -> Markup:
    """One row a device, those with something to look at first."""
    heads = ("Device", "Place", "What differs, or is not in the log", "What is odd about the log")
    return table(heads, [_device(board, each) for each in sorted(every, key=_worst_first)], label="Devices' own logs")


def _worst_first(each: DeviceBeside) -> tuple[int, int, str, str]:
    apart = sum(claim.verdict is not Verdict.AGREES for claim in each.claims)
    return -apart, -len(each.faults), each.place, each.device or each.named


def _device(board: Board, each: DeviceBeside) -> list[Markup]:
    place = board.place_by_id.get(each.place)
    agree = sum(claim.verdict is Verdict.AGREES for claim in each.claims)
    said = [tag("li", text(line)) for line in _apart(each.claims)]
    if agree:
        said.append(tag("li", text(f"{words.counted(agree, 'other claim agrees', 'other claims agree')}")))
    return [
        *cells(each.device or each.named),
        text(words.commas([place.place.name, each.place])) if place else text("not on the roster"),
        tag("ul", *said) if said else text("nothing to hold it against"),
        tag("ul", *(tag("li", text(words.begun(fault.says))) for fault in each.faults)) if each.faults else "",
    ]


def _apart(claims: Sequence[LogClaim]) -> Iterator[str]:
    """What does not agree: claims of which the same is to be said, such as of a clock that is wrong, in one line."""
    for found in (Verdict.DIFFERS, Verdict.LOG_SILENT, Verdict.NOT_REPORTED):
        some = [claim for claim in claims if claim.verdict is found]
        ahead = [claim.ahead for claim in some if claim.ahead is not None]
        alike = not ahead or max(ahead) - min(ahead) <= _ALIKE
        if len(some) > 1 and alike and found is not Verdict.LOG_SILENT:
            middle = replace(some[0], ahead=median_low(ahead) if ahead else None, says="")
            what = words.begun(words.listed(_what(claim) for claim in some))
            yield f"{what}: {verdict(middle).replace('differs by ', 'differ by about ')}"
        else:
            yield from (f"{words.begun(_what(claim))}: {verdict(claim)}" for claim in some)


def of_a_place(board: Board, every: Sequence[DeviceBeside]) -> Markup:
    """Each device of one place: its claims beside the log, and what is odd about it."""
    return "".join(_one(board, each) for each in every)


def _one(board: Board, each: DeviceBeside) -> Markup:
    named = f"{each.device} ({each.model}), {each.file}"
    rows = [
        [
            text(words.begun(_what(claim))),
            *cells(_clock(board, claim.reported_at, "not reported"), _clock(board, claim.log_at, "–")),
            text(verdict(claim)),
        ]
        for claim in each.claims
    ]
    odd = [tag("li", text(words.begun(fault.says))) for fault in each.faults]
    return tag(
        "div",
        tag("p", tag("b", text(named)), quiet(f" SHA-256 {each.digest[:16]}…")),
        table(_HEADS, rows, label=f"Claims about {each.device}") if rows else "",
        tag("ul", *odd) if odd else "",
        _lines(board, each.lines),
    )


def _lines(board: Board, lines: Sequence[LogLine]) -> Markup:
    """The log's own lines, folded away."""
    rows = [
        [
            text(board.wall.second(line.at)),
            *cells(line.id, line.tells or "not in the plan's map", line.details),
            text("" if line.has_zone else "no offset in the log"),
        ]
        for line in lines
    ]
    says = f"The log's own {words.counted(len(lines), 'line')}"
    heads = ("Time", "Id", "By the plan's map", "Details", "")
    return tag("details", tag("summary", text(says)), table(heads, rows, label=says, most=MOST_LINES))


def _what(claim: LogClaim) -> str:
    return _WORDS[Milestone(claim.what)]


def _clock(board: Board, at: datetime | None, none: str) -> str:
    return board.wall.second(at) if at else none


def verdict(claim: LogClaim) -> str:
    """`agrees`, `differs by 4 min, the log later`, `the log does not say: no zero-check in the log`."""
    said = claim.verdict.value
    if claim.verdict is Verdict.DIFFERS and claim.ahead is not None:
        said = f"differs by {_length(claim.ahead)}"
    elif claim.verdict is Verdict.NOT_REPORTED:
        said = "in the log, not reported"
    clock = "; clock not changed?" if claim.clock_not_changed else ""
    return f"{said}{clock}{f': {claim.says}' if claim.says else ''}"


def _length(ahead: timedelta) -> str:
    return f"{words.span(abs(ahead))}, the log {'later' if ahead > timedelta() else 'earlier'}"
