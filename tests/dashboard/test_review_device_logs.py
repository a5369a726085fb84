"""Devices' logs on the page of review: county-wide and at one place, and nothing of them in the day itself."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

import pytest

from county import device_logs
from county.domain.log_milestones import LogMaps
from county.rehearsal.log_writing import documentation_as_xml, log_as_xml
from dashboard.feed import Feed
from tests.builders import a_full_opening, a_plan, after
from tests.dashboard.a_board import a_feed
from tests.dashboard.test_review_page import a_page, said, sentence
from tests.domain.logs import DOCUMENTATION, IDS, MODEL, a_device, a_log

LOG = a_log(
    a_device(("Z", -16), ("O", 1), ("X9", 5)),
    a_device(("Z", 44), ("O", 61), id="SC-0142"),
    a_device(("O", 0), id="HS-9"),
)


@pytest.fixture
def feed(tmp_path: Path) -> Iterator[Feed]:
    plan = replace(a_plan(), logs=LogMaps(MappingProxyType({MODEL: IDS})))
    with a_feed(tmp_path, a_full_opening("P014"), now=after(120), plan=plan) as feed:
        yield feed


def test_without_logs_it_says_so(feed: Feed) -> None:
    assert "No device's log has been taken in." in said(a_page(part="logs"))


def test_the_county_sees_what_differs_first_and_the_place_sees_its_own(feed: Feed) -> None:
    before = feed.latest
    assert before is not None
    assert a_page(part="logs")  # so that a log taken in later is seen on the same board
    for name, content in (("day.xml", log_as_xml(LOG)), ("ids.xml", documentation_as_xml(DOCUMENTATION, "2026-01-31"))):
        device_logs.take_in(feed.office, name, content, "Ann Lee", "board")
    page = a_page(part="logs")
    assert sentence(page) == "3 devices with a log: 2 claims agree, 2 differ and on 6 the log does not say."
    everything = said(page)
    assert "Zero report and polls opened: differ by about 1 h, the log later; clock not changed?" in everything
    assert "Ids the plan's map does not know: X9" in everything
    assert "not on the roster" in everything
    place = said(a_page(part="place", place="P014"))
    assert "Its devices' own logs" in place
    assert "the log does not say: no closing in the log" in place
    assert "The log's own 3 lines" in place
    assert "not in the plan's map" in place
    assert feed.latest is not None
    assert feed.latest.places == before.places
