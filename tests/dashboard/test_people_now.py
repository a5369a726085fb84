"""Who is signed in is looked up again every moment, and use is written down now and then."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest
from websockets.sync.client import connect

from county import signing_in, staffing
from county.domain.people import Role
from county.person_facts import REAL
from county.store import sessions
from county.store.engine import reading
from county.wiring import Office
from dashboard import heartbeat
from dashboard.people_now import KNOWN_SECONDS, USED_SECONDS, PeopleNow
from dashboard.sign_in.guard import SESSION_HEADER
from tests.an_office import an_office
from tests.dashboard.a_board import a_feed
from tests.dashboard.signed_in import a_session
from tests.dashboard.test_heartbeat import beat, served


@dataclass
class Timer:
    now: float = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    with an_office(tmp_path) as office:
        yield office


def seen_at(office: Office, mark: str) -> datetime:
    with reading(office.engine) as connection:
        kept = sessions.find(connection, mark)
    assert kept is not None
    return kept.seen_at


def test_an_ended_session_is_known_for_a_moment_and_no_longer(office: Office) -> None:
    timer = Timer()
    now = PeopleNow(office, timer)
    mark = signing_in.mark_of(a_session(office, "Bo Tran", Role.DESK))
    assert now.of(mark) is not None
    staffing.sign_out_everywhere(office, "Bo Tran")
    timer.now += KNOWN_SECONDS - 0.1
    assert now.of(mark) is not None
    timer.now += 0.2
    assert now.of(mark) is None


def test_what_this_process_ended_is_forgotten_at_once(office: Office) -> None:
    now = PeopleNow(office, Timer())
    mark = signing_in.mark_of(a_session(office, "Bo Tran", Role.DESK))
    now.of(mark)
    staffing.sign_out_everywhere(office, "Bo Tran")
    now.forget(mark)
    assert now.of(mark) is None


def test_nobody_is_behind_no_mark_or_one_that_is_no_sessions(office: Office) -> None:
    now = PeopleNow(office, Timer())
    assert now.of("") is None
    assert now.of("0" * 64) is None
    now.used("0" * 64)


def test_use_is_written_down_at_most_twice_a_minute(office: Office) -> None:
    timer = Timer()
    now = PeopleNow(office, timer)
    mark = signing_in.mark_of(a_session(office))
    now.of(mark)
    begun = seen_at(office, mark)
    now.used(mark)
    first = seen_at(office, mark)
    assert first > begun
    timer.now += USED_SECONDS - 1
    now.of(mark)
    now.used(mark)
    assert seen_at(office, mark) == first
    timer.now += 2
    now.of(mark)
    now.used(mark)
    assert seen_at(office, mark) > first


def test_a_page_that_a_person_uses_says_so_over_its_heartbeat(tmp_path: Path) -> None:
    with a_feed(tmp_path) as feed, served(feed) as here:
        mark = signing_in.mark_of(a_session(feed.office))
        feed.people.of(mark)
        before = seen_at(feed.office, mark)
        at = f"ws://{here}{heartbeat.ROUTE}"
        with connect(at, additional_headers={SESSION_HEADER: mark}, proxy=None) as page:
            beat(page)
            assert seen_at(feed.office, mark) == before
            asked = REAL.now()
            page.send("used")
            beat(page)
            beat(page)
        assert seen_at(feed.office, mark) >= asked
