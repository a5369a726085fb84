"""The clock rule for what is forecast: a place that is more likely than the plan allows to open late."""

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from county.domain.entries import Entry
from county.domain.moments import write_moment
from county.domain.opening_forecast import OpeningForecast
from county.domain.rules.scene import Due, Scene

EXPECTED_LATE = "expected-late"


def expected_late(scene: Scene, now: datetime) -> Iterator[Due]:
    """The chance of opening late has reached the plan's limit, before the opening time, with a step still to be done.

    Where somebody has said so already, that case stands for it.
    """
    limits, opens_at, forecast = scene.plan.forecast, scene.expected.opens_at, scene.forecast
    if forecast is None or not forecast.step or not opens_at - limits.ahead <= now < opens_at:
        return
    said = any(case.exception == EXPECTED_LATE and case.state.open for case in scene.cases)
    if forecast.chance_late >= limits.chance and not said:
        yield Due(
            now.replace(second=0, microsecond=0), "open", _says(scene, forecast), fields=_figures(scene, forecast)
        )


def ended(scene: Scene, entry: Entry) -> datetime | None:
    """When the place opened, or when the last step before its opening was done, whichever was first."""
    moments = [scene.day.done.get(step.key) for step in scene.expected.steps if step.step.before_opening]
    done = [moment for moment in moments if moment]
    ready_at = max(done) if done and len(done) == len(moments) else None
    return min((moment for moment in (scene.day.opened_at, ready_at) if moment), default=None)


def _says(scene: Scene, forecast: OpeningForecast) -> str:
    step = scene.plan.step(forecast.step)
    says = step.says if step else forecast.step
    return (
        f"likely to open {_wall(scene, forecast.middle)}, {_between(scene, forecast)} (80 %); "
        f"{forecast.per_cent} % that it is late; not done: {says}"
    )


def _figures(scene: Scene, forecast: OpeningForecast) -> dict[str, object]:
    """What was forecast, so that the record can hold it against what came."""
    return {
        "expected": f"open at {_wall(scene, forecast.opens_at)}",
        "found": f"likely {_wall(scene, forecast.middle)}, {_between(scene, forecast)}",
        "chance_late": forecast.per_cent,
        "likely_open_at": write_moment(forecast.middle),
        "earliest_open_at": write_moment(forecast.earliest),
        "latest_open_at": write_moment(forecast.latest),
        "step": forecast.step,
    }


def _between(scene: Scene, forecast: OpeningForecast) -> str:
    return f"between {_wall(scene, forecast.earliest)} and {_wall(scene, forecast.latest)}"


def _wall(scene: Scene, moment: datetime) -> str:
    zone = ZoneInfo(scene.expected.place.time_zone or scene.plan.election.zone)
    return f"{moment.astimezone(zone):%H:%M}"
