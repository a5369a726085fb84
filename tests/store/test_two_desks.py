"""Six desks send a rover to one case in one moment, on either database: one is sent, five are told who was first."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from county import desk, staffing, upkeep
from county.clock import Clock
from county.domain.cases import State
from county.domain.entries import Kind
from county.domain.people import Person, Role
from county.errors import Overtaken
from county.following import Following
from county.settings import settings_from
from county.store.engine import make_engine
from county.wiring import Office
from tests.an_office import ROSTER, at, the_plan
from tests.desk.reports import a_report

CASE = "P014.scanner-jam.SC-0141"
NAMES = tuple(f"Desk {number}" for number in range(6))


@pytest.fixture
def office(database_url: str, tmp_path: Path) -> Iterator[Office]:
    engine = make_engine(database_url)
    office = Office(settings_from({"POLLRISE_DATA": str(tmp_path)}), Clock(at("05:30"), speed=0), the_plan(), engine)
    upkeep.load_roster(office, ROSTER)
    for name in NAMES:
        staffing.add_person(office, Person(name, Role.DESK))
    desk.keep(office, [a_report(Kind.EXCEPTION, at("05:20"), exception="scanner-jam", device="SC-0141")])
    yield office
    engine.dispose()


def test_one_rover_is_sent_and_the_others_are_told_who_was_first(office: Office) -> None:
    following = Following(office)
    following.catch_up()

    def assign(by: str) -> str:
        raw = {"key": f"{by}-1".replace(" ", "-"), "action": "assign", "rover": "R03", "note": by}
        try:
            return str(desk.act(office, following.picture, CASE, raw, f"board:{by}", by, "board", seen=()).outcome)
        except Overtaken as overtaken:
            return str(overtaken)

    with ThreadPoolExecutor(len(NAMES)) as desks:
        said = list(desks.map(assign, NAMES))
    [winner] = [page["by"] for page in desk.ledger_pages(office) if page["kind"] == "action"]
    assert sorted(said) == sorted(["kept", *[f"meanwhile {winner} acted on this case"] * 5])
    following.catch_up()
    case = following.picture.case(CASE)
    assert case is not None
    assert (case.state, [step.by for step in case.steps]) == (State.ASSIGNED, [winner])
