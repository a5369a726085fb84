"""No signal and a dead battery: every entry arrives once, in order, with the time it happened.

Three seeds run here; `python -m tests.bench` runs a hundred.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, sync_playwright

from tests.ingest.officers_page.a_bad_day import DEATHS, STEPS, a_bad_day, faults_of
from tests.ingest.officers_page.a_county import County, a_county


@pytest.fixture(scope="module")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="module")
def today(tmp_path_factory: pytest.TempPathFactory) -> Iterator[County]:
    """A county whose office goes by the real clock, as phones do."""
    with a_county(tmp_path_factory.mktemp("today") / "data", places=3, now="") as county:
        yield county


@pytest.mark.parametrize("seed", [1, 2])
def test_every_entry_arrives_once_in_order_with_the_time_it_happened(
    playwright: Playwright, today: County, tmp_path: Path, seed: int
) -> None:
    place = f"P{13 + seed:03}"
    day = a_bad_day(playwright, today, tmp_path, place, seed)
    assert (len(day.done), day.deaths) == (STEPS, DEATHS)
    assert day.cuts > 0
    assert faults_of(day, today.steps(place)) == []
    assert len(today.told(place)) == STEPS
