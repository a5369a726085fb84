"""What the public reads: no name, no telephone number, nothing by which a guess could be confirmed; the same day."""

import hashlib
import json
import re
from dataclasses import replace
from types import MappingProxyType

import pytest
from hypothesis import given, settings

from county.domain.entries import Entry, Kind
from county.domain.picture import Picture
from county.pack.ledger_file import ledger_file
from county.pack.names import Names, names_of
from county.pack.public_copy import public_copy, public_plan_text
from county.pack.record import Choice
from tests.builders import a_note, a_plan, a_roster, after
from tests.days import days
from tests.pack.a_record import ADA, BO, PHONE, a_day, a_record, kept, the_plan, the_roster

PERSONAL = re.compile(r"\b(ada|rill|bo|tarn|odessa|marl|mailto)\b|555[ -]01|@example", re.IGNORECASE)


def everything_shown(choice: Choice) -> str:
    record = a_record(choice)
    return "\n".join(
        [
            ledger_file(record).text,
            record.plan_text,
            repr(record.plan),
            repr(record.roster),
            repr(record.picture.cases()),
        ]
    )


@pytest.mark.parametrize("choice", [Choice(), Choice(notes=False)], ids=["notes", "no notes"])
def test_no_name_no_telephone_number_and_no_address_is_left(choice: Choice) -> None:
    assert PERSONAL.findall(everything_shown(choice)) == []


def test_with_names_they_stand() -> None:
    shown = everything_shown(Choice(names=True))
    assert all(word in shown for word in (ADA, BO, "Odessa Marl", PHONE))
    assert PERSONAL.search(shown)


def test_who_did_it_stays_one_person_and_a_rover_goes_by_its_number() -> None:
    record = a_record()
    acted = {entry.by for entry in record.entries if entry.kind is Kind.ACTION}
    assert acted == {"person 2"}
    assert {entry.sender for entry in record.entries if entry.kind is Kind.ACTION} == {"board:person 2"}
    note = next(entry.text("note") for entry in record.entries if "has gone" in entry.text("note"))
    assert note == "R03 has gone; call person 2 at [telephone number] or [address]"


def test_a_name_goes_from_the_sender_too_whatever_the_door() -> None:
    entry = a_note(by=ADA, sender=f"log-drop:{ADA}")
    (copied,) = public_copy((entry,), names_of((entry,), a_roster(), a_plan()))
    assert (copied.entry.by, copied.entry.sender) == ("person 1", "log-drop:person 1")
    assert copied.replaced == ("by", "sender")


def test_places_and_the_office_itself_are_no_names() -> None:
    record = a_record()
    assert {entry.by for entry in record.entries if entry.kind is Kind.STEP} >= {"P014", "P015"}
    assert record.roster.place_by_id["P014"].name == "Mill Creek School"


def test_a_part_of_a_name_that_is_a_word_of_a_place_stays() -> None:
    roster = a_roster()
    entries = (a_note(by="Rosa Creek", sender="desk:Rosa Creek"),)
    names = names_of(entries, roster, a_plan())
    assert names.left_out_of("Creek Road; Rosa said so; rosa creek") == "Creek Road; person 1 said so; person 1"


@pytest.mark.parametrize(
    "text", ["seal 682189, 48,210 counted", "2026-11-03T12:04:05Z", "SC-0141", "1000-2000", "0601"]
)
def test_counters_seals_and_times_are_no_telephone_numbers(text: str) -> None:
    assert Names({}).left_out_of(text) == text


@pytest.mark.parametrize("text", ["555-0143", "(608) 555-0143", "608.555.0143", "+1 608 555 0143", "call 555 0143."])
def test_a_telephone_number_is_found_however_it_is_written(text: str) -> None:
    assert "[telephone number]" in Names({}).left_out_of(text)
    assert "0143" not in Names({}).left_out_of(text)


def test_no_digest_and_no_key_is_left_by_which_a_guessed_name_could_be_confirmed() -> None:
    record, shown = a_record(), ledger_file(a_record()).text
    assert not [digest for digest in record.digests if digest in shown]
    made_of_names = {entry.key for entry in a_day() if entry.key.startswith(("notice/", "row-", "text-"))}
    assert made_of_names
    assert not [key for key in made_of_names if key in shown]
    assert not [entry.text("notice") for entry in a_day() if entry.text("notice") and entry.text("notice") in shown]


def test_each_line_says_what_was_replaced_in_it_and_nothing_else_differs() -> None:
    public, full = (map(json.loads, ledger_file(a_record(choice)).lines) for choice in (Choice(), Choice(names=True)))
    for ours, theirs in zip(public, full, strict=True):
        differ = {name for name in theirs if name not in ("previous", "digest") and ours[name] != theirs[name]}
        assert differ == set(ours.get("replaced", ()))


def test_without_notes_whatever_was_written_freely_is_left_out() -> None:
    record = a_record(Choice(notes=False))
    assert {entry.text("note") for entry in record.entries} == {"", "[note left out]"}


def test_a_plans_people_are_left_out_of_its_text() -> None:
    text = public_plan_text(kept(a_day()).plan_text, names_of(a_day(), the_roster(), the_plan()))
    assert text == (
        '[election]\nname = "x"\n\n# a person is left out of this copy\n[limits]\ncopies = 3  # as person 2 asked\n'
    )


@given(days())
@settings(max_examples=60, deadline=None)
def test_the_copy_folds_to_the_same_day(entries: list[Entry]) -> None:
    told = [hashed(entry, n) for n, entry in enumerate(entries)]
    roster, plan = a_roster(), a_plan()
    copied = [each.entry for each in public_copy(told, names_of(told, roster, plan))]
    ours, theirs = (Picture.of(roster, plan, some) for some in (copied, told))
    for place, state in theirs.places.items():
        mine = ours.places[place]
        assert (mine.day.done, mine.day.heard) == (state.day.done, state.day.heard)
        assert [(c.case, c.state, c.effect, c.raised_at, c.ended_at) for c in mine.cases] == [
            (c.case, c.state, c.effect, c.raised_at, c.ended_at) for c in state.cases
        ]
        assert ours.at(place, after(900)).lost_minutes == theirs.at(place, after(900)).lost_minutes


def hashed(entry: Entry, number: int) -> Entry:
    """The entry under a key made of words, as the drop folder and the text line make them."""

    def renamed(key: str) -> str:
        return (
            f"{('row-', 'text-')[len(key) % 2]}{hashlib.sha256(key.encode()).hexdigest()[:32]}"
            if key[1:].isdigit()
            else key
        )

    fields = {name: renamed(v) if name == "corrects" and isinstance(v, str) else v for name, v in entry.fields.items()}
    return replace(entry, key=renamed(entry.key), seq=number + 1, fields=MappingProxyType(fields))
