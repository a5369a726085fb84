"""What people do with cases becomes entries; what cannot be understood is refused field by field."""

import pytest

from county import desk, staffing
from county.domain.cases import State
from county.domain.entries import Kind
from county.domain.intake import Hand
from county.domain.people import Person, Role
from county.domain.picture import Picture
from county.domain.receipts import Outcome
from county.errors import NotAllowed, NotFound, Refused
from county.following import Following
from county.wiring import Office
from tests.an_office import at
from tests.desk.reports import a_report

CASE = "P014.scanner-jam.SC-0141"


@pytest.fixture
def following(office: Office) -> Following:
    """A reader that knows of one open case: a jam at P014."""
    staffing.add_person(office, Person("Ann", Role.DESK))
    jam = a_report(Kind.EXCEPTION, at("05:20"), exception="scanner-jam", device="SC-0141")
    desk.keep(office, [jam])
    following = Following(office)
    following.catch_up()
    return following


def act(office: Office, picture: Picture, key: str = "a-1", case: str = CASE, **raw: object) -> desk.Receipt:
    return desk.act(office, picture, case, {"key": key, **raw}, "board:Ann", "Ann", "board")


def test_a_case_goes_its_way_by_what_people_do(office: Office, following: Following) -> None:
    for n, (action, more, state) in enumerate(
        (
            ("acknowledge", {}, State.ACKNOWLEDGED),
            ("assign", {"rover": "R03", "note": "bring a scanner"}, State.ASSIGNED),
            ("under-way", {}, State.UNDER_WAY),
            ("on-site", {"happened_at": "2026-11-03T05:29:00-06:00"}, State.ON_SITE),
            ("clear", {"note": "rollers cleaned"}, State.CLEARED),
            ("reopen", {}, State.RAISED),
        )
    ):
        assert act(office, following.picture, f"a-{n}", action=action, **more).outcome is Outcome.KEPT
        assert following.catch_up() == {"P014"}
        case = following.picture.case(CASE)
        assert case is not None
        assert case.state is state


def test_an_action_is_an_entry_with_who_and_when(office: Office, following: Following) -> None:
    act(office, following.picture, action="assign", rover="R03", note="go", happened_at="2026-11-03T05:25:00-06:00")
    page = desk.ledger_pages(office)[-1]
    told = {name: page[name] for name in ("kind", "place", "case", "action", "rover", "note", "by", "door", "sender")}
    assert told == {
        "kind": "action",
        "place": "P014",
        "case": CASE,
        "action": "assign",
        "rover": "R03",
        "note": "go",
        "by": "Ann",
        "door": "board",
        "sender": "board:Ann",
    }
    assert (page["happened_at"], page["received_at"], page["clock"]) == (
        "2026-11-03T11:25:00Z",
        "2026-11-03T11:30:00Z",
        "set",
    )


def test_the_same_action_twice_is_done_once(office: Office, following: Following) -> None:
    receipts = [act(office, following.picture, action="acknowledge") for _ in range(2)]
    assert [receipt.outcome for receipt in receipts] == [Outcome.KEPT, Outcome.ALREADY_HELD]


def test_a_case_that_is_not_there_is_not_found(office: Office, following: Following) -> None:
    for case in ("P014.scanner-jam", "P015.scanner-jam.SC-0141", "P999.x", "", "\0"):
        with pytest.raises(NotFound):
            act(office, following.picture, case=case, action="acknowledge")


def test_a_places_key_acts_on_its_own_cases_only(following: Following) -> None:
    hand = Hand("place:P015", "P015", "endpoint", at("05:30"), place_only="P015")
    with pytest.raises(NotAllowed, match="P015, not for P014"):
        desk.read_action(following.picture, CASE, {"key": "k", "action": "acknowledge"}, hand)


@pytest.mark.parametrize(
    ("raw", "fields"),
    [
        ({"action": "explode"}, ["action"]),
        ({}, ["action"]),
        ({"action": ["clear"]}, ["action"]),
        ({"action": "assign"}, ["rover"]),
        ({"action": "assign", "rover": "R99"}, ["rover"]),
        ({"action": "assign", "rover": 3.5}, ["rover"]),
        ({"action": "clear", "rover": "R03"}, ["rover"]),
        ({"action": "effect"}, ["effect"]),
        ({"action": "effect", "effect": "terrible"}, ["effect"]),
        ({"action": "clear", "effect": "record"}, ["effect"]),
        ({"action": "note"}, ["note"]),
        ({"action": "note", "note": "x" * 2_001}, ["note"]),
        ({"action": "note", "note": "nul \0"}, ["note"]),
        ({"action": "clear", "colour": "red"}, ["colour"]),
        ({"action": "clear", "happened_at": "yesterday"}, ["happened_at"]),
        ({"action": "clear", "key": "no spaces allowed"}, ["key"]),
        ({"action": "clear", "key": None}, ["key"]),
        ({"action": "explode", "key": "", "rover": "R99", "what": 1}, ["key", "action", "rover", "what"]),
    ],
    ids=str,
)
def test_what_cannot_be_understood_is_refused_by_field(
    office: Office, following: Following, raw: dict[str, object], fields: list[str]
) -> None:
    before = desk.last_seq(office)
    with pytest.raises(Refused) as refused:
        desk.act(office, following.picture, CASE, {"key": "a-1"} | raw, "board:Ann", "Ann", "board")
    assert [problem.field for problem in refused.value.problems] == fields
    assert desk.last_seq(office) == before


@pytest.mark.parametrize("raw", [None, [], "clear", 7, {1: "clear"}], ids=str)
def test_what_is_no_object_is_refused(office: Office, following: Following, raw: object) -> None:
    with pytest.raises(Refused, match="one object"):
        desk.act(office, following.picture, CASE, raw, "board:Ann", "Ann", "board")
