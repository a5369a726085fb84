"""The office sends a message: to every place at once or to none, once, and durable."""

import pytest

from county import desk
from county.desk import ledger_pages
from county.domain.effects import Effect
from county.domain.intake import Hand, take
from county.domain.people import Person, Role
from county.domain.receipts import Outcome, Receipt
from county.errors import NotAllowed, Refused
from county.following import Following
from county.messaging import send
from county.staffing import add_person
from county.wiring import Office
from tests.an_office import ROSTER, later
from tests.builders import a_hand, raw


@pytest.fixture(autouse=True)
def _people(office: Office) -> None:
    for name, role in (("Ann", Role.LEAD), ("Bo", Role.DESK), ("Vi", Role.VIEWER)):
        add_person(office, Person(name, role), must_change=False)


def sent(
    office: Office, *places: str, message: str = "m-1", text: str = "Open until 19:30", by: str = "Ann"
) -> list[Receipt]:
    hand = Hand(f"board:{by}", by, "board", office.clock.now(), office.clock.word)
    return send(office, ROSTER, message, text, "chosen places", places, hand)


def kept(office: Office) -> list[dict[str, object]]:
    return [entry for entry in ledger_pages(office) if entry["kind"] == "message"]


def test_one_entry_a_place_with_who_sent_it(office: Office) -> None:
    assert [receipt.outcome for receipt in sent(office, "P014", "P015")] == [Outcome.KEPT, Outcome.KEPT]
    assert [(e["place"], e["message"], e["text"], e["by"], e["door"]) for e in kept(office)] == [
        ("P014", "m-1", "Open until 19:30", "Ann", "board"),
        ("P015", "m-1", "Open until 19:30", "Ann", "board"),
    ]


def test_sent_twice_it_is_one_message_also_later_and_by_another(office: Office) -> None:
    sent(office, "P014")
    assert [each.outcome for each in sent(later(office, 3), "P014", by="Bo")] == [Outcome.ALREADY_HELD]
    assert [each.outcome for each in sent(later(office, 4), "P014", "P015")] == [Outcome.ALREADY_HELD, Outcome.KEPT]
    assert [(entry["place"], entry["by"]) for entry in kept(office)] == [("P014", "Ann"), ("P015", "Ann")]


def test_under_an_id_that_stands_for_another_text_nothing_is_sent(office: Office) -> None:
    sent(office, "P015")
    with pytest.raises(Refused, match="nothing was sent"):
        sent(office, "P014", "P015", text="Open until 20:00")
    assert [entry["place"] for entry in kept(office)] == ["P015"]


def test_what_nobody_acknowledges_becomes_a_case_of_each_place_and_ends_with_the_acknowledgement(
    office: Office,
) -> None:
    sent(office, "P014", "P015")
    following = Following(office)
    following.catch_up()
    seen_at = later(office, 12)
    desk.keep(seen_at, [take(raw("message-seen", message="m-1"), a_hand(seen_at.clock.now()), ROSTER, office.plan)])
    following.catch_up()
    now = later(office, 40).clock.now()
    desk.raise_by_clock(office, following.picture, now)
    following.catch_up()
    cases = {case.case: case for case in following.picture.cases() if case.exception == "message-unseen"}
    assert list(cases) == ["P015.message-unseen"]
    assert cases["P015.message-unseen"].effect is Effect.AT_RISK
    desk.keep(
        office, [take(raw("message-seen", message="m-1", place="P015", key="k-2"), a_hand(now), ROSTER, office.plan)]
    )
    following.catch_up()
    ended = following.picture.case("P015.message-unseen")
    assert ended
    assert ended.cleared_says == "the facts: the place acknowledged it"


def test_whoever_may_not_send_messages_sends_none(office: Office) -> None:
    for by in ("Vi", "Nobody"):
        with pytest.raises(NotAllowed):
            sent(office, "P014", by=by)
    assert kept(office) == []


def test_where_one_place_is_unknown_nothing_is_sent(office: Office) -> None:
    with pytest.raises(Refused):
        sent(office, "P014", "P999")
    assert kept(office) == []


def test_every_process_that_follows_sees_it_wait(office: Office) -> None:
    following = Following(office)
    following.catch_up()
    sent(office, "P014")
    assert following.catch_up() == {"P014"}
    (waits,) = following.picture.places["P014"].day.messages
    assert (waits.text, waits.seen_at) == ("Open until 19:30", None)
    assert following.last_received_at is None, "what the office writes is no report"
