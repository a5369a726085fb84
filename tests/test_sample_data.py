"""The sample county is whole, fits together, is always the same, and is no real place."""

import filecmp
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, time
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from county.delimited import BadRow, read_rows
from county.domain.dispatch_settings import DispatchSettings, Need
from county.domain.earlier_steps import parse_earlier_steps
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind, Stamp
from county.domain.expected import expected_of
from county.domain.fitting import misfits
from county.domain.forecast_limits import ForecastLimits
from county.domain.intake import Hand, take
from county.domain.pattern_limits import PatternLimits
from county.domain.plan import Limits, Plan
from county.domain.plan_file import parse_plan
from county.domain.roster import Roster
from county.errors import Refused
from tests.roster_lists import read_tables

SAMPLE = Path(__file__).parents[1] / "sample_data"
TABLES = ("places", "precincts", "devices", "seals", "rovers")
MADE = (
    *(f"{table}.csv" for table in TABLES),
    "earlier_election/earlier_steps.csv",
    "drop/clean.csv",
    "drop/mistakes.csv",
)


@pytest.fixture(scope="module")
def roster() -> Roster:
    read, problems = read_tables([SAMPLE / f"{table}.csv" for table in TABLES])
    assert not problems
    return read


@pytest.fixture(scope="module")
def plan() -> Plan:
    return parse_plan((SAMPLE / "plan.toml").read_text(encoding="utf-8"), "plan.toml")


def test_the_county_has_the_size_it_is_said_to_have(roster: Roster) -> None:
    types = Counter(device.type for device in roster.devices)
    assert (len(roster.places), len(roster.precincts), len(roster.rovers)) == (48, 60, 8)
    assert (types["scanner"], types["bmd"]) == (75, 48)
    assert types["pollbook"] >= 2 * 48
    assert [place.place for place in roster.places] == [f"P{n:03}" for n in range(1, 49)]
    assert len({place.zone for place in roster.places}) == 6
    assert min(Counter(place.route for place in roster.places).values()) == 8


def test_places_serve_one_precinct_several_or_all(roster: Roster) -> None:
    served = Counter(precinct.place for precinct in roster.precincts)
    assert Counter(served.values()) == {1: 36, 2: 9, 3: 2}
    assert [place.place for place in roster.places if place.serves == "all"] == ["P048"]
    for place in roster.places:
        assert place.serves or place.registered == sum(p.registered or 0 for p in roster.precincts_at[place.place])


def test_two_places_have_hours_of_their_own(roster: Roster, plan: Plan) -> None:
    own = {place.place: (place.opens, place.closes) for place in roster.places if place.opens or place.closes}
    assert own == {"P023": (time(7), time(20)), "P041": (time(8), time(19))}
    opening = [day.opens_at.astimezone(ZoneInfo("America/Chicago")) for day in expected_of(roster, plan).values()]
    assert Counter(f"{at:%H:%M}" for at in opening) == {"06:00": 46, "07:00": 1, "08:00": 1}


def test_every_device_has_its_place_and_its_number_says_which(roster: Roster) -> None:
    for device in roster.devices:
        assert device.place in roster.place_by_id
        assert device.device[3:6] == device.place[1:]
    assert len({device.serial for device in roster.devices}) == len(roster.devices)


def test_scanners_and_markers_have_counters_and_seals_and_pollbooks_have_none(roster: Roster) -> None:
    positions = {"scanner": {"front", "auxiliary"}, "bmd": {"front"}, "pollbook": set()}
    for device in roster.devices:
        assert set(roster.seals_on.get(device.device, {})) == positions[device.type]
        assert (device.protective_counter is None) == (device.type == "pollbook")
    numbers = [seal.number for seal in roster.seals]
    assert len(set(numbers)) == len(numbers)
    assert all(re.fullmatch(r"\d{6}", number) for number in numbers)


def test_telephone_numbers_are_of_the_range_kept_for_stories(roster: Roster) -> None:
    phones = [place.phone for place in roster.places] + [rover.phone for rover in roster.rovers]
    assert all(re.fullmatch(r"555-01\d\d", phone) for phone in phones)
    assert len(set(phones)) == len(phones)


