"""Replay: at any moment exactly what folding the entries known, or happened, by then comes to."""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from county.domain.both_orders import View
from county.domain.entries import Entry, Kind
from county.domain.picture import Picture, happened, known
from county.domain.place_replay import Glance
from county.domain.replay import Replay
from county.domain.standing import Standing
from tests.builders import a_correction, a_count, a_plan, a_roster, a_step, after, an_exception, raised
from tests.days import corrections, days, reports

SOME_MOMENTS = st.sampled_from((-61, -30, -16, 0, 1, 20, 60, 61, 65, 120, 300, 600, 790, 1_100)).map(after)


A_MINUTE = timedelta(minutes=1)


@st.composite
def orderly_days(draw: st.DrawFn) -> list[Entry]:
    """A day as most are: one after another, most of it counts, each learned soon after it happened, few late."""
    told = [*draw(days(most=9)), *draw(st.lists(reports() | counts, max_size=16))]
    told = draw(st.permutations([entry for entry in told if entry.kind is not Kind.CORRECTION]))
    many = draw(st.sampled_from([0, 0, 1, 3]))
    keys = [*(f"e{number}" for number in range(len(told) + many)), "nothing"]
    told += [draw(corrections(keys)) for _ in range(many)]
    if many:
        told = draw(st.permutations(told))
    delays = st.sampled_from([3.0, 3.0, 3.0, 3.0, 9.5 * 60, 60.0 * 60])
    moments = [after(-66 + 4 * number) for number in range(len(told))]
    return [
        replace(entry, key=f"e{n}", happened_at=at, received_at=at + timedelta(seconds=draw(delays)))
        for n, (entry, at) in enumerate(zip(told, moments, strict=True))
    ]


counts = reports().filter(lambda entry: entry.kind is Kind.COUNT)


def folded(entries: list[Entry], at: datetime, view: View) -> Picture:
    """The picture as it is defined: all entries looked through, all places folded."""
    chosen = {View.KNOWN: known, View.HAPPENED: happened}[view](entries, at)
    return Picture.of(a_roster(), a_plan(), chosen, heard_by_happening=view is View.HAPPENED)


def brief(picture: Picture, place: str, at: datetime) -> Glance:
    """A place of a picture in brief."""
    now = picture.at(place, at)
    cases = tuple(case.case for case in now.open_cases)
    return Glance(place, now.standing, now.day.opened_at, now.minutes_late, cases)


@settings(max_examples=120, deadline=None)
@given(days(), st.lists(SOME_MOMENTS, min_size=1, max_size=4))
def test_replay_is_the_fold_of_what_was_known_and_of_what_happened_field_by_field(
    entries: list[Entry], moments: list[datetime]
) -> None:
    replay = Replay(a_roster(), a_plan(), entries)
    for at in moments:
        beside = {each.place: each for each in replay.everywhere(at)}
        for view in View:
            picture = folded(entries, at, view)
            for place, state in picture.places.items():
                assert replay.state(place, at, view) == state
                assert getattr(beside[place], view.value) == brief(picture, place, at)


@settings(max_examples=80, deadline=None)
@given(orderly_days(), st.booleans(), st.randoms(use_true_random=False))
def test_an_orderly_day_is_the_fold_at_each_of_its_moments_whatever_was_looked_at_before(
    entries: list[Entry], ahead: bool, chance: Random
) -> None:
    live = Picture.of(a_roster(), a_plan(), entries)
    replay = Replay(a_roster(), a_plan(), entries, live.places)
    if ahead:
        for place in replay.places:
            replay.fold_ahead(place)
    moments = [moment for entry in entries for moment in (entry.happened_at, entry.received_at)]
    chance.shuffle(moments)
    for at in (*moments, after(-70), after(1_100)):
        beside = {each.place: each for each in replay.everywhere(at)}
        for view in View:
            picture = folded(entries, at, view)
            for place in picture.places:
                assert getattr(beside[place], view.value) == brief(picture, place, at), (at, view)


@settings(max_examples=60, deadline=None)
@given(orderly_days(), reports() | corrections(["e1", "e3", "e9"]), st.integers(0, 30))
def test_what_was_folded_ahead_is_dropped_where_more_entries_change_it(
    entries: list[Entry], late: Entry, first: int
) -> None:
    more = [*entries[first:], replace(late, key="late")]
    grown, whole = Replay(a_roster(), a_plan(), entries[:first]), Replay(a_roster(), a_plan(), [*entries, *more])
    for place in grown.places:
        grown.fold_ahead(place)
    grown.add(more)
    for at in {moment for entry in (*entries, *more) for moment in (entry.happened_at, entry.received_at)}:
        assert grown.everywhere(at) == whole.everywhere(at)


def test_a_place_as_folded_elsewhere_is_taken_over_only_where_it_was_folded_from_the_same_entries() -> None:
    opened = a_step("open", after(0), key="opened")
    jam = an_exception("scanner-jam", after(20))
    live = Picture.of(a_roster(), a_plan(), [opened])
    replay = Replay(a_roster(), a_plan(), [opened, jam], live.places)
    assert replay.glance("P014", after(30), View.KNOWN).open_cases == ("P014.scanner-jam",)
    live.add([jam, a_step("closed", after(790))])
    assert replay.glance("P014", after(800), View.KNOWN).standing is Standing.IMPAIRED


