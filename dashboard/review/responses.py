"""Response times: what to say of them, the table of one grouping, and the chart beside it."""

from collections.abc import Mapping
from types import MappingProxyType

from county.domain.effects import Effect, effect_of
from county.domain.milestones import Milestone
from county.domain.picture import Picture
from county.domain.record.against_targets import Kept, Row, kept, response_rows
from county.domain.response import Response, groupings, response
from county.domain.survival import Percentile
from dashboard import words
from dashboard.board_now import Board
from dashboard.case_rows import rover_name
from dashboard.drawing import Spec
from dashboard.markup import Markup, text
from dashboard.review import response_chart
from dashboard.review.table import cells, table

BY: Mapping[str, str] = MappingProxyType(
    {"effect": "Effect", "kind": "Kind", "zone": "Zone", "hour": "Hour raised", "rover": "Rover"}
)
"""What cases can be told apart by, and what it is called."""
OF: Mapping[Milestone, str] = MappingProxyType(
    {Milestone.ACKNOWLEDGED: "acknowledged", Milestone.ON_SITE: "reached on site", Milestone.CLEARED: "cleared"}
)
"""What is waited for, and what it is called."""


def sentence(board: Board, picture: Picture, milestone: Milestone) -> str:
    """Of 31 cases half were acknowledged within 4 min, nine tenths within 11; 2 still wait, 1 case lacks a time."""
    whole = response(picture.cases(), milestone, board.as_of)
    if not whole.cases:
        return "No case was raised, so there are no response times."
    missing = [
        f"{whole.open:,} still {'waits' if whole.open == 1 else 'wait'}" if whole.open else "",
        f"{whole.ended_otherwise:,} ended otherwise" if whole.ended_otherwise else "",
        f"{words.counted(whole.untimed, 'case lacks', 'cases lack')} a time" if whole.untimed else "",
    ]
    rest = f"; {words.commas(missing)}" if any(missing) else ""
    return f"Of {words.counted(whole.cases, 'case')} {_how_soon(whole, OF[milestone])}{rest}."


def _how_soon(whole: Response, reached: str) -> str:
    """When half and when nine tenths were reached; what was not is said, and no minutes are made up for it."""
    if whole.median.minutes is None:
        return f"fewer than half were {reached}"
    half = f"half were {reached} within {whole.median} min"
    if whole.ninetieth.minutes is None:
        return f"{half}, but fewer than nine tenths at all"
    return f"{half}, nine tenths within {whole.ninetieth}"


def against_targets(board: Board, picture: Picture, milestone: Milestone) -> str:
    """How the cases stand to their own targets; the county's, since no government publishes any."""
    found = kept(picture.cases(), milestone, board.plan, board.as_of)
    if found == Kept(no_target=found.no_target):
        return "The county's plan sets no target for this."
    said = words.commas(
        [
            f"{found.in_time:,} within their target",
            f"{found.later:,} later" if found.later else "",
            f"{found.waiting_over:,} still waiting over it" if found.waiting_over else "",
            f"{found.waiting:,} still waiting within it" if found.waiting else "",
            f"{found.ended_otherwise:,} ended otherwise" if found.ended_otherwise else "",
            f"{found.untimed:,} without a time" if found.untimed else "",
            f"{found.no_target:,} without a target" if found.no_target else "",
        ]
    )
    return f"By the county's own targets: {said}."


def of_group(board: Board, picture: Picture, by: str, milestone: Milestone) -> tuple[Spec, Markup]:
    """The chart and the table of one grouping."""
    rows = response_rows(groupings(board.roster, board.plan)[by], picture.cases(), milestone, board.plan, board.as_of)
    names = [_name(board, by, row.group) for row in rows]
    heads = (
        *(BY[by], "Cases", "Reached", "Still waiting", "Ended otherwise", "No time"),
        *("Half within", "Nine tenths", "Target", "Within it", "Later or over"),
    )
    told = [_row(row, name) for row, name in zip(rows, names, strict=True)]
    return response_chart.drawn(rows, names), table(heads, told, label=f"Response times by {BY[by].lower()}")


def _row(row: Row, name: str) -> list[Markup]:
    of, stands = row.response, row.kept
    return [
        text(name),
        *cells(of.cases, of.reached, of.open, of.ended_otherwise, of.untimed),
        *cells(_minutes(of.median), _minutes(of.ninetieth)),
        *cells(_target(row)),
        *cells(stands.in_time + stands.waiting, stands.later + stands.waiting_over),
    ]


def _target(row: Row) -> str:
    if row.target is not None:
        return f"{row.target} min"
    return "none" if row.kept.no_target == row.response.cases else "each its own"


def _name(board: Board, by: str, group: str) -> str:
    if not group:
        return {"rover": "no rover", "zone": "no zone"}.get(by, "none")
    named = {
        "effect": lambda: words.begun(words.EFFECT[effect_of(group, Effect.RECORD)]),
        "kind": lambda: board.plan.kind(group).says,
        "rover": lambda: rover_name(board, group),
        "hour": lambda: f"{group}:00 to {group}:59",
    }
    return named[by]() if by in named else group


def _minutes(of: Percentile) -> str:
    return f"{of} min" if of.minutes is not None or of.longest is not None else str(of)
