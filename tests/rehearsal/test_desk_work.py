"""The made-up desk works cases as people would: in order, not before they were raised, and nobody else's."""

from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import httpx
import pytest

from county.domain.cases import Case, State
from county.domain.dispatch_settings import DispatchSettings
from county.rehearsal.desk_work import Desk
from tests.an_office import ROSTER, set_up
from tests.builders import clock
from tests.ingest.an_office import House, a_report, answering

TROUBLES = (
    "scanner-jam",
    "scanner-fault",
    "no-power",
    "pollbook-outage",
    "ballots-short",
    "long-line",
    "officers-short",
)


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    """The endpoint at 11:00, with troubles of the morning reported by P014."""
    office = set_up(tmp_path / "data", "2026-11-03T11:00:00-06:00x0")
    with answering(office) as house:
        for number, trouble in enumerate(TROUBLES):
            happened = {"happened_at": f"2026-11-03T06:{10 + number}:00-06:00", "kind": "exception"}
            raw = {"key": f"t-{number}", "place": "P014", "exception": trouble, **happened}
            assert house.post(raw).status == 201
        assert house.post(a_report(public_counter=3)).status == 201
        yield house


def worked(house: House, share: float) -> tuple[int, tuple[Case, ...]]:
    """What the desk did in a morning, minute by minute: how many actions were taken, and the cases afterwards."""
    with closing(httpx.Client(base_url=f"http://127.0.0.1:{house.port}", trust_env=False)) as client:
        desk = Desk(ROSTER.rovers, DispatchSettings(), share).begin(client, house.desk_key, "run")
        for minute in range(300):
            desk.look(clock("06:00") + timedelta(minutes=minute))
    house.following.catch_up()
    return desk.done, house.following.picture.cases()


def test_cases_are_worked_in_order_and_nothing_is_refused(house: House) -> None:
    done, cases = worked(house, 1.0)
    assert done > len(TROUBLES)
    assert [str(problem) for item in house.aside() for problem in item.problems] == []
    assert sum(case.state is State.CLEARED for case in cases) >= 3
    assert any(case.on_site_at and case.rover == "R03" for case in cases)
    for case in cases:
        reached = (case.raised_at, case.acknowledged_at, case.assigned_at, case.under_way_at, case.on_site_at)
        times = [moment for moment in (*reached, case.cleared_at) if moment]
        assert times == sorted(times)


def test_a_rover_is_at_one_case_at_a_time(house: House) -> None:
    _, cases = worked(house, 1.0)
    there = sorted((c.under_way_at, c.cleared_at) for c in cases if c.rover and c.under_way_at and c.cleared_at)
    assert len(there) > 1
    assert all(earlier[1] <= later[0] for earlier, later in pairwise(there))


def test_what_is_not_its_share_is_left_alone(house: House) -> None:
    done, cases = worked(house, 0.0)
    assert done == 0
    assert {case.state for case in cases} == {State.RAISED}
