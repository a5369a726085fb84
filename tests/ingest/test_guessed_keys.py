"""Guessed keys are slowed at every door of the endpoint; keys that were right before go on."""

import pytest

from county.guesses import FREE
from tests.ingest.an_office import House, a_report


@pytest.mark.parametrize(
    ("method", "path"),
    [("POST", "/reports"), ("GET", "/picture"), ("GET", "/cases"), ("GET", "/ledger"), ("POST", "/text?key=pr_guess")],
)
def test_after_a_few_wrong_keys_an_address_has_to_wait_and_known_ones_do_not(
    house: House, method: str, path: str
) -> None:
    assert house.get("/picture").status == 200
    assert house.post(a_report()).status == 201
    answers = [house.ask(method, path, b"", f"pr_guess{number}") for number in range(FREE + 1)]
    assert [answer.status for answer in answers] == [401] * FREE + [429]
    assert int(answers[-1].headers["retry-after"]) >= 1
    assert house.get("/picture").status == 200
    assert house.post(a_report(key="zero-2")).status == 201


def test_guesses_at_one_door_count_at_all_others(house: House) -> None:
    for number in range(FREE):
        house.get("/picture", f"pr_guess{number}")
    assert house.ask("POST", "/reports", b"{}", "pr_another").status == 429
    assert house.ask("GET", "/at/P014?k=pr_another").status == 429
    assert house.ask("GET", "/rover/R03?k=pr_another").status == 429
    assert house.ask("GET", "/picture").status == 401, "whoever shows no key guesses none"
