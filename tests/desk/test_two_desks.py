"""Two desks act on one case at once: the second is told what the first did, and writes nothing over their head."""

from itertools import product

import pytest

from county import desk, staffing
from county.domain.entries import Kind
from county.domain.people import Person, Role
from county.domain.picture import Picture
from county.domain.receipts import Outcome
from county.errors import Overtaken
from county.following import Following
from county.wiring import Office
from tests.an_office import at
from tests.desk.reports import a_report

CASE = "P014.scanner-jam.SC-0141"
DEEDS: dict[str, dict[str, object]] = {
    "assign": {"rover": "R03"},
    "clear": {"note": "rollers cleaned"},
    "withdraw": {"note": "wrong place"},
    "effect": {"effect": "stopped", "note": "both scanners"},
    "acknowledge": {},
}


@pytest.fixture
def following(office: Office) -> Following:
    """A reader that knows of one open case: a jam at P014; Ann and Ben are lead of the desk."""
    for name in ("Ann", "Ben"):
        staffing.add_person(office, Person(name, Role.LEAD))
    desk.keep(office, [a_report(Kind.EXCEPTION, at("05:20"), exception="scanner-jam", device="SC-0141")])
    following = Following(office)
    following.catch_up()
    return following


def act(
    office: Office, picture: Picture, by: str, action: str, seen: tuple[str, ...] = (), **more: object
) -> desk.Receipt:
    raw = {"key": f"{by}-{action}", "action": action, **DEEDS.get(action, {}), **more}
    return desk.act(office, picture, CASE, raw, f"board:{by}", by, "board", seen=seen)


def done(office: Office) -> list[tuple[object, object]]:
    return [(page["by"], page["action"]) for page in desk.ledger_pages(office) if page["kind"] == "action"]


@pytest.mark.parametrize(("first", "second"), list(product(DEEDS, DEEDS)))
def test_whatever_the_first_did_the_second_is_told_of_it_and_nothing_is_written(
    office: Office, following: Following, first: str, second: str
) -> None:
    act(office, following.picture, "Ann", first)
    with pytest.raises(Overtaken, match="meanwhile Ann acted on this case") as overtaken:
        act(office, following.picture, "Ben", second)
    assert [(entry.by, entry.text("action")) for entry in overtaken.value.others] == [("Ann", first)]
    assert done(office) == [("Ann", first)]


def test_who_has_seen_it_may_go_on(office: Office, following: Following) -> None:
    act(office, following.picture, "Ann", "assign")
    act(office, following.picture, "Ben", "assign", ("Ann-assign",), rover="R03")
    assert done(office) == [("Ann", "assign"), ("Ben", "assign")]


def test_the_same_click_twice_overtakes_nobody(office: Office, following: Following) -> None:
    assert act(office, following.picture, "Ann", "clear").outcome is Outcome.KEPT
    assert act(office, following.picture, "Ann", "clear").outcome is Outcome.ALREADY_HELD


def test_another_case_of_the_place_is_nobody_s_business(office: Office, following: Following) -> None:
    desk.keep(office, [a_report(Kind.EXCEPTION, at("05:21"), key="r-2", exception="no-power")])
    following.catch_up()
    raw = {"key": "Ben-ack", "action": "acknowledge"}
    desk.act(office, following.picture, "P014.no-power", raw, "board:Ben", "Ben", "board", seen=())
    assert act(office, following.picture, "Ann", "assign").outcome is Outcome.KEPT
