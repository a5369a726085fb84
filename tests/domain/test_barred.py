"""Who turned a case down is not suggested for it again, unless that no longer holds."""

import pytest

from county.domain.barred import barred_by_word
from county.domain.entries import Entry
from tests.builders import after, an_action, an_exception
from tests.looking import the_cases

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"


def deed(action: str, minutes: float, **more: object) -> Entry:
    return an_action(NAME, action, after(minutes), **more)


def barred(*deeds: Entry) -> set[tuple[str, str]]:
    return set(barred_by_word(the_cases(JAM, *deeds).values()).cannot)


ASSIGNED = deed("assign", 61, rover="R03")
TURNED_DOWN = deed("cannot", 62, note="flat tyre", rover="R03")


def test_whoever_turned_it_down_is_barred_from_that_case() -> None:
    assert barred(ASSIGNED) == set()
    assert barred(ASSIGNED, TURNED_DOWN) == {(NAME, "R03")}


def test_two_may_turn_it_down() -> None:
    second = [deed("assign", 63, rover="R04"), deed("cannot", 64, note="no spare")]
    assert barred(ASSIGNED, TURNED_DOWN, *second) == {(NAME, "R03"), (NAME, "R04")}


@pytest.mark.parametrize("action", ["assign", "accept", "under-way", "on-site"])
def test_whoever_is_sent_all_the_same_or_takes_it_after_all_is_not_barred(action: str) -> None:
    assert barred(ASSIGNED, TURNED_DOWN, deed(action, 63, rover="R03")) == set()
    assert barred(ASSIGNED, TURNED_DOWN, deed(action, 63, rover="R04")) == {(NAME, "R03")}


def test_a_reopened_case_begins_anew_and_an_ended_one_bars_nobody() -> None:
    ended = [ASSIGNED, TURNED_DOWN, deed("clear", 70)]
    assert barred(*ended) == set()
    assert barred(*ended, deed("reopen", 80)) == set()
