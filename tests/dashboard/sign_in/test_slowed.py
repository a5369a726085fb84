"""Whoever guesses waits, by name and by address; nobody is kept out for good by somebody else's guessing."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from county import signing_in
from county.errors import Busy
from county.guesses import LONGEST, Guesses
from tests.dashboard.sign_in.a_door import ANN, AtTheDoor, a_door, sent, sign_in

WRONG = "not the password at all"


@pytest.fixture
def door(tmp_path: Path) -> Iterator[AtTheDoor]:
    # time stands still, so that a slow machine does not outlast the waits
    with a_door(tmp_path, lambda: 0.0, PROXIES="127.0.0.1") as at:
        yield at


def try_from(door: AtTheDoor, address: str, name: str, password: str = WRONG) -> int:
    """One try by a browser at this address, as the county's proxy passes it on."""
    browser = door.browser()
    browser.headers["x-forwarded-for"] = address
    return sign_in(browser, name, password).status_code


def test_a_name_is_slowed_after_five_wrong_tries_from_wherever_they_come(door: AtTheDoor) -> None:
    password = door.added()
    assert [try_from(door, f"192.0.2.{n}", ANN.name) for n in range(6)] == [403] * 5 + [429]
    assert try_from(door, "192.0.2.99", "ann  lee", password) == 429
    # what is not tried is not written down, so that a flood fills nothing
    assert len(signing_in.failed_sign_ins(door.office)) == 5


def test_an_address_is_slowed_after_twenty_wrong_tries_under_whatever_names(door: AtTheDoor) -> None:
    password = door.added()
    statuses = [try_from(door, "192.0.2.1", f"somebody {n}") for n in range(21)]
    assert statuses == [403] * 20 + [429]
    assert try_from(door, "192.0.2.1", ANN.name, password) == 429
    assert try_from(door, "192.0.2.2", ANN.name, password) == 303


def test_a_waiting_answer_says_how_long(door: AtTheDoor) -> None:
    for n in range(5):
        try_from(door, f"192.0.2.{n}", ANN.name)
    answer = sign_in(door.browser(), ANN.name, WRONG)
    assert answer.status_code == 429
    assert int(answer.headers["retry-after"]) >= 1
    assert "Too many tries. Try again in" in answer.text


def test_a_person_gets_in_from_their_own_browser_while_somebody_guesses_under_their_name(door: AtTheDoor) -> None:
    password, own = door.added(), door.browser()
    assert sign_in(own, ANN.name, password).status_code == 303
    sent(own, "/sign-out", {})
    for n in range(8):
        try_from(door, f"192.0.2.{n}", ANN.name)
    assert try_from(door, "192.0.2.50", ANN.name, password) == 429
    assert sign_in(own, ANN.name, password).status_code == 303


def test_a_known_browser_is_slowed_for_its_own_wrong_tries(door: AtTheDoor) -> None:
    password, own = door.added(), door.browser()
    sign_in(own, ANN.name, password)
    sent(own, "/sign-out", {})
    assert [sign_in(own, ANN.name, WRONG).status_code for _ in range(6)] == [403] * 5 + [429]


def test_a_browser_that_knows_one_person_is_nobody_special_for_another(door: AtTheDoor) -> None:
    password, own = door.added("Bo Tran"), door.browser()
    sign_in(own, "Bo Tran", password)
    sent(own, "/sign-out", {})
    for n in range(5):
        try_from(door, f"192.0.2.{n}", ANN.name)
    assert sign_in(own, ANN.name, WRONG).status_code == 429


def test_only_the_countys_own_proxy_is_believed_about_whom_it_speaks_for(tmp_path: Path) -> None:
    with a_door(tmp_path) as door:
        try_from(door, "192.0.2.1", ANN.name)
        assert signing_in.failed_sign_ins(door.office)[0].address == "127.0.0.1"


def test_the_wait_grows_to_half_a_minute_and_no_further_and_is_forgotten() -> None:
    now = [0.0]
    guesses = Guesses(free=5, timer=lambda: now[0])
    waits = []
    for _ in range(60):
        try:
            guesses.may_try("ann")
        except Busy as busy:
            waits.append(busy.seconds)
            now[0] += busy.seconds
        guesses.was_wrong("ann")
    assert waits[:6] == [1, 2, 4, 8, 16, 30]
    assert max(waits) == LONGEST
    now[0] += 700
    guesses.may_try("ann")
    guesses.was_wrong("ann")
    guesses.may_try("ann")


def test_a_right_password_ends_the_wait_for_a_name() -> None:
    guesses = Guesses(free=1)
    guesses.was_wrong("ann")
    with pytest.raises(Busy):
        guesses.may_try("ann")
    guesses.was_right("ann")
    guesses.may_try("ann")
