"""A message to places: one entry a place, acknowledged once, whatever the order; whom it is for; what it may say."""

from datetime import timedelta
from itertools import permutations

import pytest

from county.domain.broadcasts import broadcasts, messages_to
from county.domain.entries import Kind, Stamp
from county.domain.intake import content, take
from county.domain.recipients import Choice, recipients
from county.domain.standing import Standing
from county.errors import NotAllowed, Refused
from tests.builders import a_hand, a_message, a_note, a_plan, a_roster, a_seen, a_step, after, before, raw
from tests.looking import a_picture, the_day

LONG = "x" * 2_000


def test_a_message_waits_until_it_is_acknowledged() -> None:
    (waits,) = the_day(a_message(after(5))).messages
    assert (waits.message, waits.text, waits.sent_at, waits.by) == (
        "m-1",
        "Polls stay open until 19:30.",
        after(5),
        "Ann Lee",
    )
    assert waits.seen_at is None
    (seen,) = the_day(a_message(after(5)), a_seen(after(9), key="k-9", role="officer in charge")).messages
    assert (seen.seen_at, seen.seen_role, seen.seen_by) == (after(9), "officer in charge", "P014")
    assert (seen.seen_door, seen.seen_key) == ("endpoint", "k-9")


def test_the_first_of_several_acknowledgements_counts_in_any_order_and_repeated() -> None:
    told = [a_message(after(5)), a_seen(after(9)), a_seen(after(7), role="officer in charge"), a_seen(after(20))]
    days = [the_day(*order, *order[:2]).messages for order in permutations(told)]
    assert set(days) == {days[0]}
    assert (days[0][0].seen_at, days[0][0].seen_role) == (after(7), "officer in charge")


def test_a_phone_whose_clock_is_behind_acknowledges_no_sooner_than_it_was_sent() -> None:
    (seen,) = the_day(a_message(after(5)), a_seen(before(10))).messages
    assert seen.seen_at == after(5)


def test_messages_stand_in_the_order_they_were_sent() -> None:
    told = [a_message(after(9), message="m-3"), a_message(after(3), message="m-2"), a_message(after(5))]
    assert [each.message for each in the_day(*told).messages] == ["m-2", "m-1", "m-3"]
    assert broadcasts([], [a_seen(after(1))]) == ()


def test_acknowledging_is_hearing_from_the_place_and_being_sent_something_is_not() -> None:
    assert the_day(a_message(after(5))).heard == ()
    assert the_day(a_message(after(5)), a_seen(after(9))).heard == (after(9) + timedelta(seconds=3),)


def test_a_message_is_one_entry_a_place_under_keys_no_sender_can_have() -> None:
    hand = a_hand(after(5), door="board")
    sent = messages_to(
        ["P015", "P014", "P015"], "m-7", "  Court order:\nopen until 20:00  ", "two places", hand, a_roster()
    )
    assert [(entry.key, entry.place) for entry in sent] == [("message/m-7/P015", "P015"), ("message/m-7/P014", "P014")]
    assert {entry.kind for entry in sent} == {Kind.MESSAGE}
    assert sent[0].fields == {"message": "m-7", "text": "Court order:\nopen until 20:00", "to": "two places"}
    assert (sent[0].happened_at, sent[0].stamp) == (after(5), Stamp.RECEIVED)


def test_sent_again_a_moment_later_it_is_the_same_message() -> None:
    first, again = (messages_to(["P014"], "m-7", "x", "P014", a_hand(at), a_roster())[0] for at in (after(5), after(6)))
    other = messages_to(["P014"], "m-7", "y", "P014", a_hand(after(5)), a_roster())[0]
    assert content(first) == content(again) != content(other)


@pytest.mark.parametrize(
    ("places", "message", "text", "fields"),
    [
        ([], "m-1", "x", ["places"]),
        (["P014", "P999"], "m-1", "x", ["places"]),
        (["P014"], "m 1", "x", ["key"]),
        (["P014"], "", "x", ["key"]),
        (["P014"], "m-1", "  \n ", ["text"]),
        (["P014"], "m-1", LONG + "y", ["text"]),
        (["P014"], "m-1", "bell \x07", ["text"]),
        (["P014"], "m-1", 7, ["text"]),
        ([], "", "", ["key", "text", "places"]),
    ],
)
def test_what_cannot_be_sent_is_refused_by_field(
    places: list[str], message: str, text: object, fields: list[str]
) -> None:
    with pytest.raises(Refused) as refused:
        messages_to(places, message, text, "", a_hand(), a_roster())
    assert [problem.field for problem in refused.value.problems] == fields


def test_two_thousand_characters_may_be_sent() -> None:
    assert messages_to(["P014"], "m-1", LONG, "", a_hand(), a_roster())[0].text("text") == LONG


def test_an_acknowledgement_is_a_report_like_any_other() -> None:
    said = raw("message-seen", message="m-1", role="officer in charge")
    entry = take(said, a_hand(place_only="P014"), a_roster(), a_plan())
    assert (entry.kind, entry.place, entry.fields) == (
        Kind.MESSAGE_SEEN,
        "P014",
        {"message": "m-1", "role": "officer in charge"},
    )
    with pytest.raises(NotAllowed):
        take(said, a_hand(place_only="P015"), a_roster(), a_plan())


@pytest.mark.parametrize("kind", ["message", "notice", "raised", "roster"])
def test_no_sender_can_send_what_the_office_itself_writes(kind: str) -> None:
    with pytest.raises(Refused) as refused:
        take(raw(kind, message="m-1", text="x"), a_hand(), a_roster(), a_plan())
    assert "kind" in [problem.field for problem in refused.value.problems]


def test_whom_a_message_is_for() -> None:
    heard, opened = a_note(after(1)), a_step("open", after(1), place="P015")
    places = a_picture(heard, opened, roster=a_roster()).everywhere(after(2))
    assert recipients(Choice.EVERY, (), places) == ("P014", "P015", "P016")
    assert recipients(Choice.PLACES, ("P016", "P014"), places) == ("P014", "P016")
    assert recipients(Choice.STANDINGS, (Standing.OPEN,), places) == ("P015",)
    assert recipients(Choice.STANDINGS, ("late", "unheard"), places) == ("P014", "P016")
    assert recipients(Choice.ZONES, ("",), places) == ("P014", "P015", "P016")
    assert recipients(Choice.ZONES, ("north",), places) == ()
