"""The county's picture: known against happened, totals, minutes late and lost, and cases by name."""

from datetime import datetime

import pytest

from county.domain.cases import State
from county.domain.entries import Entry
from county.domain.picture import Picture, happened, known
from county.domain.roster import Place
from county.domain.standing import Standing
from tests.builders import (
    CLOSES,
    LONG_AFTER,
    OPENS,
    a_correction,
    a_full_opening,
    a_note,
    a_plan,
    a_roster,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)
from tests.looking import a_picture, now_at


def as_known(at: datetime, *entries: Entry) -> Picture:
    return a_picture(*known(entries, at))


def as_happened(at: datetime, *entries: Entry) -> Picture:
    return Picture.of(a_roster(), a_plan(), happened(entries, at), heard_by_happening=True)


LATE_WORD = a_step("open", after(2), received_at=after(40))


def test_known_is_what_the_office_had_received() -> None:
    assert as_known(after(39), LATE_WORD).at("P014", after(39)).standing is Standing.UNHEARD
    now = as_known(after(40), LATE_WORD).at("P014", after(40))
    assert (now.standing, now.day.opened_at, now.minutes_late) == (Standing.OPEN, after(2), 2)


def test_happened_is_what_was_true_whenever_it_was_learned() -> None:
    assert as_happened(after(1), LATE_WORD).at("P014", after(1)).day.opened_at is None
    assert as_happened(after(2), LATE_WORD).at("P014", after(2)).standing is Standing.OPEN


def test_happened_holds_every_correction_known_only_those_received() -> None:
    opened = a_step("open", after(2))
    moved = a_correction(opened, after(9), told=True, received_at=after(60))
    assert as_known(after(59), opened, moved).at("P014", after(59)).day.opened_at == after(2)
    assert as_known(after(60), opened, moved).at("P014", after(60)).day.opened_at == after(9)
    assert as_happened(after(8), opened, moved).at("P014", after(8)).day.opened_at is None
    assert as_happened(after(9), opened, moved).at("P014", after(9)).day.opened_at == after(9)


def test_what_was_withdrawn_later_never_happened() -> None:
    opened = a_step("open", after(2))
    back = a_withdrawal(opened, after(30))
    assert as_known(after(10), opened, back).at("P014", after(10)).standing is Standing.OPEN
    assert as_happened(after(10), opened, back).at("P014", after(10)).standing is not Standing.OPEN


def test_by_happening_nothing_was_heard_of_the_place_before_it_happened() -> None:
    entries = (a_note(before(5)), a_correction("k", after(300), note="y"), LATE_WORD)
    assert as_happened(before(10), *entries).at("P014", before(10)).standing is Standing.UNHEARD
    assert as_happened(after(30), *entries).at("P014", after(30)).day.last_heard_at == after(2)


def test_a_precincts_standing_is_that_of_the_place_where_it_votes() -> None:
    picture = a_picture(a_step("open"))
    for precinct in ("14A", "14B"):
        place = picture.roster.place_of(precinct)
        assert place is not None
        assert picture.at(place.place, after(5)) == picture.at("P014", after(5))


def test_a_precinct_of_its_own_is_no_place() -> None:
    with pytest.raises(KeyError):
        a_picture().at("14A", OPENS)


def test_totals_name_every_standing_and_sum_to_the_places() -> None:
    picture = a_picture(a_step("open"), a_note(before(5), place="P015"))
    totals = picture.totals(after(5))
    assert list(totals) == list(Standing)
    assert {standing: n for standing, n in totals.items() if n} == {
        Standing.OPEN: 1,
        Standing.LATE: 1,
        Standing.UNHEARD: 1,
    }


def test_a_whole_county_opens() -> None:
    entries = [entry for place in ("P014", "P015", "P016") for entry in a_full_opening(place)]
    picture = a_picture(*entries)
    assert picture.totals(after(70))[Standing.OPEN] == 3
    assert picture.cases() == ()


def test_adding_says_which_places_it_touched() -> None:
    picture = a_picture()
    assert picture.add([a_note(), a_note(place="P015")]) == {"P014", "P015"}


def test_what_concerns_the_whole_county_touches_no_place() -> None:
    assert a_picture().add([a_note(place="")]) == set()


def test_entries_of_a_place_that_left_the_roster_break_nothing() -> None:
    gone = a_roster(places=(Place("P015", "Grange Hall"),))
    picture = a_picture(a_step("open"), an_exception("fire"), roster=gone)
    assert picture.places.keys() == {"P015"}
    assert picture.cases() == ()


# minutes


@pytest.mark.parametrize(
    ("now", "opened_at", "minutes"),
    [
        (before(10), None, 0),
        (after(0), None, 0),
        (after(0.99), None, 0),
        (after(12), None, 12),
        (after(hours=40), None, 780),
        (after(60), after(34), 34),
        (after(60), before(4), 0),
        (after(hours=40), after(34.9), 34),
    ],
)
def test_minutes_late_run_from_the_places_own_opening(now: datetime, opened_at: datetime | None, minutes: int) -> None:
    entries = [a_step("open", opened_at)] if opened_at else []
    assert now_at(now, *entries).minutes_late == minutes


