"""The chart of rows in time: its form made once with Altair, and filled for every board with that board's values.

Making the form takes Altair a tenth of a second, filling it a thousandth, and it is filled for every newer board.
"""

from collections.abc import Mapping, Sequence
from copy import copy
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

import altair as alt

from dashboard import axes
from dashboard.rows_in_time import SPANS, SPOTS, Look, Row, Span
from dashboard.theme import BLUE, MARKS, MIDTONE

ROW, LARGE_ROW = 22, 54
STROKE, LARGE_STROKE = 1.8, 3.2
AXES, LARGE_AXES = 52, 104
DATA = ("spans", "openings", "now", "spots", "edges", "rows")

Spec = dict[str, Any]
Values = list[dict[str, object]]


def drawn(
    rows: Sequence[Row],
    window: tuple[datetime, datetime],
    zone: ZoneInfo,
    heads: Mapping[datetime, str],
    *,
    now: datetime,
    large: bool = False,
) -> Spec:
    """The chart of these rows between two moments (UTC), as Vega-Lite; `heads` are written above at their moments."""
    begins, ends = (wall(moment, zone) for moment in window)
    form = copy(_form(large))
    form["height"] = max(1, len(rows)) * (LARGE_ROW if large else ROW) + (LARGE_AXES if large else AXES)
    form["datasets"] = {
        "spans": [value for number, row in enumerate(rows) for value in _spans(number, row, zone, large)],
        "openings": [_opening(number, row, zone) for number, row in enumerate(rows)],
        "now": [{"at": wall(now, zone)}] if window[0] <= now <= window[1] else [],
        "spots": [value for number, row in enumerate(rows) for value in _spots(number, row, zone)],
        "edges": [_edge(number, row, begins) for number, row in enumerate(rows)],
        "rows": [{"row": number, "at": begins} for number in range(len(rows))],
    }
    values = axes.values(begins, ends, {wall(at, zone): says for at, says in heads.items()})
    values |= {"names": [row.name for row in rows], "notes": [row.note for row in rows]}
    form["params"] = [{"name": name, "value": value} for name, value in values.items()]
    return form


def wall(moment: datetime, zone: ZoneInfo) -> int:
    """A wall time of the county as if it were UTC, in milliseconds: the browser's own zone must not matter."""
    return int(moment.astimezone(zone).replace(tzinfo=UTC).timestamp() * 1000)


@lru_cache(maxsize=2)
def _form(large: bool) -> Spec:
    """The chart without its values, which it takes from data and parameters by name."""
    letters, times, stroke = (27, 4.0, LARGE_STROKE) if large else (12, 1.0, STROKE)
    x = alt.X("at:Q", scale=alt.Scale(domain=axes.WINDOW, nice=False, zero=False), axis=None)
    y = alt.Y("row:O", axis=None, scale=alt.Scale(type="band", padding=0))
    layers = [
        _rules("spans", x, y),
        _chart("openings")
        .mark_rect(width=2, color=MIDTONE, clip=True)
        .encode(x=x, y=y, tooltip=alt.Tooltip("says:N", title=" ")),
        _chart("now").mark_rule(color=BLUE, strokeDash=[4, 3], strokeWidth=1.6, aria=False).encode(x=x),
        _symbols("spots", x, y, 46 * times, stroke),
        _symbols("edges", x, y.axis(axes.labels("names", "left", letters, 7 + 4 * times)), 80 * times, stroke),
        _nothing().encode(x=x.axis(axes.times(letters)), y=y.axis(axes.labels("notes", "right", letters, 10))),
        _nothing().encode(x=x.axis(axes.heads(letters))),
    ]
    whole = alt.layer(*layers).properties(width="container").resolve_axis(x="independent", y="independent")
    whole = whole.properties(padding={"left": 1, "top": 4, "right": 1, "bottom": 0})
    form: Spec = whole.to_dict(validate=False)
    return form


def _chart(name: str) -> alt.Chart:
    data: alt.NamedData = alt.NamedData(name)
    return alt.Chart(data)


def _symbols(name: str, x: alt.X, y: alt.Y, size: float, stroke: float) -> alt.Chart:
    marks: alt.Chart = _chart(name).mark_point(size=size, strokeWidth=stroke, opacity=1, clip=False)
    made: alt.Chart = marks.encode(
        x=x,
        y=y,
        shape=alt.Shape("shape:N", scale=None),
        stroke=alt.Stroke("colour:N", scale=None),
        fill=alt.Fill("filled:N", scale=None),
        strokeDash=alt.condition("datum.dotted", alt.value([2, 2]), alt.value([1, 0])),
        tooltip=alt.Tooltip("says:N", title=" "),
    )
    return made


def _rules(name: str, x: alt.X, y: alt.Y) -> alt.Chart:
    marks: alt.Chart = _chart(name).mark_rule(strokeCap="butt", clip=True, aria=False)
    made: alt.Chart = marks.encode(
        x=x,
        x2="until:Q",
        y=y,
        color=alt.Color("colour:N", scale=None),
        size=alt.Size("thick:Q", scale=None),
        opacity=alt.Opacity("strength:Q", scale=None),
        tooltip=alt.Tooltip("says:N", title=" "),
    )
    return made


def _nothing() -> alt.Chart:
    """A layer that draws nothing and carries an axis."""
    made: alt.Chart = _chart("rows").mark_point(opacity=0, tooltip=None)
    return made


def _spots(number: int, row: Row, zone: ZoneInfo) -> Values:
    return [
        {"row": number, "at": wall(spot.at, zone), "says": f"{spot.says}, {_clock(spot.at, zone)}"}
        | _look(SPOTS[spot.kind])
        for spot in row.spots
    ]


def _spans(number: int, row: Row, zone: ZoneInfo, large: bool) -> Values:
    return [_span(number, span, zone, LARGE_ROW / ROW if large else 1) for span in row.spans]


def _span(number: int, span: Span, zone: ZoneInfo, times: float) -> dict[str, object]:
    colour, thick, strength = SPANS[span.kind]
    return {
        "row": number,
        "at": wall(span.begins, zone),
        "until": wall(span.ends, zone),
        "says": span.says,
        "colour": colour,
        "thick": round(thick * times, 1),
        "strength": strength,
    }


def _opening(number: int, row: Row, zone: ZoneInfo) -> dict[str, object]:
    """Each row's own opening or closing, as tall as the row, so that rows that open together share one rule."""
    return {"row": number, "at": wall(row.opens_at, zone), "says": f"{row.rule_says} {_clock(row.opens_at, zone)}"}


def _edge(number: int, row: Row, begins: int) -> dict[str, object]:
    """The shape at the row's beginning; where the row has none it is not seen, but its name needs the layer."""
    look = MARKS.get(row.mark, ("circle", "transparent", False))
    return {"row": number, "at": begins, "says": row.note, "dotted": row.mark == "unheard"} | _look(look)


def _look(look: Look) -> dict[str, object]:
    shape, colour, filled = look
    return {"shape": shape, "colour": colour, "filled": colour if filled else "transparent"}


def _clock(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%H:%M:%S}"
