"""The four edges of a chart of rows: names left, words right, times below, and what the rules mean above."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Literal

import altair as alt

CLOSE = 0.3
"""Two heads nearer than this share of the width are turned away from each other."""
_STEPS = (15, 30, 60, 120)
_MOST_TIMES = 9


def labels(texts: Mapping[str, str], side: Literal["left", "right"], letters: int, away: float) -> alt.Axis:
    """Each row's text, whole, in letters so many pixels high and so many away from the plot."""
    return _axis(side, letters, labelExpr=f"({json.dumps(texts)})[datum.value]", labelPadding=away)


def times(begins: datetime, ends: datetime, letters: int) -> alt.Axis:
    """Wall times below, as many as can be read; the window is given in the county's own time."""
    minutes = (ends - begins).total_seconds() / 60
    step = next((each for each in _STEPS if minutes / each <= _MOST_TIMES), 180)
    first = begins.replace(minute=0, second=0, microsecond=0)
    ticks = [first + timedelta(minutes=step * n) for n in range(int((minutes + 60) // step) + 2)]
    values = [_as_utc(tick) for tick in ticks if begins <= tick <= ends]
    return _axis("bottom", letters, values=values, labelExpr="utcFormat(datum.value, '%H:%M')", labelPadding=6)


def heads(texts: Mapping[int, str], begins: int, ends: int, letters: int) -> alt.Axis:
    """Words above the rules, by wall time in milliseconds; two that would meet are turned away from each other."""
    shown = sorted(at for at in texts if begins <= at <= ends)
    meet = len(shown) > 1 and (shown[-1] - shown[0]) / (ends - begins) < CLOSE
    turned = {"condition": {"test": f"datum.value == {shown[0]}", "value": "right"}, "value": "left"} if meet else None
    return _axis(
        "top",
        letters,
        values=shown,
        labelExpr=f"({json.dumps({str(at): texts[at] for at in shown})})[toString(datum.value)]",
        labelAlign=turned or "center",
        labelFontWeight="bold",
        labelPadding=4,
    )


def _axis(side: str, letters: int, **given: object) -> alt.Axis:
    plain = {"labelLimit": 0, "labelOverlap": False, "labelFlush": False, "title": None, "grid": False}
    return alt.Axis(orient=side, labelFontSize=letters, **plain, **given)  # type: ignore[arg-type]


def _as_utc(moment: datetime) -> int:
    return int(moment.replace(tzinfo=UTC).timestamp() * 1000)
