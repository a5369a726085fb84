"""What was said against what came, a point for each tenth; on the slanted line what was said is what came."""

from collections.abc import Sequence

from county.domain.record.forecast_scores import CalibrationRow
from dashboard import words
from dashboard.drawing import Spec
from dashboard.theme import BLUE, MIDTONE

HIGH = 250
_LEAST, _MOST = 40, 420
"""How large a point is in square pixels: the area goes by the number of places."""


def drawn(rows: Sequence[CalibrationRow]) -> Spec:
    """The points with their number of places beside them; one below the line means that it was said too often."""
    x = {
        "field": "said",
        "type": "quantitative",
        "title": "chance of opening late that was said",
        "scale": {"domain": [0, 1], "nice": False},
        "axis": {"format": "%", "tickCount": 5, "grid": False},
    }
    y = {
        "field": "came",
        "type": "quantitative",
        "title": "share that opened late",
        "scale": {"domain": [0, 1]},
        "axis": {"format": "%", "tickCount": 5},
    }
    points = {"data": {"values": [_point(row, rows) for row in rows]}}
    return {
        "height": HIGH,
        "width": "container",
        "layer": [
            {
                "data": {"values": [{"said": 0, "came": 0}, {"said": 1, "came": 1}]},
                "mark": {"type": "line", "strokeDash": [4, 4], "strokeWidth": 1.4, "color": MIDTONE},
                "encoding": {"x": x, "y": y},
            },
            {
                **points,
                "mark": {"type": "point", "filled": True, "color": BLUE, "opacity": 0.85, "clip": False},
                "encoding": {"x": x, "y": y, "size": {"field": "size", "scale": None}, "tooltip": {"field": "says"}},
            },
            {
                **points,
                "mark": {"type": "text", "align": "left", "dx": 13, "fontSize": 12, "clip": False},
                "encoding": {"x": x, "y": y, "text": {"field": "places"}},
            },
        ],
    }


def _point(row: CalibrationRow, rows: Sequence[CalibrationRow]) -> dict[str, object]:
    share = row.places / max(each.places for each in rows)
    return {
        "said": round(row.said, 3),
        "came": round(row.came, 3),
        "size": round(max(_LEAST, share * _MOST)),
        "places": f"{row.places:,}",
        "says": f"{words.counted(row.places, 'place')}: said {row.said:.0%}, came {row.came:.0%}",
    }
