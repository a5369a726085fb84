"""The four edges of a chart of rows: names left, words right, times below, and what the rules mean above.

What stands on them comes from parameters of the chart, so that its form is the same for every board.
"""

from collections.abc import Mapping
from typing import Literal

import altair as alt

MINUTE = 60_000
WINDOW = [{"expr": "begins"}, {"expr": "ends"}]
_STEPS = (15, 30, 60, 120)
_MOST_TIMES = 9


def values(begins: int, ends: int, heads: Mapping[int, str]) -> dict[str, object]:
    """The parameters for a window of wall time (ms): its ends, the times below, the words above their rules.

    Two heads are turned away from each other: the first is written before its rule, the other behind its own.
    """
    shown = sorted(at for at in heads if begins <= at <= ends)
    return {
        "begins": begins,
        "ends": ends,
        "ticks": _ticks(begins, ends),
        "above": shown,
        "heads": {str(at): heads[at] for at in shown},
        "before": shown[0] if len(shown) > 1 else -1,
    }


def _ticks(begins: int, ends: int) -> list[int]:
    """Full quarters, halves or hours, as many as can be read."""
    minutes = (ends - begins) / MINUTE
    step = next((each for each in _STEPS if minutes / each <= _MOST_TIMES), 180) * MINUTE
    return list(range(-(-begins // step) * step, ends + 1, step))


def labels(parameter: str, side: Literal["left", "right"], letters: int, away: float) -> alt.Axis:
    """Each row's text, whole, in letters so many pixels high and so many away from the plot."""
    return _axis(side, letters, labelExpr=f"{parameter}[datum.value]", labelPadding=away)


def times(letters: int) -> alt.Axis:
    """Wall times below."""
    written = "utcFormat(datum.value, '%H:%M')"
    return _axis("bottom", letters, values={"expr": "ticks"}, labelExpr=written, labelPadding=6, labelOverlap=True)


def heads(letters: int) -> alt.Axis:
    """Words above the rules."""
    before = {"condition": {"test": "datum.value == before", "value": "right"}, "value": "left"}
    return _axis(
        "top",
        letters,
        values={"expr": "above"},
        labelExpr="heads[toString(datum.value)]",
        labelAlign=before,
        labelFontWeight="bold",
        labelPadding=4,
    )


def _axis(side: str, letters: int, **given: object) -> alt.Axis:
    plain = {"labelLimit": 0, "labelOverlap": False, "labelFlush": False, "title": None, "grid": False}
    return alt.Axis(orient=side, labelFontSize=letters, **(plain | given))  # type: ignore[arg-type]