def lost(now: datetime, *entries: Entry) -> int:
    return now_at(now, *entries).lost_minutes


POWER = {"exception": "no-power"}
STOP = an_interruption("stopped", after(60), exception="no-power")
OPENED = a_step("open")


def test_lost_time_is_the_union_of_late_opening_and_stops() -> None:
    late, overlapping = a_step("open", after(34)), an_interruption("stopped", after(20), exception="fire")
    over = the_end(after(44), exception="fire")
    assert lost(after(60), late) == 34
    assert lost(after(60), late, overlapping, over) == 44
    assert lost(after(75), late, overlapping, over, STOP) == 59


def test_two_troubles_at_once_are_counted_once() -> None:
    other = an_interruption("danger", after(65), exception="fire")
    ends = [the_end(after(80), exception="no-power"), the_end(after(90), exception="fire")]
    assert lost(after(hours=5), OPENED, STOP, other, *ends) == 30


def test_what_only_impairs_or_stops_one_device_loses_no_time() -> None:
    slow = an_interruption("impaired", after(60))
    device = an_interruption("stopped", after(60), device="SC-0141")
    assert lost(after(hours=5), OPENED, slow, device) == 0


def test_only_the_time_in_which_it_was_stopped_is_lost() -> None:
    worse, better = an_interruption("stopped", after(70), **POWER), an_interruption("impaired", after(75), **POWER)
    begun = an_interruption("impaired", after(60), **POWER)
    assert lost(after(hours=5), OPENED, begun, worse, better, the_end(after(90), **POWER)) == 5


def test_a_stop_before_the_opening_time_is_lost_only_from_then_on() -> None:
    early = an_interruption("stopped", before(60), exception="no-power")
    assert lost(after(60), OPENED, early, the_end(after(10), exception="no-power")) == 10
    assert lost(before(10), early) == 0


def test_lost_time_is_cut_at_the_places_own_closing_time() -> None:
    assert lost(after(hours=30)) == 13 * 60
    assert lost(after(hours=30), OPENED, an_interruption("stopped", CLOSES)) == 0
    assert now_at(after(hours=30), place="P016").lost_minutes == 13 * 60


def test_a_stop_nobody_reported_over_lasts_until_a_person_cleared_it() -> None:
    assert lost(after(hours=5), OPENED, STOP) == 240
    assert lost(after(hours=5), OPENED, STOP, an_action("P014.no-power", "clear", after(70))) == 10


def test_stopped_again_after_it_was_cleared_counts_both_times() -> None:
    cleared, again = an_action("P014.no-power", "clear", after(70)), an_interruption("stopped", after(90), **POWER)
    assert lost(after(100), OPENED, STOP, cleared, again) == 20


def test_a_stop_that_a_person_withdrew_never_was() -> None:
    assert lost(after(hours=5), OPENED, STOP, an_action("P014.no-power", "withdraw", after(70))) == 0


def test_an_acknowledged_stop_runs_on() -> None:
    assert lost(after(90), OPENED, STOP, an_action("P014.no-power", "acknowledge", after(70))) == 30


# cases by name


def test_a_case_is_found_by_its_name() -> None:
    picture = a_picture(an_exception("scanner-jam", device="SC-0141"))
    case = picture.case("P014.scanner-jam.SC-0141")
    assert case is not None
    assert case.device == "SC-0141"


@pytest.mark.parametrize(
    "name", ["", ".", "P014", "P014.", "P014.fire", "P999.fire", "P014.scanner-jam.SC-0141.2", "x" * 99]
)
def test_what_is_no_case_is_not_found(name: str) -> None:
    assert a_picture(an_exception("scanner-jam", device="SC-0141")).case(name) is None


def test_places_whose_ids_begin_alike_keep_their_cases_apart() -> None:
    roster = a_roster(places=(Place("P1", "A"), Place("P1.2", "B")), precincts=(), devices=(), seals=())
    entries = [an_exception("fire", place="P1"), an_exception("medical", place="P1.2")]
    picture = a_picture(*entries, roster=roster)
    for name, place in (("P1.fire", "P1"), ("P1.2.medical", "P1.2")):
        case = picture.case(name)
        assert case is not None
        assert case.place == place


def test_a_case_the_clock_raised_is_the_clocks() -> None:
    case = a_picture(raised("silent", "x")).case("P014.silent")
    assert case is not None
    assert (case.raised_by, case.state) == ("clock", State.RAISED)
    assert case.raised_at == OPENS
    assert case.learned_at > OPENS


def test_the_end_of_time_knows_everything() -> None:
    entries = (*a_full_opening(), LATE_WORD, STOP)
    assert known(entries, LONG_AFTER) == entries
