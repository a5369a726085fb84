"""What time alone makes true is written down once, at the moment it became true, by however many clocks."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from county import desk, upkeep
from county.domain.entries import Kind
from county.domain.picture import Picture
from county.domain.roster import Place
from county.following import Following
from county.wiring import Office
from tests.an_office import ROSTER, at, later
from tests.desk.reports import a_report, a_step


def by_clock(office: Office, minutes: float) -> int:
    """What the clock writes when it looks so many minutes after 05:30, knowing all there is to know."""
    following = Following(office)
    following.catch_up()
    moved = later(office, minutes)
    return desk.raise_by_clock(moved, following.picture, moved.clock.now())


def raised(office: Office, exception: str) -> list[dict[str, object]]:
    return [page for page in desk.ledger_pages(office) if page.get("exception") == exception]


def test_a_late_opening_is_raised_at_the_places_own_opening_time(office: Office) -> None:
    desk.keep(office, [a_step("open", "05:59", "P015")])
    by_clock(office, 33)
    [entry] = raised(office, "late-opening")
    assert entry["key"] == "clock/late-opening/P014/open"
    assert (entry["place"], entry["effect"], entry["cause"]) == ("P014", "stopped", "open")
    assert (entry["happened_at"], entry["received_at"]) == ("2026-11-03T12:00:00Z", "2026-11-03T12:03:00Z")
    assert (entry["by"], entry["sender"], entry["door"], entry["clock"]) == ("clock", "clock", "clock", "set")


def test_nothing_is_due_before_its_time(office: Office) -> None:
    assert by_clock(office, 0) == 0


def test_what_is_raised_is_raised_once(office: Office) -> None:
    first = by_clock(office, 33)
    assert first > 0
    assert by_clock(office, 34) == 0
    assert len(raised(office, "late-opening")) == 2


def test_two_clocks_that_know_the_same_write_it_once(office: Office) -> None:
    picture = Picture.of(ROSTER, office.plan, [])
    with ThreadPoolExecutor(4) as clocks:
        written = list(clocks.map(lambda _: desk.raise_by_clock(office, picture, at("06:03")), range(4)))
    assert sorted(written)[:3] == [0, 0, 0]
    assert len({page["key"] for page in desk.ledger_pages(office)}) == desk.last_seq(office)


def test_two_clocks_that_word_it_differently_leave_nothing_for_a_person(office: Office) -> None:
    knows_less = Picture.of(ROSTER, office.plan, [])
    desk.raise_by_clock(office, knows_less, at("06:03"))
    desk.raise_by_clock(office, knows_less, at("06:33"))
    before = desk.last_seq(office)
    knows_more = Picture.of(ROSTER, office.plan, [a_step("zero-report", "05:40", "P014", device="SC-0141")])
    desk.raise_by_clock(office, knows_more, at("06:33"))
    assert desk.set_aside_list(office) == []
    assert desk.last_seq(office) >= before


def test_the_same_trouble_at_many_places_is_raised_once_as_a_case_of_its_own(office: Office) -> None:
    places = tuple(Place(f"P{n:03}", f"Place {n}") for n in range(9))
    jams = [a_report(Kind.EXCEPTION, at("07:00"), f"P00{n}", f"jam-{n}", exception="scanner-jam") for n in range(4)]
    upkeep.load_roster(office, replace(ROSTER, places=(*ROSTER.places, *places)))
    desk.keep(office, jams[:3])
    for minutes in (95, 95.5):
        by_clock(office, minutes)
    [entry] = raised(office, "same-trouble")
    assert (entry["place"], entry["effect"], entry["of"]) == ("P000", "stopped", "scanner-jam")
    assert entry["cases"] == [f"P00{n}.scanner-jam" for n in range(3)]
    assert (entry["happened_at"], entry["by"]) == ("2026-11-03T13:00:00Z", "clock")
    desk.keep(office, jams)
    by_clock(office, 98)
    assert [len(page["cases"]) for page in raised(office, "same-trouble")] == [3, 4]  # type: ignore[arg-type]
    assert desk.set_aside_list(office) == []


def test_the_record_of_a_past_election_is_not_written_to(office: Office) -> None:
    assert by_clock(office, 3 * 24 * 60) == 0
