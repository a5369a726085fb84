"""Contrast of what is written, and of the shapes, in light and dark (WCAG 2.2 AA: 4.5 to 1 and 3 to 1)."""

import re
from pathlib import Path

import pytest

from county.settings import settings_from
from dashboard.rovers import said
from dashboard.rovers.road import Doing
from dashboard.theme import BLUE, DARK, LIGHT, MARKS, MIDTONE, options

LOOK = (Path(__file__).parents[2] / "dashboard" / "look.css").read_text(encoding="utf-8")
WRITTEN = ("--pr-ink", "--pr-quiet", "--pr-warn")
SHAPES = ("--pr-blue", "--pr-vermillion", "--pr-orange", "--pr-green", "--pr-mid")


def luminance(colour: str) -> float:
    """Relative luminance by WCAG 2.2."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def variable(name: str) -> tuple[str, str]:
    """A colour of look.css, light and dark."""
    found = re.search(rf"{name}: light-dark\((#\w+), (#\w+)\)", LOOK)
    assert found, name
    return found[1], found[2]


def grounds() -> list[tuple[str, str]]:
    return [variable(name) for name in ("--pr-ground", "--pr-soft", "--pr-chosen")]


@pytest.mark.parametrize("name", WRITTEN)
def test_what_is_written_can_be_read_on_every_ground(name: str) -> None:
    for ground in grounds():
        assert all(contrast(ink, paper) >= 4.5 for ink, paper in zip(variable(name), ground, strict=True))


@pytest.mark.parametrize("name", SHAPES)
def test_shapes_stand_out_from_the_page(name: str) -> None:
    for ground in grounds()[:2]:
        assert all(contrast(ink, paper) >= 3 for ink, paper in zip(variable(name), ground, strict=True))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_streamlits_own_text_links_and_buttons_can_be_read(theme: dict[str, str]) -> None:
    for ground in (theme["backgroundColor"], theme["secondaryBackgroundColor"]):
        assert contrast(theme["textColor"], ground) >= 4.5
        assert contrast(theme["linkColor"], ground) >= 4.5
    assert contrast(theme["primaryColor"], "#FFFFFF") >= 4.5


def test_the_charts_rules_stand_out_in_both_themes() -> None:
    for ground in (LIGHT["backgroundColor"], DARK["backgroundColor"]):
        assert contrast(MIDTONE, ground) >= 3
        assert contrast(BLUE, ground) >= 3


def test_every_standing_and_effect_has_a_shape_of_its_own() -> None:
    shown = set(re.findall(r'\.pr-mark\[data-of="([a-z-]+)"\]', LOOK))
    rovers = set(said.MARKS.values())
    # on site is the plain shape of all rovers
    assert '.pr-mark[data-of^="rover"]' in LOOK
    assert shown | {said.MARKS[Doing.ON_SITE]} == set(MARKS) | rovers
    drawn = (Path(__file__).parents[2] / "dashboard" / "elements" / "places_map.js").read_text(encoding="utf-8")
    on_the_map = set(re.findall(r'^  "?([a-z-]+)"?: \{', drawn, re.MULTILINE))
    assert on_the_map == (set(MARKS) - {"danger", "at-risk", "record"}) | rovers


def test_nothing_is_sent_out_and_no_stack_trace_is_shown() -> None:
    set_up = options(settings_from({}))
    assert set_up["browser.gatherUsageStats"] is False
    assert set_up["client.showErrorDetails"] == "none"
    assert set_up["client.showErrorLinks"] is False
    assert set_up["runner.postScriptGC"] is False
    assert set_up["server.address"] == "127.0.0.1"
