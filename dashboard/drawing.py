"""Rows in time drawn with Altair: names at the left, words at the right of the plot, where no rule crosses them."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import altair as alt

from dashboard import axes
from dashboard.rows_in_time import SPANS, SPOTS, Look, Row
from dashboard.theme import BLUE, MARKS, MIDTONE

ROW, LARGE_ROW = 22, 54
AXES, LARGE_AXES = 52, 104

Values = list[dict[str, object]]


def drawn(
    rows: Sequence[Row],
    window: tuple[datetime, datetime],
    zone: ZoneInfo,
    heads: Mapping[datetime, str],
    *,
    now: datetime,
    large: bool = False,
) -> alt.LayerChart:
    """The chart of these rows between two moments (UTC); `heads` are written above it at their moments."""
    tall, letters, times, frame = (LARGE_ROW, 27, 4.0, LARGE_AXES) if large else (ROW, 12, 1.0, AXES)
    begins, ends = (wall(moment, zone) for moment in window)
    x = alt.X("at:Q", scale=alt.Scale(domain=[begins, ends], nice=False, zero=False), axis=None)
    y = alt.Y("row:N", scale=alt.Scale(domain=[each.id for each in rows]), axis=None)
    names = axes.labels({each.id: each.name for each in rows}, "left", letters, 7 + 4 * times)
    notes = axes.labels({each.id: each.note for each in rows}, "right", letters, 10)
    ticks = axes.times(window[0].astimezone(zone), window[1].astimezone(zone), letters)
    above = axes.heads({wall(at, zone): says for at, says in heads.items()}, begins, ends, letters)
    layers = [
        _spans(rows, zone, x, y),
        _openings(rows, zone, x, y, tall),
        _now([{"at": wall(now, zone)}] if window[0] <= now <= window[1] else [], x),
        _symbols([spot for each in rows for spot in _spots(each, zone)], x, y, 46 * times),
        _symbols([_edge(each, begins) for each in rows], x, y.axis(names), 80 * times),
        _nothing([{"row": each.id, "at": begins} for each in rows], x.axis(ticks), y.axis(notes)),
        _nothing([{"at": begins}], x.axis(above), None),
    ]
    chart: alt.LayerChart = (
        alt.layer(*layers)
        .properties(height=max(1, len(rows)) * tall + frame, width="container")
        .properties(padding={"left": 1, "top": 0, "right": 1, "bottom": 0})
        .resolve_axis(x="independent", y="independent")
    )
    return chart


def wall(moment: datetime, zone: ZoneInfo) -> int:
    """A wall time of the county as if it were UTC, in milliseconds: the browser's own zone must not matter."""
    return int(moment.astimezone(zone).replace(tzinfo=UTC).timestamp() * 1000)


def _chart(values: Values) -> alt.Chart:
    data: alt.Data = alt.Data(values=values)  # type: ignore[no-untyped-call]
    return alt.Chart(data)


def _spots(row: Row, zone: ZoneInfo) -> Values:
    return [
        {"row": row.id, "at": wall(spot.at, zone), "says": f"{spot.says}, {_clock(spot.at, zone)}"}
        | _look(SPOTS[spot.kind])
        for spot in row.spots
    ]


def _edge(row: Row, begins: int) -> dict[str, object]:
    """The shape at the row's beginning; where the row has none it is not seen, but its name needs the layer."""
    look = MARKS.get(row.mark, ("circle", "transparent", False))
    return {"row": row.id, "at": begins, "says": row.note, "dotted": row.mark == "unheard"} | _look(look)


def _look(look: Look) -> dict[str, object]:
    shape, colour, filled = look
    return {"shape": shape, "colour": colour, "filled": colour if filled else "transparent"}


def _symbols(values: Values, x: alt.X, y: alt.Y, size: float) -> alt.Chart:
    marks: alt.Chart = _chart(values).mark_point(size=size, strokeWidth=1.8, opacity=1, clip=False)
    drawn: alt.Chart = marks.encode(
        x=x,
        y=y,
        shape=alt.Shape("shape:N", scale=None),
        stroke=alt.Stroke("colour:N", scale=None),
        fill=alt.Fill("filled:N", scale=None),
        strokeDash=alt.condition("datum.dotted", alt.value([2, 2]), alt.value([1, 0])),
        tooltip=alt.Tooltip("says:N", title=" "),
    )
    return drawn


def _spans(rows: Sequence[Row], zone: ZoneInfo, x: alt.X, y: alt.Y) -> alt.Chart:
    values: Values = [
        {"row": row.id, "at": wall(span.begins, zone), "until": wall(span.ends, zone), "says": span.says}
        | dict(zip(("colour", "thick", "strength"), SPANS[span.kind], strict=True))
        for row in rows
        for span in row.spans
    ]
    drawn: alt.Chart = (
        _chart(values)
        .mark_rule(strokeCap="butt", clip=True)
        .encode(
            x=x,
            x2="until:Q",
            y=y,
            color=alt.Color("colour:N", scale=None),
            size=alt.Size("thick:Q", scale=None),
            opacity=alt.Opacity("strength:Q", scale=None),
            tooltip=alt.Tooltip("says:N", title=" "),
        )
    )
    return drawn


def _openings(rows: Sequence[Row], zone: ZoneInfo, x: alt.X, y: alt.Y, tall: int) -> alt.Chart:
    """Each row's own opening time, as tall as the row, so that rows that open together share one rule."""
    values: Values = [
        {"row": row.id, "at": wall(row.opens_at, zone), "says": f"opens {_clock(row.opens_at, zone)}"} for row in rows
    ]
    marks: alt.Chart = _chart(values).mark_tick(
        orient="vertical", size=tall * 1.2, thickness=2, color=MIDTONE, clip=True
    )
    drawn: alt.Chart = marks.encode(x=x, y=y, tooltip=alt.Tooltip("says:N", title=" "))
    return drawn


def _now(values: Values, x: alt.X) -> alt.Chart:
    drawn: alt.Chart = _chart(values).mark_rule(color=BLUE, strokeDash=[4, 3], strokeWidth=1.6).encode(x=x)
    return drawn


def _nothing(values: Values, x: alt.X, y: alt.Y | None) -> alt.Chart:
    """A layer that draws nothing and carries an axis."""
    empty: alt.Chart = _chart(values).mark_point(opacity=0, tooltip=None)
    drawn: alt.Chart = empty.encode(x=x) if y is None else empty.encode(x=x, y=y)
    return drawn


def _clock(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%H:%M:%S}"
