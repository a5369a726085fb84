"""The response chart: the share of cases not yet reached against minutes, a curve a group, the targets as rules."""

from collections.abc import Mapping, Sequence

from county.domain.effects import Effect
from county.domain.record.against_targets import Row
from county.domain.survival import Curve
from dashboard.drawing import Spec
from dashboard.theme import BLUE, GREEN, MIDTONE, ORANGE, VERMILLION

MOST, HIGH, LONGEST = 5, 260, 180.0
COLUMNS = 2  # of the legend, so that a phone has room for it
Stroke = tuple[str, list[int]]
_OF_AN_EFFECT: Mapping[str, Stroke] = {
    Effect.DANGER: (VERMILLION, [8, 3, 2, 3]),
    Effect.STOPPED: (VERMILLION, [1, 0]),
    Effect.IMPAIRED: (ORANGE, [7, 3]),
    Effect.AT_RISK: (BLUE, [2, 2]),
    Effect.RECORD: (MIDTONE, [3, 5]),
}
"""Colour and dashes of an effect's curve, as in look.css for Exceptions: one thing looks the same on every page."""
_OF_ANY: Sequence[Stroke] = (
    (BLUE, [1, 0]),
    (VERMILLION, [7, 3]),
    (GREEN, [2, 2]),
    (ORANGE, [8, 3, 2, 3]),
    (MIDTONE, [3, 5]),
)


def drawn(rows: Sequence[Row], names: Sequence[str]) -> Spec:
    """The curves of these groups, the largest few; a stroke at its end where cases were still waiting."""
    shown = [(row, name) for row, name in zip(rows, names, strict=True) if row.response.curve.count][:MOST]
    until = _until([row for row, _ in shown])
    strokes = [_OF_AN_EFFECT.get(row.group, any_) for (row, _), any_ in zip(shown, _OF_ANY, strict=False)]
    points = [point for row, name in shown for point in _points(row.response.curve, name, until)]
    ends = [_end(row.response.curve, name, until) for row, name in shown if row.response.open]
    rules = sorted({(row.target, name) for row, name in shown if row.target is not None and row.target <= until})
    x = {
        "field": "minutes",
        "type": "quantitative",
        "title": "minutes since raised",
        "scale": {"domain": [0, until], "nice": False},
        "axis": {"grid": False, "tickCount": 8},
    }
    y = {
        "field": "share",
        "type": "quantitative",
        "title": "share not yet reached",
        "scale": {"domain": [0, 1]},
        "axis": {"format": "%", "tickCount": 5},
    }
    group = {
        "field": "group",
        "type": "nominal",
        "title": None,
        "scale": {"domain": [name for _, name in shown], "range": [colour for colour, _ in strokes]},
        "legend": {"orient": "top", "symbolType": "stroke", "labelLimit": 260, "columns": COLUMNS},
    }
    dash = {**group, "scale": {**group["scale"], "range": [dashes for _, dashes in strokes]}}  # type: ignore[dict-item]
    return {
        "height": HIGH,
        "width": "container",
        "layer": [
            {
                "data": {
                    "values": [{"minutes": at, "says": f"target {at} min, {name}", "group": name} for at, name in rules]
                },
                "mark": {"type": "rule", "strokeDash": [2, 3], "strokeWidth": 1.4},
                "encoding": {"x": x, "color": group, "tooltip": {"field": "says"}},
            },
            {
                "data": {"values": points},
                "mark": {"type": "line", "interpolate": "step-after", "strokeWidth": 2.2},
                "encoding": {"x": x, "y": y, "color": group, "strokeDash": dash},
            },
            {
                "data": {"values": ends},
                "mark": {"type": "point", "shape": "stroke", "angle": 90, "size": 130, "strokeWidth": 2},
                "encoding": {"x": x, "y": y, "color": group, "tooltip": {"field": "says"}},
            },
        ],
    }


def _until(rows: Sequence[Row]) -> float:
    """How many minutes are shown: until nine tenths were reached, or well past the targets; at most three hours."""
    longest = max((row.response.curve.longest or 0.0 for row in rows), default=0.0)
    reached = max((row.response.ninetieth.minutes or 0.0 for row in rows), default=0.0)
    targets = max((3.0 * row.target for row in rows if row.target is not None), default=30.0)
    return min(LONGEST, max(min(longest, max(reached, targets)), 10.0))


def _points(curve: Curve, name: str, until: float) -> list[dict[str, object]]:
    seen = min(curve.longest or 0.0, until)
    steps = [(0.0, 1.0), *((m, s) for m, s in zip(curve.minutes, curve.unreached, strict=True) if m <= until)]
    steps.append((seen, steps[-1][1]))
    return [{"minutes": round(minutes, 2), "share": round(share, 4), "group": name} for minutes, share in steps]


def _end(curve: Curve, name: str, until: float) -> dict[str, object]:
    at = min(curve.longest or 0.0, until)
    return {"minutes": at, "share": round(curve.at(at), 4), "group": name, "says": f"{name}: some still waited here"}
