"""The Rovers page: its sentence, what each rover does, the suggestions as suggestions, why nobody can go, the map."""

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time

import pytest

from county.domain.dispatch import suggest
from county.domain.entries import Entry
from county.domain.roster import Roster
from dashboard.board_now import Board
from dashboard.rovers import listed, mapped, said
from dashboard.rovers.road import Doing, on_the_road, wanting
from tests.builders import a_plan, after, an_action, an_exception
from tests.dashboard.a_board import a_board
from tests.ingest.rovers_page.a_county import JAM, POWER, ROSTER

JAMMED = an_exception("scanner-jam", after(20), device="SC-0141")
DARK = an_exception("no-power", after(25), place="P015")
ASSIGNED = an_action(JAM, "assign", after(30), rover="R03")
UNDER_WAY = an_action(JAM, "under-way", after(32), rover="R03", expected_at="2026-11-03T12:50:00Z")
ON_SITE = an_action(JAM, "on-site", after(38), rover="R03")
NOW = after(40)


def board(*entries: Entry, roster: Roster = ROSTER, now: datetime = NOW, suggested: bool = True) -> Board:
    """A board with what it suggests."""
    made = a_board(*entries, now=now, roster=roster, plan=a_plan())
    if not suggested:
        return made
    return replace(made, dispatch=suggest(made.every_case, roster, made.plan, made.plan.dispatch, now))


def sentence(*entries: Entry, **more: object) -> str:
    made = board(*entries, **more)  # type: ignore[arg-type]
    return said.sentence(made, on_the_road(made))


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", html))


def names(made: Board) -> Sequence[tuple[str, Doing]]:
    return [(each.rover, each.doing) for each in on_the_road(made)]


def test_the_sentence_says_who_is_free_and_how_many_cases_want_somebody() -> None:
    assert sentence() == "2 rovers: 2 free. No case wants anybody."
    assert sentence(JAMMED) == "2 rovers: 2 free. 1 case wants somebody."
    assert sentence(JAMMED, DARK, ASSIGNED) == "2 rovers: 1 free, 1 assigned. 1 case wants somebody."
    assert sentence(JAMMED, ASSIGNED, UNDER_WAY) == "2 rovers: 1 free, 1 under way. No case wants anybody."
    assert sentence(JAMMED, ASSIGNED, UNDER_WAY, ON_SITE) == "2 rovers: 1 free, 1 on site. No case wants anybody."
    assert sentence(roster=Roster()) == "There is no rover in the roster."


def test_what_wants_no_rover_and_what_endangers_people_is_not_counted() -> None:
    drift, threat = an_exception("drift", after(1)), an_exception("threat", after(1))
    assert wanting(board(drift, threat)) == ()


def test_a_rover_out_of_its_shift_is_not_free() -> None:
    early, late = (
        replace(ROSTER.rovers[0], starts=time(12)),
        replace(ROSTER.rovers[1], starts=time(2), ends=time(6, 30)),
    )
    made = board(roster=replace(ROSTER, rovers=(early, late)))
    assert names(made) == [("R04", Doing.OFF), ("R03", Doing.OFF)]
    assert [said.does(made, each) for each in on_the_road(made)] == ["Shift is over", "Shift begins 12:00"]


def test_who_can_be_sent_comes_first() -> None:
    assert names(board(JAMMED, ASSIGNED, UNDER_WAY)) == [("R04", Doing.FREE), ("R03", Doing.UNDER_WAY)]


def test_what_a_rover_does_is_said_with_place_and_times() -> None:
    going, there = board(JAMMED, ASSIGNED, UNDER_WAY), board(JAMMED, ASSIGNED, UNDER_WAY, ON_SITE)
    assert said.does(going, on_the_road(going)[1]) == (
        "Under way to Mill School, scanner jam, SC-0141, for 8 min, expected 06:50"
    )
    assert said.does(there, on_the_road(there)[1]) == "On site at Mill School, scanner jam, SC-0141, for 2 min"
    assert said.does(there, on_the_road(there)[0]) == "Free, last known at its base"


def test_a_suggestion_is_shown_as_one_and_an_assignment_as_one() -> None:
    html = plain(listed.rover_list(board(JAMMED), on_the_road(board(JAMMED))))
    assert re.search(r"Ana Invented.*suggested Mill School, scanner jam, SC-0141, in \d+ min", html)
    made = board(JAMMED, ASSIGNED)
    assert re.search(r"assigned Mill School, scanner jam", plain(listed.rover_list(made, on_the_road(made))))
    assert "suggested" not in plain(listed.rover_list(made, on_the_road(made)))


