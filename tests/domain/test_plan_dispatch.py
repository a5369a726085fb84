"""What a county says about sending rovers and about patterns is read from its plan, or refused by key and line."""

from datetime import timedelta

import pytest

from county.domain.dispatch_settings import NEEDS, WEIGHTS, DispatchSettings, Need
from county.domain.effects import Effect
from county.domain.pattern_limits import PatternLimits
from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.errors import BadPlan
from tests.domain.test_plan_file import SMALL

LINES = SMALL.count("\n")
WHOLE = """
[dispatch]
keep_zones = true
into_danger = true
turn_minutes = 5
least_minutes = 2.5
road_factor = 1.5
km_per_hour = 30
start_minutes = 6
unknown_minutes = 45
steps = 1000
seed = 7
matrix = "ways.csv"
[dispatch.weights]
danger = 100
[dispatch.usual]
minutes = 40
[dispatch.needs.scanner-jam]
minutes = 10
[dispatch.needs.ballots-out]
spare = "toner"
used_up = true
[dispatch.needs.silent]
rover = false
[dispatch.needs.officers-short]
minutes = 240
[patterns]
places = 4
within = "20m"
along = "1h"
chance = 0.01
"""


def plan(more: str = "") -> Plan:
    return parse_plan(SMALL + more, "plan.toml")


def refusal(more: str) -> str:
    with pytest.raises(BadPlan) as refused:
        plan(more)
    return str(refused.value)


def test_a_plan_that_says_nothing_means_what_is_usual() -> None:
    assert plan().dispatch == DispatchSettings()
    assert plan().patterns == PatternLimits()


def test_every_key_is_read() -> None:
    read = plan(WHOLE).dispatch
    assert (read.keep_zones, read.into_danger, read.turn_minutes, read.least_minutes) == (True, True, 5, 2.5)
    assert (read.road_factor, read.km_per_hour, read.start_minutes, read.unknown_minutes) == (1.5, 30, 6, 45)
    assert (read.steps, read.seed, read.matrix_file) == (1000, 7, "ways.csv")
    assert read.weights == {**WEIGHTS, Effect.DANGER: 100}
    assert plan(WHOLE).patterns == PatternLimits(4, timedelta(minutes=20), timedelta(hours=1), 0.01)


def test_what_is_said_of_a_kind_stands_and_the_rest_stays_usual() -> None:
    read = plan(WHOLE).dispatch
    assert read.need("scanner-jam") == Need(10, skill="scanner")
    assert read.need("ballots-out") == Need(NEEDS["ballots-out"].minutes, spare="toner", used_up=True)
    assert not read.need("silent").rover
    assert read.need("no-power") == NEEDS["no-power"]
    assert read.need("other") == Need(40)


def test_a_kind_to_which_usually_nobody_goes_is_gone_to_once_the_county_says_what_it_needs() -> None:
    assert plan(WHOLE).dispatch.need("officers-short") == Need(240)


def test_an_empty_text_takes_away_what_is_usual() -> None:
    assert plan('[dispatch.needs.scanner-jam]\nskill = ""\n').dispatch.need("scanner-jam") == Need(15)


@pytest.mark.parametrize(
    ("more", "line", "says"),
    [
        ("[dispatch]\nturn_minuets = 5", 2, 'dispatch: unknown name "turn_minuets"'),
        ("[dispatch]\nturn_minutes = -1", 2, "turn_minutes -1 is not a number from 0 to 600"),
        ("[dispatch]\nkm_per_hour = 0", 2, "km_per_hour 0 is not a number from 1 to 200"),
        ("[dispatch]\nkm_per_hour = nan", 2, "km_per_hour nan is not"),
        ("[dispatch]\nkm_per_hour = true", 2, "km_per_hour true is not"),
        ("[dispatch]\nroad_factor = 0.9", 2, "road_factor 0.9 is not a number from 1 to 5"),
        ("[dispatch]\nsteps = 3_000_000", 2, "steps 3,000,000 is more than 2,000,000"),
        ("[dispatch]\nsteps = 1.5", 2, "steps 1.5 is not a whole number"),
        ("[dispatch]\nkeep_zones = 1", 2, "keep_zones 1 is not true or false"),
        ('[dispatch]\nmatrix = "../ways.csv"', 2, 'matrix "../ways.csv" is not the name of a CSV file beside the plan'),
        ('[dispatch]\nmatrix = "ways.txt"', 2, 'matrix "ways.txt" is not'),
        ("[dispatch.weights]\nimpaired = 10", 2, "stopped counts 9, less than impaired with 10"),
        ("[dispatch.weights]\ndanger = 0", 2, "danger 0 is not a number"),
        ("[dispatch.weights]\nterrible = 9", 2, 'unknown name "terrible"'),
        ("[dispatch.needs.scaner-jam]\nminutes = 5", 1, 'dispatch.needs: unknown name "scaner-jam"'),
        ("[dispatch.needs.scanner-jam]\nminuts = 5", 2, 'dispatch.needs.scanner-jam: unknown name "minuts"'),
        ("[dispatch.needs.scanner-jam]\nskill = 5", 2, "skill 5 is not a text"),
        ("[dispatch.needs.scanner-jam]\nused_up = true", 2, "used_up without a spare"),
        ("[patterns]\nplaces = 1", 2, "places 1: one place alone is no pattern"),
        ("[patterns]\nchance = 1.5", 2, "chance 1.5 is not a number from 0 to 1"),
        ('[patterns]\nwithin = "3h"', 2, "along is shorter than within"),
        ('[patterns]\nalong = "10m"', 2, "along is shorter than within"),
        ("[patterns]\nwithin = 30", 2, "within 30 is not a length of time like 45m"),
    ],
)
def test_a_fault_is_said_with_its_key_and_line(more: str, line: int, says: str) -> None:
    said = refusal(more)
    assert said.startswith(f"plan.toml, line {LINES + line}: ")
    assert says in said
