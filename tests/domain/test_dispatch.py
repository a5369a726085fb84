"""Who should go where, from the cases as they stand: limits and people's decisions kept, reasons to be checked."""

from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest

from county.domain.dispatch import Dispatch, Offer, suggest
from county.domain.dispatch_field import Barred
from county.domain.dispatch_settings import NEEDS, DispatchSettings, Need
from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.exception_kinds import EXCEPTION_KINDS
from county.domain.roster import Place, Roster, Rover
from tests.builders import a_plan, a_roster, after, an_action, an_exception
from tests.looking import the_cases

PLACES = tuple(
    Place(f"P0{n}", name, zone="West" if n < 16 else "East")
    for n, name in ((14, "Mill Creek School"), (15, "Grange Hall"), (16, "Court House"), (17, "Depot"))
)
ALL_SKILLS = ("scanner", "bmd", "pollbook", "power", "access")
ROVERS = (
    Rover("R01", "Rover One", zone="West", skills=ALL_SKILLS, carries=("Scanner", "pollbook")),
    Rover("R02", "Rover Two", zone="East", skills=ALL_SKILLS, carries=("scanner",)),
    Rover("R03", "Rover Three", zone="East", skills=("access",), carries=("ramp",)),
)
ROSTER = a_roster(places=PLACES, rovers=ROVERS)
FROM_BASE = {
    "R01": (9, 20, 30, 40),
    "R02": (14, 18, 8, 50),
    "R03": (25, 25, 25, 25),
}
MATRIX = {(rover, f"P0{14 + n}"): float(way) for rover, ways in FROM_BASE.items() for n, way in enumerate(ways)}
MATRIX |= {(f"P0{a}", f"P0{b}"): 12.0 for a in range(14, 18) for b in range(14, 18) if a != b}
NOW = after(60)


def trouble(exception: str, place: str, minutes: float = 50, **more: object) -> Entry:
    return an_exception(exception, after(minutes), place=place, **more)


def deed(case: str, action: str, rover: str = "", minutes: float = 55) -> Entry:
    return an_action(case, action, after(minutes), **({"rover": rover} if rover else {}))


def suggested(
    *entries: Entry,
    settings: DispatchSettings | None = None,
    roster: Roster = ROSTER,
    now: datetime = NOW,
    barred: Barred | None = None,
) -> Dispatch:
    cases = the_cases(*entries, roster=roster).values()
    settings = replace(settings or DispatchSettings(), matrix=MATRIX)
    return suggest(cases, roster, a_plan(), settings, now, barred=barred)


def who(found: Dispatch, case: str) -> tuple[str, str]:
    stop = found.stop_for(case)
    assert stop is not None, found.left_out
    return stop.rover, stop.why


def order(found: Dispatch, rover: str) -> list[str]:
    return [stop.case for stop in found.stops[rover]]


def test_the_nearest_free_rover_with_the_spare_goes_and_the_next_best_is_said() -> None:
    found = suggested(trouble("scanner-fault", "P014"))
    stop = found.stop_for("P014.scanner-fault")
    assert stop is not None
    assert (stop.rover, stop.minutes, stop.arrives_at, stop.place) == ("R01", 9, NOW + timedelta(minutes=9), "P014")
    assert stop.why == "nearest free rover with scanner skill and a spare scanner, 9 min; next best 14"
    assert found.offers["P014.scanner-fault"] == (Offer("R01", 9), Offer("R02", 14))
    assert found.best_of_all


def test_one_who_alone_has_what_it_takes_is_called_the_only_one() -> None:
    assert who(suggested(trouble("pollbook-outage", "P014")), "P014.pollbook-outage") == (
        "R01",
        "the only rover with pollbook skill and a spare pollbook, 9 min",
    )


def test_one_spare_serves_one_case_and_the_other_case_is_left_out_with_the_reason() -> None:
    found = suggested(trouble("pollbook-outage", "P014"), trouble("pollbook-outage", "P015", effect="stopped"))
    assert who(found, "P015.pollbook-outage")[0] == "R01"
    assert found.left_out == {
        "P014.pollbook-outage": "every rover with pollbook skill and a spare pollbook is needed elsewhere"
    }


def test_where_nobody_has_the_spare_it_says_so() -> None:
    found = suggested(trouble("paper-list-missing", "P014"))
    assert found.left_out == {"P014.paper-list-missing": "no rover with a spare paper list"}
    assert found.offers["P014.paper-list-missing"] == ()