def test_what_was_assigned_shows_before_the_next_suggestion_is_worked_out() -> None:
    old = board(JAMMED)
    made = replace(board(JAMMED, ASSIGNED, suggested=False), dispatch=old.dispatch)
    assert names(made)[1] == ("R03", Doing.ASKED)
    assert plain(listed.rover_list(made, on_the_road(made))).count("Mill School") == 1


def test_the_minutes_to_a_stop_go_by_even_before_the_next_suggestion() -> None:
    made = board(JAMMED)
    later = replace(board(JAMMED, now=after(43), suggested=False), dispatch=made.dispatch)
    (soon,), (sooner,) = (each[0].stops for each in (on_the_road(made), on_the_road(later)))
    minutes = [int(said.stop_says(at, soon).split()[-2]) for at in (made, later)]
    assert soon == sooner
    assert minutes[0] - minutes[1] == 3


def test_a_suggestion_that_was_overtaken_is_not_shown() -> None:
    to_another = an_action(JAM, "assign", after(39), rover="R04")
    made = replace(board(JAMMED, to_another, suggested=False), dispatch=board(JAMMED).dispatch)
    by_rover = {each.rover: each for each in on_the_road(made)}
    assert by_rover["R03"].stops == ()
    assert [case.case for case in by_rover["R04"].assigned] == [JAM]
    over = an_action(JAM, "clear", after(39))
    ended = replace(board(JAMMED, over, suggested=False), dispatch=board(JAMMED).dispatch)
    assert all(each.stops == () for each in on_the_road(ended))


def test_a_case_that_wants_somebody_says_whom_the_board_suggests_and_why_or_why_nobody_can_go() -> None:
    nobody = an_exception("pollbook-outage", after(21), place="P015")
    rows = {row.id: row for row in listed.wanting_rows(board(JAMMED, nobody))}
    assert rows[JAM].says.startswith("Suggested: Ana Invented, ")
    assert (rows[JAM].state, rows[JAM].alarm) == ("", False)
    lost = rows["P015.pollbook-outage"]
    assert lost.says == "Nobody: no rover with pollbook skill and a spare pollbook"
    assert (lost.state, lost.alarm) == ("nobody can go", True)


def test_before_anything_is_worked_out_nothing_is_claimed() -> None:
    made = board(JAMMED, suggested=False)
    assert [row.says for row in listed.wanting_rows(made)] == ["Being worked out"]
    assert "suggested" not in plain(listed.rover_list(made, on_the_road(made)))


def test_more_cases_than_are_shown_are_said_to_be_more() -> None:
    many = [an_exception("other", after(n / 10), device=f"X-{n}") for n in range(25)]
    made = board(*many)
    assert len(listed.wanting_rows(made)) == listed.SHOWN_WANTING
    assert listed.not_shown(made) == "The 20 worst are shown; 5 more cases: see Exceptions."
    assert listed.not_shown(board(JAMMED)) == ""


def test_the_map_has_rovers_places_and_the_ways_between() -> None:
    made = board(JAMMED, DARK, ASSIGNED, UNDER_WAY)
    drawn = mapped.map_of_rovers(made, on_the_road(made))
    places, ways = drawn["places"], drawn["ways"]
    assert isinstance(places, list)
    assert [row[0] for row in places if str(row[4]).startswith("rover")] == ["R04", "R03"]
    assert {row[0] for row in places if not str(row[4]).startswith("rover")} == {"P014", "P015"}
    assert isinstance(ways, list)
    assert [-99.72, 41.91, -99.70, 41.90, "gone"] in ways
    assert drawn["label"] == ("Map of 2 rovers and 2 places with rovers to come; the list beside it says the same.")


def test_rovers_whom_the_map_cannot_show_are_named() -> None:
    nowhere = replace(ROSTER.rovers[0], latitude=None, longitude=None)
    made = board(roster=replace(ROSTER, rovers=(nowhere,)))
    assert "Ana Invented" in mapped.not_on_the_map(on_the_road(made))
    assert mapped.map_of_rovers(made, on_the_road(made))["places"] == []


@pytest.mark.parametrize("evil", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>'])
def test_names_are_text(evil: str) -> None:
    rover = replace(ROSTER.rovers[0], name=evil, phone=evil, carries=(evil,))
    made = board(JAMMED, roster=replace(ROSTER, rovers=(rover,)))
    html = listed.rover_list(made, on_the_road(made))
    assert "<script" not in html
    assert "<img" not in html


def test_a_case_is_reached_by_its_address() -> None:
    made = board(JAMMED, DARK, ASSIGNED, an_action(POWER, "on-site", after(38), rover="R04", place="P015"))
    html = listed.rover_list(made, on_the_road(made))
    assert f'href="exceptions?case={JAM}"' in html
    assert f'href="exceptions?case={POWER}"' in html
