"""What is expected of a place: every due time from its own hours, in its own zone, on its own devices."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from county.domain.expected import Expected, expected_at, expected_of
from county.domain.plan import Anchor, Election, Plan, Step
from county.domain.roster import Device, Place, Precinct, Roster, Seal

MINUTE = timedelta(minutes=1)
PLAN = Plan(
    election=Election("General Election", "Wrenfield", date(2026, 11, 3), "America/Chicago", time(6), time(19)),
    steps=(
        Step("staffed", "Officers present", Anchor.OPENING, -45 * MINUTE, 10 * MINUTE),
        Step("seals-checked", "Seals", Anchor.OPENING, -30 * MINUTE, 0 * MINUTE, True, ("scanner", "bmd")),
        Step("zero-report", "Zero report", Anchor.OPENING, -15 * MINUTE, 5 * MINUTE, True, ("scanner",)),
        Step("open", "Polls open", Anchor.OPENING, 0 * MINUTE, 0 * MINUTE),
        Step("closed", "Polls closed", Anchor.CLOSING, 0 * MINUTE, 5 * MINUTE),
        Step("received", "Received", Anchor.CLOSING, 150 * MINUTE, 30 * MINUTE),
    ),
)


def utc(hour: int, minute: int = 0, day: int = 3) -> datetime:
    return datetime(2026, 11, day, hour, minute, tzinfo=UTC)


def expected(place: Place, *devices: Device, plan: Plan = PLAN) -> Expected:
    return expected_at(place, Roster(places=(place,), devices=devices), plan)


def due(place: Place) -> dict[str, datetime]:
    return {step.key: step.due_at for step in expected(place, Device("SC-1", place.place, "scanner")).steps}


def test_without_hours_of_its_own_a_place_keeps_the_plans() -> None:
    day = expected(Place("P001", "A"))
    assert (day.opens_at, day.closes_at) == (utc(12), utc(1, day=4))


def test_steps_are_due_from_the_places_own_opening_and_closing() -> None:
    usual, own = due(Place("P001", "A")), due(Place("P002", "B", opens=time(7), closes=time(20)))
    assert usual["zero-report"] == utc(11, 45)
    assert usual["received"] == utc(3, 30, day=4)
    assert {key: own[key] - usual[key] for key in usual} == dict.fromkeys(usual, 60 * MINUTE)


def test_a_place_may_keep_only_its_own_opening() -> None:
    own = due(Place("P002", "B", opens=time(12)))
    assert (own["open"], own["closed"]) == (utc(18), utc(1, day=4))


def test_a_place_in_another_time_zone_opens_by_its_own_wall_clock() -> None:
    assert expected(Place("P003", "C", time_zone="America/Denver")).opens_at == utc(13)


def test_grace_is_added_to_the_due_time() -> None:
    staffed = expected(Place("P001", "A")).steps[0]
    assert (staffed.due_at, staffed.overdue_at) == (utc(11, 15), utc(11, 25))


def test_a_place_that_closes_at_midnight_closes_at_the_end_of_the_day() -> None:
    assert expected(Place("P001", "A", closes=time(0))).closes_at == utc(6, day=4)


@pytest.mark.parametrize(
    ("day", "opens"),
    [
        # US clocks change at 02:00 on the first Sunday in November: 15 U.S.C. 260a
        (date(2026, 10, 31), datetime(2026, 10, 31, 11, tzinfo=UTC)),
        (date(2026, 11, 1), datetime(2026, 11, 1, 12, tzinfo=UTC)),
        (date(2026, 11, 3), datetime(2026, 11, 3, 12, tzinfo=UTC)),
    ],
)
def test_the_opening_follows_the_change_of_clocks(day: date, opens: datetime) -> None:
    plan = Plan(Election("Municipal", "Wrenfield", day, "America/Chicago", time(6), time(19)), PLAN.steps)
    assert expected(Place("P001", "A"), plan=plan).opens_at == opens


def test_a_step_done_on_devices_is_expected_on_those_of_its_types_only() -> None:
    place = Place("P001", "A")
    day = expected(
        place, Device("SC-1", "P001", "scanner"), Device("BM-1", "P001", "bmd"), Device("PB-1", "P001", "pollbook")
    )
    assert {step.key: step.devices for step in day.steps if step.devices} == {
        "seals-checked": ("SC-1", "BM-1"),
        "zero-report": ("SC-1",),
    }
    assert day.scanners == ("SC-1",)


def test_a_step_on_devices_is_not_expected_where_there_are_none() -> None:
    assert "zero-report" not in {step.key for step in expected(Place("P001", "A")).steps}


def test_seals_counters_and_precincts_are_the_places_own() -> None:
    roster = Roster(
        places=(Place("P001", "A"), Place("P002", "B"), Place("P003", "C", serves="all")),
        precincts=(Precinct("101", "Ward 1", "P001"), Precinct("102", "Ward 2", "P002")),
        devices=(
            Device("SC-1", "P001", "scanner", protective_counter=48210),
            Device("SC-2", "P002", "scanner", protective_counter=7),
        ),
        seals=(Seal("SC-1", "front", "004417"), Seal("SC-2", "front", "004418")),
    )
    days = expected_of(roster, PLAN)
    assert days["P001"].seals == {"SC-1": {"front": "004417"}}
    assert days["P001"].protective == {"SC-1": 48210}
    assert days["P001"].precincts == {"101"}
    assert days["P003"].precincts == {"101", "102"}
    assert days["P003"].precinct_names == {"ward 1": "101", "ward 2": "102", "101": "101", "102": "102"}


def test_the_first_thing_is_due_when_the_first_step_is() -> None:
    assert expected(Place("P001", "A")).first_due_at == utc(11, 15)


def test_two_thousand_places_are_worked_out_quickly() -> None:
    roster = Roster(
        places=tuple(Place(f"P{n}", "Hall", opens=time(6, n % 60)) for n in range(2_000)),
        precincts=tuple(Precinct(str(n), f"Ward {n}", f"P{n}") for n in range(2_000)),
        devices=tuple(Device(f"SC-{n}", f"P{n // 4}", "scanner") for n in range(8_000)),
        seals=tuple(Seal(f"SC-{n}", "front", str(n)) for n in range(8_000)),
    )
    assert len(expected_of(roster, PLAN)) == 2_000


def test_many_vote_centres_do_not_make_it_slow() -> None:
    roster = Roster(
        places=tuple(Place(f"P{n}", "Hall", serves="all") for n in range(400)),
        precincts=tuple(Precinct(str(n), f"Ward {n}", "P0") for n in range(2_000)),
    )
    assert all(len(day.precincts) == 2_000 for day in expected_of(roster, PLAN).values())
