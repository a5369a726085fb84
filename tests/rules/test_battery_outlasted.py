"""battery-outlasted: a place, or a device, runs on battery for longer than the plan allows: no power."""

from county.domain.cases import State
from county.domain.entries import Entry
from tests.builders import a_plan, after, an_action, an_exception, an_interruption, the_end
from tests.looking import due_by, raised_of, the_case

RULE = "battery-outlasted"


def on_battery(minutes: float, device: str = "") -> Entry:
    return an_interruption("impaired", after(minutes), exception="on-battery", **({"device": device} if device else {}))


def mains_back(minutes: float, device: str = "") -> Entry:
    return the_end(after(minutes), exception="on-battery", **({"device": device} if device else {}))


def test_after_half_an_hour_it_is_said() -> None:
    assert due_by(RULE, after(89.9), on_battery(60)) == []
    (due,) = due_by(RULE, after(90), on_battery(60))
    assert (due.since, due.cause, due.says) == (after(90), "P014.on-battery", "on battery for 30 min")


def test_the_plan_says_how_long_and_the_device_keeps_its_name() -> None:
    (due,) = due_by(RULE, after(70), on_battery(60, "SC-0141"), plan=a_plan(battery_minutes=10))
    assert (due.since, due.device, due.cause) == (after(70), "SC-0141", "P014.on-battery.SC-0141")


def test_reported_trouble_counts_as_well_as_an_interruption() -> None:
    assert len(due_by(RULE, after(90), an_exception("on-battery", after(60)))) == 1


def test_once_it_is_over_nothing_is_said() -> None:
    assert due_by(RULE, after(100), on_battery(60), mains_back(80)) == []
    cleared = an_action("P014.on-battery", "clear", after(80))
    assert due_by(RULE, after(100), on_battery(60), cleared) == []


def test_other_troubles_are_not_on_battery() -> None:
    assert due_by(RULE, after(100), an_interruption("stopped", after(0), exception="no-power")) == []


def test_mains_coming_back_clears_it() -> None:
    entry = raised_of(RULE, due_by(RULE, after(90), on_battery(60))[0], effect="stopped")
    assert the_case("P014.no-power", on_battery(60), entry).state is State.RAISED
    case = the_case("P014.no-power", on_battery(60), entry, mains_back(95))
    assert (case.state, case.cleared_at) == (State.CLEARED, after(95))


def test_the_end_of_an_earlier_time_on_battery_or_of_another_device_does_not() -> None:
    earlier = [on_battery(0), mains_back(10), on_battery(60)]
    (due,) = due_by(RULE, after(90), *earlier)
    assert due.cause == "P014.on-battery.2"
    entry = raised_of(RULE, due, effect="stopped")
    assert the_case("P014.no-power", *earlier, entry).state is State.RAISED
    device = [on_battery(60, "SC-0141"), mains_back(95, "SC-0141")]
    assert the_case("P014.no-power", *earlier, entry, *device).state is State.RAISED


def test_another_trouble_that_ends_meanwhile_does_not() -> None:
    other = [an_interruption("stopped", after(61), exception="fire"), the_end(after(95), exception="fire")]
    entry = raised_of(RULE, due_by(RULE, after(90), on_battery(60))[0], effect="stopped")
    assert the_case("P014.no-power", on_battery(60), *other, entry).state is State.RAISED