def test_zones_are_kept_only_where_the_settings_say_so() -> None:
    west = suggested(trouble("no-power", "P016"), settings=DispatchSettings(keep_zones=True))
    assert who(west, "P016.no-power")[0] == "R02"
    only_west = replace(ROSTER, rovers=ROVERS[:1])
    kept = suggested(trouble("no-power", "P016"), settings=DispatchSettings(keep_zones=True), roster=only_west)
    assert kept.left_out == {"P016.no-power": "no rover with power skill in zone East"}
    assert who(suggested(trouble("no-power", "P016"), roster=only_west), "P016.no-power")[0] == "R01"


def test_the_end_of_a_shift_is_a_hard_limit() -> None:
    """07:00 now, 9 min there and 30 on site: done at 07:39."""
    rovers = (replace(ROVERS[0], ends=time(7, 38)),)
    found = suggested(trouble("no-power", "P014"), roster=replace(ROSTER, rovers=rovers))
    assert found.left_out == {"P014.no-power": "no rover with power skill would be done before its shift ends"}
    longer = replace(ROSTER, rovers=(replace(ROVERS[0], ends=time(7, 39)),))
    assert who(suggested(trouble("no-power", "P014"), roster=longer), "P014.no-power")[0] == "R01"


def test_what_is_worse_is_reached_first_unless_the_lighter_one_hardly_delays_it() -> None:
    only = replace(ROSTER, rovers=ROVERS[:1])
    power = trouble("no-power", "P015", effect="stopped")
    found = suggested(trouble("scanner-jam", "P017"), power, roster=only)
    assert order(found, "R01") == ["P015.no-power", "P017.scanner-jam"]
    assert found.stops["R01"][1].why == "the only rover with scanner skill, 62 min, after Grange Hall"
    # 9 × 20 + 3 × 62 = 366 against 3 × 9 + 9 × 36 = 351
    assert order(suggested(trouble("scanner-jam", "P014"), power, roster=only), "R01")[0] == "P014.scanner-jam"


def test_a_nearer_rover_that_is_better_used_elsewhere_is_named() -> None:
    found = suggested(trouble("no-power", "P016", effect="stopped"), trouble("on-battery", "P015"))
    assert who(found, "P016.no-power") == ("R02", "nearest free rover with power skill, 8 min; next best 30")
    assert who(found, "P015.on-battery") == (
        "R01",
        "20 min; Rover Two could be there in 18 but goes to Court House first",
    )


def test_a_later_stop_says_after_what_and_that_nobody_is_sooner() -> None:
    found = suggested(trouble("no-power", "P014", effect="stopped"), trouble("on-battery", "P017"))
    assert order(found, "R01") == ["P014.no-power"]
    pair = replace(ROSTER, rovers=(ROVERS[0], replace(ROVERS[1], starts=time(9))))
    found = suggested(trouble("no-power", "P014", effect="stopped"), trouble("on-battery", "P017"), roster=pair)
    assert order(found, "R01") == ["P014.no-power", "P017.on-battery"]
    assert who(found, "P017.on-battery")[1] == (
        "51 min, after Mill Creek School; no other rover with power skill sooner, next best Rover Two in 170"
    )


def test_what_the_desk_has_assigned_stays_with_that_rover_even_without_the_skill() -> None:
    found = suggested(trouble("no-power", "P014"), deed("P014.no-power", "assign", "R03"))
    assert who(found, "P014.no-power") == ("R03", "assigned by the desk, 25 min")
    returned = suggested(
        trouble("no-power", "P014"),
        deed("P014.no-power", "assign", "R03"),
        barred=Barred(cannot=frozenset({("P014.no-power", "R03")})),
    )
    assert who(returned, "P014.no-power")[0] == "R01"


def test_a_rover_under_way_is_not_turned_for_a_small_gain() -> None:
    """R01 has driven 5 of 20 min to an on-battery when power fails 9 min from its base."""
    under_way = (trouble("on-battery", "P015"), deed("P015.on-battery", "under-way", "R01", 55))
    alone = replace(ROSTER, rovers=ROVERS[:1])
    worse = trouble("no-power", "P014", 59, effect="stopped")
    kept = suggested(*under_way, worse, roster=alone, settings=DispatchSettings(turn_minutes=60))
    assert order(kept, "R01") == ["P015.on-battery", "P014.no-power"]
    assert kept.stops["R01"][0].why == "under way there already, 15 min"
    turned = suggested(*under_way, worse, roster=alone, settings=DispatchSettings(turn_minutes=10))
    assert order(turned, "R01") == ["P014.no-power", "P015.on-battery"]
    assert turned.stops["R01"][0].why == (
        "the only rover with power skill, 10 min; it is under way to Grange Hall and would be turned"
    )