def test_what_a_later_count_ended_was_open_before_it_and_what_it_raised_was_not_there() -> None:
    said = [a_count(after(at), device="SC-0141", auxiliary=n) for at, n in ((20, 3), (40, 0), (60, 0), (80, 2))]
    entries = [a_step("open", after(0)), *said]
    replay = Replay(a_roster(), a_plan(), entries, Picture.of(a_roster(), a_plan(), entries).places)
    open_at = {at: len(replay.glance("P014", after(at), View.KNOWN).open_cases) for at in (90, 70, 50, 30, 10)}
    assert open_at == {90: 1, 70: 0, 50: 0, 30: 1, 10: 0}


def test_counts_with_which_nothing_begins_or_ends_are_not_folded_one_by_one() -> None:
    counts = [a_count(after(20 + n), public_counter=n, received_at=after(20.1 + n)) for n in range(40)]
    replay = Replay(a_roster(), a_plan(), [a_step("open", after(0)), *counts])
    days = replay.places["P014"]
    replay.fold_ahead("P014")
    glances = {id(days.brief(number, View.KNOWN)) for number in range(1, 42)}
    assert len(glances) == 1


@settings(max_examples=60, deadline=None)
@given(days(), st.integers(0, 12), st.lists(SOME_MOMENTS, min_size=1, max_size=5))
def test_entries_taken_in_later_come_to_the_same_as_all_at_once(
    entries: list[Entry], first: int, moments: list[datetime]
) -> None:
    grown, whole = Replay(a_roster(), a_plan(), entries[:first]), Replay(a_roster(), a_plan(), entries)
    for at in moments:
        grown.everywhere(at)
    for entry in entries[first:]:
        grown.add([entry])
        grown.everywhere(moments[0])
    for at in moments:
        assert grown.everywhere(at) == whole.everywhere(at)
        assert all(grown.state(p, at, view) == whole.state(p, at, view) for p in grown.places for view in View)


@settings(max_examples=40, deadline=None)
@given(days(), SOME_MOMENTS)
def test_the_whole_picture_at_a_moment_is_the_fold_too(entries: list[Entry], at: datetime) -> None:
    replay = Replay(a_roster(), a_plan(), entries)
    for view in View:
        assert dict(replay.picture(at, view).places) == dict(folded(entries, at, view).places)


def test_a_late_opening_reported_late_is_true_before_it_is_known() -> None:
    opened = a_step("open", after(34), received_at=after(52))
    replay = Replay(a_roster(), a_plan(), [a_step("staffed", after(-40)), opened])
    then = next(each for each in replay.everywhere(after(40)) if each.place == "P014")
    assert (then.known.standing, then.happened.standing) == (Standing.LATE, Standing.OPEN)
    assert (then.known.minutes_late, then.happened.minutes_late) == (40, 34)
    assert then.differs
    assert replay.unlearned("P014", after(40)) == (opened,)
    assert replay.unlearned("P014", after(52)) == ()


def test_what_was_corrected_later_happened_otherwise_than_it_was_known() -> None:
    told = a_step("open", after(0), key="told")
    entries = [told, a_correction(told, after(30), told=True, received_at=after(90))]
    replay = Replay(a_roster(), a_plan(), entries)
    assert replay.glance("P014", after(10), View.KNOWN).opened_at == after(0)
    assert replay.glance("P014", after(10), View.HAPPENED).opened_at is None
    assert replay.glance("P014", after(95), View.KNOWN).opened_at == after(30)


def test_time_alone_makes_a_place_late_between_two_of_its_entries() -> None:
    replay = Replay(a_roster(), a_plan(late_grace=timedelta(minutes=10)), [a_step("staffed", after(-40))])
    standings = [replay.glance("P014", after(at), View.KNOWN).standing for at in (9, 10, 9)]
    assert standings == [Standing.PREPARING, Standing.LATE, Standing.PREPARING]


def test_a_silence_that_the_clock_noticed_ends_when_the_place_was_heard_from_in_each_view() -> None:
    silent = raised("silent", "20261103T111500Z", after(-15))
    spoke = a_count(after(-10), received_at=after(30), public_counter=0)
    replay = Replay(a_roster(), a_plan(), [silent, spoke])
    assert replay.glance("P014", after(0), View.KNOWN).open_cases == ("P014.silent",)
    assert replay.glance("P014", after(0), View.HAPPENED).open_cases == ()


def test_a_silence_goes_on_in_the_view_of_what_happened_where_only_an_older_report_arrived() -> None:
    silent = raised("silent", "20261103T120000Z", after(75))
    older = a_count(after(-10), received_at=after(100), public_counter=0)
    replay = Replay(a_roster(), a_plan(), [silent, older])
    assert replay.glance("P014", after(101), View.KNOWN).open_cases == ()
    assert replay.glance("P014", after(101), View.HAPPENED).open_cases == ("P014.silent",)


def test_a_report_of_the_day_before_that_arrives_today_is_a_sign_of_life_only_to_whoever_knew_it() -> None:
    of_a_training = a_step("staffed", after(-60 * 20), received_at=after(-30))
    replay = Replay(a_roster(), a_plan(), [of_a_training])
    assert replay.glance("P014", after(-20), View.KNOWN).standing is Standing.PREPARING
    assert replay.glance("P014", after(-20), View.HAPPENED).standing is Standing.UNHEARD
