"""Readiness: each check finds its own case and nothing else, and the sentence says how it stands."""

import pytest

from county.domain.readiness import CHECKS, Weight, sentence, to_do
from tests.domain.readiness_cases import CASES, all_ready

EMPTY_ROSTER = "no-places"


def test_where_everything_is_done_nothing_is_left_to_do() -> None:
    assert to_do(all_ready()) == ()
    assert sentence(()) == "Ready: nothing is left to do."


@pytest.mark.parametrize("id_", CASES)
def test_each_check_finds_its_case_and_no_other_does(id_: str) -> None:
    change, names = CASES[id_]
    things = to_do(change(all_ready()))
    found = {thing.check.id: thing for thing in things}
    assert id_ in found
    assert names in found[id_].found[0]
    assert "{" not in found[id_].says
    # what is missing altogether is also missing elsewhere
    assert len(found) == 1 or id_ in (EMPTY_ROSTER, "no-day", "does-not-fit", "zone-without-rover")


def test_every_check_has_a_case_and_an_id_of_its_own() -> None:
    assert [check.id for check in CHECKS] == list(dict.fromkeys(check.id for check in CHECKS))
    assert {check.id for check in CHECKS} == set(CASES)


def test_the_table_and_so_the_list_begins_with_the_worst() -> None:
    weights = [list(Weight).index(check.weight) for check in CHECKS]
    assert weights == sorted(weights)


@pytest.mark.parametrize(
    ("ids", "says"),
    [
        (["still-a-rehearsal"], "Not ready: 1 thing stops the day."),
        (["still-a-rehearsal", "clock-set", "no-phone", "own-hours"],
         "Not ready: 2 things stop the day, 1 to look at, 1 hint."),
        (["no-phone", "never-rehearsed"], "Ready, with 2 to look at."),
        (["no-phone", "own-hours", "few-ballots"], "Ready, with 1 to look at and 2 hints."),
    ],
)  # fmt: skip
def test_the_sentence_counts_what_stops_the_day_first(ids: list[str], says: str) -> None:
    things = {thing.check.id: thing for id_ in ids for thing in to_do(CASES[id_][0](all_ready()))}
    assert sentence(tuple(things[id_] for id_ in ids)) == says


def test_a_seal_twice_on_the_same_device_is_not_two_devices() -> None:
    ready = all_ready()
    assert "seal-on-two-devices" not in {thing.check.id for thing in to_do(ready)}


def test_one_thing_says_how_many_it_found() -> None:
    change, _ = CASES["no-key"]
    (thing,) = to_do(change(all_ready()))
    assert thing.says == "1 place has no reporting key"
