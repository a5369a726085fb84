"""What the plan says of suggesting rovers, of patterns and of forecasts, as tables."""

from dataclasses import fields

from county.domain.forecast_limits import ForecastLimits
from county.domain.pattern_limits import PatternLimits
from county.domain.plan import Plan
from dashboard import words
from dashboard.markup import Markup
from dashboard.set_up.plan_cells import cell, table

_NOT_ONE_VALUE = ("needs", "usual", "weights", "matrix")


def rovers(plan: Plan) -> Markup:
    """What each kind of trouble needs of a rover, and how suggestions are reckoned."""
    needs = ((kind.says, plan.dispatch.need(key)) for key, kind in plan.exception_kinds.items())
    rows = (
        (says, f"{need.minutes:g} min", need.skill or "none", need.spare or "none", "yes" if need.rover else "no")
        for says, need in needs
    )
    needed = table(("Trouble", "On site", "Skill", "Spare", "A rover is sent"), rows)
    settings = [
        (field.name, cell(getattr(plan.dispatch, field.name)))
        for field in fields(plan.dispatch)
        if field.name not in _NOT_ONE_VALUE
    ]
    weights = [(f"weight of {words.EFFECT[effect]}", f"{weight:g}") for effect, weight in plan.dispatch.weights.items()]
    return needed + table(("Setting", "Is"), (*settings, *weights))


def patterns(plan: Plan) -> Markup:
    """When the same trouble at several places counts as one pattern."""
    return _limits(plan.patterns)


def forecast(plan: Plan) -> Markup:
    """When a place is likely enough to open late that a case is raised."""
    return _limits(plan.forecast)


def _limits(limits: PatternLimits | ForecastLimits) -> Markup:
    return table(("Limit", "Is"), ((field.name, cell(getattr(limits, field.name))) for field in fields(limits)))


def items(plan: Plan) -> Markup:
    """What each place brings to the office at the end of the day."""
    rows = (
        (
            item.says,
            f"each {words.listed([plan.word(type_) for type_ in item.types], 'and')}" if item.types else "the place",
            "wherever it is not there" if item.needed else "only where it was told to have left",
            "yes" if item.sealed else "no",
        )
        for item in plan.items
    )
    return table(("Item", "One for", "Missing", "Under a seal"), rows)