def test_a_case_somebody_is_on_site_for_is_not_sent_to_again_but_keeps_the_rover_busy() -> None:
    found = suggested(
        trouble("scanner-jam", "P014"),
        deed("P014.scanner-jam", "on-site", "R01", 55),
        trouble("no-power", "P014", 59),
        roster=replace(ROSTER, rovers=ROVERS[:2]),
    )
    assert found.stop_for("P014.scanner-jam") is None
    assert "P014.scanner-jam" not in found.left_out
    assert who(found, "P014.no-power") == (
        "R01",
        "soonest rover with power skill, 10 min (on site elsewhere for another 10); next best 14",
    )


def test_a_rover_that_is_away_is_not_sent_and_its_cases_go_to_others() -> None:
    assigned = (trouble("no-power", "P014"), deed("P014.no-power", "assign", "R01"))
    found = suggested(*assigned, barred=Barred(away=frozenset({"R01"})))
    assert who(found, "P014.no-power")[0] == "R02"
    assert "R01" not in found.stops
    everybody = frozenset(rover.rover for rover in ROVERS)
    assert suggested(*assigned, barred=Barred(away=everybody)).left_out == {"P014.no-power": "no rover to send"}


def test_when_all_that_could_go_have_said_they_cannot_it_says_so() -> None:
    cannot = frozenset({("P014.no-power", "R01"), ("P014.no-power", "R02")})
    found = suggested(trouble("no-power", "P014"), barred=Barred(cannot=cannot))
    assert found.left_out == {"P014.no-power": "the rovers with power skill cannot"}


def test_nobody_is_sent_into_danger_by_a_program_but_a_person_may_send() -> None:
    threat = trouble("threat", "P014")
    fire = trouble("no-power", "P015", effect="danger")
    assert suggested(threat, fire).left_out == {}
    assert all(not stops for stops in suggested(threat, fire).stops.values())
    assert who(suggested(threat, deed("P014.threat", "assign", "R01")), "P014.threat")[0] == "R01"
    county = DispatchSettings(into_danger=True, needs={"threat": Need(10)})
    assert who(suggested(threat, settings=county), "P014.threat")[0] == "R01"


def test_what_is_not_mended_by_going_there_sends_nobody() -> None:
    found = suggested(trouble("drift", "P014"), trouble("clock-ahead", "P015"))
    assert found.left_out == {}
    assert found.cost == found.habit_cost == 0


def test_ended_cases_want_nobody() -> None:
    assert suggested(trouble("no-power", "P014"), deed("P014.no-power", "clear")).cost == 0


def test_every_kind_named_in_the_usual_needs_is_a_kind_the_board_knows() -> None:
    assert NEEDS.keys() <= EXCEPTION_KINDS.keys()
    assert all(not NEEDS[kind].rover for kind, of in EXCEPTION_KINDS.items() if of.effect is Effect.DANGER)


def test_a_countys_own_needs_and_kinds_win() -> None:
    settings = DispatchSettings(needs={"no-power": Need(5, spare="ramp")}, usual=Need(40, skill="access"))
    assert settings.need("no-power").minutes == 5
    assert settings.need("scanner-jam") == NEEDS["scanner-jam"]
    assert settings.need("flooded-basement").minutes == 40
    assert who(suggested(trouble("no-power", "P014"), settings=settings), "P014.no-power")[0] == "R03"


@pytest.mark.parametrize("seed", [1, 2])
def test_a_whole_county_is_suggested_at_once_the_same_for_the_same_seed(seed: int) -> None:
    places = tuple(
        Place(f"P{n:03}", f"Place {n}", latitude=41.7 + n % 8 / 20, longitude=-99.9 + n // 8 / 20) for n in range(48)
    )
    rovers = tuple(
        Rover(
            f"R{n:02}", f"Rover {n}", latitude=41.8, longitude=-99.9 + n / 20, skills=ALL_SKILLS, carries=("scanner",)
        )
        for n in range(8)
    )
    roster = a_roster(places=places, rovers=rovers, devices=(), seals=(), precincts=())
    kinds = ("scanner-jam", "no-power", "scanner-fault", "silent")
    entries = [trouble(kinds[n % 4], f"P{n:03}", 50 - n % 30) for n in range(40)]
    cases = tuple(the_cases(*entries, roster=roster).values())
    settings = DispatchSettings(steps=20_000, seed=seed)
    found = suggest(cases, roster, a_plan(), settings, NOW)
    assert not found.best_of_all
    assert found == suggest(cases, roster, a_plan(), settings, NOW)
    assert found.cost < found.habit_cost
    stops = [stop.case for each in found.stops.values() for stop in each]
    faults = [case.case for case in cases if case.exception == "scanner-fault"]
    assert len(faults) == 10
    assert sorted([*stops, *found.left_out]) == sorted(case.case for case in cases)
    assert sum(case in faults for case in stops) == 8
    for each in found.stops.values():
        assert [stop.minutes for stop in each] == sorted(stop.minutes for stop in each)
