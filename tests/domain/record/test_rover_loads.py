"""What rovers had to do: minutes counted once, what went over to another, and which times are missing."""

from county.domain.entries import Entry
from county.domain.picture import Picture
from county.domain.record.rover_loads import RoverLoad, rover_loads
from tests.builders import a_plan, a_roster, after, an_action, an_exception

JAM, LINE = "P014.scanner-jam", "P015.long-line"


def loads(*entries: Entry) -> dict[str, RoverLoad]:
    trouble = (
        an_exception("scanner-jam", after(0), effect="impaired"),
        an_exception("long-line", after(0), place="P015"),
    )
    drawn = Picture.of(a_roster(), a_plan(), (*trouble, *entries))
    return {each.rover: each for each in rover_loads(drawn, after(120))}


def deed(case: str, action: str, minutes: float, rover: str = "", note: str = "") -> Entry:
    more = {name: value for name, value in (("rover", rover), ("note", note)) if value}
    return an_action(case, action, after(minutes), **more)


def test_a_rovers_way_and_work_are_minutes_from_what_was_said() -> None:
    found = loads(
        deed(JAM, "assign", 5, "R03"),
        deed(JAM, "under-way", 8, "R03"),
        deed(JAM, "on-site", 20, "R03"),
        deed(JAM, "clear", 50, note="tray emptied"),
    )["R03"]
    assert (found.under_way_minutes, found.on_site_minutes) == (12, 30)
    assert (found.reached, found.cleared, found.no_way_time, found.no_site_time) == (1, 1, 0, 0)
    assert (found.first, found.last, found.out) == (after(5), after(50), False)


def test_a_rover_that_went_on_before_the_case_ended_is_not_counted_as_there() -> None:
    found = loads(
        deed(JAM, "assign", 5, "R03"),
        deed(JAM, "on-site", 20, "R03"),
        deed(LINE, "assign", 30, "R03"),
        deed(LINE, "under-way", 40, "R03"),
        deed(JAM, "clear", 100, note="the place said it is well"),
    )["R03"]
    assert found.on_site_minutes == 20
    assert found.under_way_minutes == 80
    assert found.no_way_time == 1
    assert found.out


def test_what_went_to_another_or_was_turned_down_is_said() -> None:
    found = loads(
        deed(JAM, "assign", 5, "R03"),
        deed(JAM, "assign", 9, "R04"),
        deed(JAM, "cannot", 12, "R04", "flat tyre"),
    )
    assert (found["R03"].given_over, found["R04"].turned_down) == (1, 1)
    assert (found["R03"].cleared, found["R04"].reached) == (0, 0)


def test_a_case_cleared_without_a_time_on_site_is_counted_as_missing_it() -> None:
    found = loads(deed(JAM, "assign", 5, "R03"), deed(JAM, "clear", 50, note="done"))["R03"]
    assert (found.no_site_time, found.on_site_minutes) == (1, 0)


def test_a_rover_without_a_case_has_a_row_of_its_own() -> None:
    assert loads()["R04"].stints == ()
    assert loads()["R04"].first is None
