"""How soon cases are acknowledged and reached: the share still waiting against minutes, by effect, with the targets."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from county.domain.cases import Action, Case
from county.domain.effects import Effect
from county.domain.milestones import Milestone
from county.domain.plan import Plan, Target
from county.domain.response import Response, responses_by
from county.domain.survival import Curve, Percentile
from dashboard import words
from dashboard.board_now import Board

TARGETS_LONG, LEAST_MINUTES = 3, 15
"""The chart is so many of the longest target long, so that a case left lying does not squeeze the rest together."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One milestone: its title, its target in minutes by effect, and which cases come into question."""

    title: str
    milestone: Milestone
    target: Callable[[Target], int | None]
    counts: Callable[[Case, Plan], bool]


def _somebody_goes(case: Case, plan: Plan) -> bool:
    went = any(step.action in (Action.ASSIGN, Action.ON_SITE) for step in case.steps)
    return went or plan.dispatch.need(case.exception).rover


PANELS = (
    Panel("Acknowledged", Milestone.ACKNOWLEDGED, lambda target: target.acknowledge, lambda case, plan: True),
    Panel("Somebody on site", Milestone.ON_SITE, lambda target: target.on_site, _somebody_goes),
)


@dataclass(frozen=True, slots=True)
class Wait:
    """How soon the cases of one effect reached a milestone, and the county's target for it in minutes."""

    effect: Effect
    response: Response
    target: int


def waits(board: Board, panel: Panel) -> tuple[Wait, ...]:
    """For each effect that was met and has a target, worst first."""
    cases = [case for case in board.every_case if panel.counts(case, board.plan)]
    found = responses_by(lambda case: case.effect.value, cases, panel.milestone, board.as_of)
    targets = {effect: panel.target(board.plan.targets.get(effect, Target())) for effect in Effect}
    return tuple(
        Wait(effect, found[effect.value], target)
        for effect, target in targets.items()
        if effect.value in found and target is not None
    )


def panels(board: Board) -> list[dict[str, object]]:
    """Both charts with their words, as the element in the browser takes them; none where no case has a target."""
    found = [(panel, waits(board, panel)) for panel in PANELS]
    return [_panel(panel, of) for panel, of in found if of]


def says(wait: Wait) -> str:
    """Half within 2 min, nine tenths within 6, target 3; 14 cases, 2 still waiting."""
    of = wait.response
    counts = words.commas(
        [
            words.counted(of.cases, "case"),
            f"{of.open:,} still waiting" if of.open else "",
            f"{of.ended_otherwise:,} ended without it" if of.ended_otherwise else "",
            f"{of.untimed:,} without a time" if of.untimed else "",
        ]
    )
    return f"half {_within(of.median)}, nine tenths {_within(of.ninetieth)}, target {wait.target}; {counts}"


def _within(of: Percentile) -> str:
    return "not reached" if of.minutes is None else f"within {of} min"


def _panel(panel: Panel, found: Sequence[Wait]) -> dict[str, object]:
    until = max([LEAST_MINUTES, *(TARGETS_LONG * wait.target for wait in found if wait.target)])
    ticks = [0, until // 3, 2 * until // 3, until]
    return {
        "title": panel.title,
        "label": f"{panel.title}: share of cases still waiting against minutes since raised",
        "until": until,
        "ticks": [f"{minute}{' min' if minute == until else ''}" for minute in ticks],
        "waits": [
            {
                "of": wait.effect.value,
                "name": words.begun(words.EFFECT[wait.effect]),
                "says": says(wait),
                "target": wait.target,
                "points": points(wait.response.curve, until),
            }
            for wait in found
        ],
    }


def points(curve: Curve, until: int) -> list[tuple[float, float]]:
    """The curve as steps, minute and share still waiting, up to the longest wait seen or the end of the chart."""
    share, steps = 1.0, [(0.0, 1.0)]
    for minute, unreached in zip(curve.minutes, curve.unreached, strict=True):
        if minute > until:
            break
        steps += [(round(minute, 2), share), (round(minute, 2), round(unreached, 4))]
        share = round(unreached, 4)
    return [*steps, (round(min(curve.longest or 0.0, float(until)), 2), share)]