def test_the_county_is_about_fifty_by_forty_kilometres(roster: Roster) -> None:
    latitudes = [place.latitude or 0.0 for place in roster.places]
    longitudes = [place.longitude or 0.0 for place in roster.places]
    assert 25 < (max(latitudes) - min(latitudes)) * 111.2 < 45
    assert 35 < (max(longitudes) - min(longitudes)) * 111.2 * 0.744 < 55
    assert len(set(zip(latitudes, longitudes, strict=True))) == 48


def test_ballots_cover_the_turnout_and_no_more_than_the_registered(roster: Roster) -> None:
    for place in roster.places:
        if place.registered:
            assert place.registered * 0.44 < (place.ballots_delivered or 0) < place.registered + 25


def test_the_plan_is_a_rehearsal_and_fits_the_roster(roster: Roster, plan: Plan) -> None:
    assert plan.election.rehearsal
    assert misfits(roster, plan) == ()


def test_the_plan_has_every_step_of_the_officers_sheet(plan: Plan) -> None:
    assert [step.key for step in plan.steps] == [
        "staffed", "site-ready", "seals-checked", "powered", "boxes-empty", "pollbooks-ready", "setup-confirmed",
        "zero-report", "open", "closed", "last-voter", "results-printed", "balanced", "departed", "received",
    ]  # fmt: skip
    assert {step.key for step in plan.steps if step.per_device} == {
        "seals-checked", "boxes-empty", "setup-confirmed", "zero-report", "results-printed",
    }  # fmt: skip


def test_the_steps_stand_in_the_order_they_are_due(roster: Roster, plan: Plan) -> None:
    for day in expected_of(roster, plan).values():
        assert all(earlier.due_at <= later.due_at for earlier, later in pairwise(day.steps))


def test_every_kind_of_exception_has_its_instruction_and_danger_says_911(plan: Plan) -> None:
    assert set(plan.instructions) == set(plan.exception_kinds)
    for key, kind in plan.exception_kinds.items():
        if kind.effect is Effect.DANGER:
            assert "911" in plan.instruction(key)


def test_every_key_that_there_is_stands_in_the_sample_with_a_comment() -> None:
    text = (SAMPLE / "plan.toml").read_text(encoding="utf-8")
    limits = text[text.index("[limits]") : text.index("[effects.danger]")]
    for limit in Limits.__dataclass_fields__:
        assert re.search(rf"^{limit} = \S+ +# \S", limits, re.MULTILINE), limit


def test_every_key_of_an_item_is_explained_and_the_list_is_marked_as_common_practice(plan: Plan) -> None:
    text = (SAMPLE / "plan.toml").read_text(encoding="utf-8")
    items = text[: text.index("[[item]]")].rpartition("# ----")[2]
    assert "common practice" in items
    for key in ("key", "says", "per", "types", "needed", "sealed"):
        assert re.search(rf"^#   {key} +\S", items, re.MULTILINE), key
    assert [item.key for item in plan.items if item.sealed] == ["memory", "used-ballots"]
    assert [item.key for item in plan.items if not item.needed] == ["provisional"]
    assert [item.types for item in plan.items if item.types] == [("scanner",)]


def test_every_key_of_sending_rovers_of_patterns_and_of_forecasts_stands_in_the_sample_with_a_comment() -> None:
    text = (SAMPLE / "plan.toml").read_text(encoding="utf-8")
    dispatch = text[text.index("[dispatch]") : text.index("[words]")]
    computed = {"needs", "usual", "weights", "matrix_file", "matrix"}
    keys = [*DispatchSettings.__dataclass_fields__.keys() - computed, "matrix", *Need.__dataclass_fields__]
    for key in [*keys, *Effect, *PatternLimits.__dataclass_fields__, *ForecastLimits.__dataclass_fields__]:
        assert re.search(rf"^(# )?{key} = \S.* +# \S", dispatch, re.MULTILINE), key


def test_the_sample_says_of_rovers_patterns_and_forecasts_what_is_usual(plan: Plan) -> None:
    assert plan.patterns == PatternLimits()
    assert plan.forecast == ForecastLimits()
    usual = DispatchSettings()
    assert replace(plan.dispatch, needs=usual.needs) == usual
    assert plan.dispatch.need("scanner-jam") == usual.need("scanner-jam")


def test_every_effect_has_a_target_and_all_that_hinder_voting_a_ladder(plan: Plan) -> None:
    assert set(plan.targets) == set(Effect)
    assert {rung.effect for rung in plan.ladder} == set(Effect) - {Effect.RECORD}


def test_the_earlier_election_knows_every_step_at_every_place_but_the_new_one(roster: Roster, plan: Plan) -> None:
    steps = parse_earlier_steps(
        (SAMPLE / "earlier_election" / "earlier_steps.csv").read_text(encoding="utf-8"), "earlier_steps.csv"
    )
    assert {step.place for step in steps} == roster.place_by_id.keys() - {"P039"}
    keys = [step.key for step in plan.steps]
    for place in {step.place for step in steps}:
        day = [step for step in steps if step.place == place]
        assert [step.step for step in day] == keys
        assert all(earlier.done_at <= later.done_at for earlier, later in pairwise(day))
    opened = [step.minutes for step in steps if step.step == "open"]
    assert min(opened) == 0
    assert 1 <= sum(minutes > 15 for minutes in opened) <= 4


def test_the_script_makes_the_very_same_files_again(tmp_path: Path) -> None:
    script = f"from pathlib import Path; from sample_data.make import make; make(Path({str(tmp_path)!r}))"
    subprocess.run(
        [sys.executable, "-c", script], check=True, cwd=SAMPLE.parent, env=os.environ | {"PYTHONHASHSEED": "7"}
    )
    assert sorted(str(f.relative_to(tmp_path)) for f in tmp_path.rglob("*.csv")) == sorted(MADE)
    _, differ, missing = filecmp.cmpfiles(tmp_path, SAMPLE, MADE, shallow=False)
    assert (differ, missing) == ([], [])


def taken(name: str, roster: Roster, plan: Plan) -> tuple[list[Entry], dict[str, str]]:
    """What a drop file's rows become: entries, and by its note the field each other row was refused for."""
    entries, refused = [], {}
    hand = Hand(f"drop:{name}", name, "drop", datetime(2026, 11, 3, 15, tzinfo=UTC))
    for number, row in read_rows((SAMPLE / "drop" / name).read_bytes())[1]:
        assert not isinstance(row, BadRow)
        try:
            entries.append(take({**row, "key": row["key"] or f"row-{number}"}, hand, roster, plan))
        except Refused as error:
            refused[row["note"]] = " ".join(problem.field for problem in error.problems)
    return entries, refused


def test_every_row_of_the_clean_file_is_taken(roster: Roster, plan: Plan) -> None:
    entries, refused = taken("clean.csv", roster, plan)
    assert refused == {}
    assert len(entries) == 20
    assert {entry.stamp for entry in entries} == {Stamp.TOLD}
    assert {entry.kind for entry in entries} == {
        Kind.STEP, Kind.COUNT, Kind.EXCEPTION, Kind.INTERRUPTION, Kind.NOTE, Kind.CORRECTION,
    }  # fmt: skip
    assert len({entry.key for entry in entries}) == 20


def test_the_clean_files_seals_and_counters_are_the_ones_recorded(roster: Roster, plan: Plan) -> None:
    entries, _ = taken("clean.csv", roster, plan)
    for entry in entries:
        if "seal_number" in entry.fields:
            assert entry.text("seal_number") == roster.seals_on[entry.device][entry.text("seal_position")]
        if "protective_counter" in entry.fields:
            assert entry.number("protective_counter") == roster.device_by_id[entry.device].protective_counter


def test_the_other_file_has_eight_different_mistakes_and_four_good_rows(roster: Roster, plan: Plan) -> None:
    entries, refused = taken("mistakes.csv", roster, plan)
    assert refused == {
        "Mistake: a count has no copies": "copies",
        "Mistake: no such place": "place",
        "Mistake: no such step": "step",
        "Mistake: a number below zero": "check_ins",
        "Mistake: another place's scanner": "device",
        "Mistake: no such time": "happened_at",
        "Mistake: a seal without its device": "device",
        "Mistake: no such kind of exception": "exception",
    }
    assert [entry.stamp for entry in entries] == [Stamp.TOLD, Stamp.TOLD, Stamp.RECEIVED, Stamp.TOLD]
