"""A raw report becomes an entry, or every reason why not: the contract's table of fields, kind by kind."""

from collections.abc import Mapping
from types import MappingProxyType

import pytest

from county.domain.entries import FIELDS, REPORT_KINDS, Entry, Kind
from county.domain.intake import take
from county.errors import NotAllowed, Problem, Refused
from tests.builders import OPENS, a_hand, a_plan, a_roster, raw

STEP, COUNT, EXCEPTION, INTERRUPTION, NOTE, MESSAGE_SEEN, CORRECTION = REPORT_KINDS
EVERY_NUMBER = ("check_ins", "in_line", "ballots_left", "spoiled", "provisional", "challenged", "auxiliary")

# the table of fields as programs outside rely on it, typed again: field to kinds
CONTRACT: Mapping[str, tuple[Kind, ...]] = MappingProxyType(
    {
        "step": (STEP,),
        "seal_position": (STEP,),
        "seal_number": (STEP,),
        "seal_intact": (STEP,),
        "public_counter": (STEP, COUNT),
        "protective_counter": (STEP, COUNT),
        "copies": (STEP,),
        "signers": (STEP,),
        "officers_present": (STEP,),
        "route_inches": (STEP,),
        "shown_date": (STEP,),
        "shown_precincts": (STEP,),
        **dict.fromkeys(EVERY_NUMBER, (COUNT, STEP)),
        "ballots_delivered": (COUNT, STEP),
        "exception": (EXCEPTION, INTERRUPTION),
        "effect": (EXCEPTION, INTERRUPTION),
        "since": (EXCEPTION, INTERRUPTION),
        "voters_left": (EXCEPTION, INTERRUPTION),
        "fallback": (EXCEPTION, INTERRUPTION),
        "ends": (INTERRUPTION,),
        "corrects": (CORRECTION,),
        "reason": (CORRECTION,),
        "note": REPORT_KINDS,
    }
)
GOOD: Mapping[str, object] = MappingProxyType(
    {
        "step": "zero-report",
        "device": "SC-0141",
        "seal_position": "front",
        "seal_number": "A100",
        "seal_intact": True,
        "copies": 3,
        "signers": 2,
        "officers_present": 4,
        "route_inches": 36,
        "door_inches": 32,
        "shown_date": "11/03/2026",
        "shown_precincts": ["14A", "14B"],
        "public_counter": 0,
        "protective_counter": 48_210,
        "ballots_delivered": 1_000,
        **dict.fromkeys(EVERY_NUMBER, 7),
        "exception": "scanner-jam",
        "effect": "impaired",
        "since": "2026-11-03T05:50:00-06:00",
        "voters_left": 3,
        "fallback": "auxiliary compartment",
        "ends": True,
        "message": "m-1",
        "role": "officer in charge",
        "corrects": "k-0",
        "reason": "misread",
        "note": "tape reprinted",
    }
)
NEEDED: Mapping[Kind, tuple[str, ...]] = MappingProxyType(
    {
        STEP: ("step",),
        COUNT: ("in_line",),
        EXCEPTION: ("exception",),
        INTERRUPTION: ("effect",),
        NOTE: ("note",),
        MESSAGE_SEEN: ("message",),
        CORRECTION: ("corrects", "copies"),
    }
)


def taken(report: object, **hand: object) -> Entry:
    return take(report, a_hand(**hand), a_roster(), a_plan())  # type: ignore[arg-type]


def problems(report: object, **hand: object) -> list[Problem]:
    with pytest.raises(Refused) as refused:
        taken(report, **hand)
    return list(refused.value.problems)


def fields(report: object) -> list[str]:
    return [problem.field for problem in problems(report)]


def a(kind: Kind, *names: str, **more: object) -> dict[str, object]:
    """A good report of a kind with what it needs and these fields, seals and protective counters with their device."""
    named = {*NEEDED[kind], *names}
    if kind is STEP and named & {"seal_position", "seal_number", "seal_intact", "protective_counter"}:
        named.add("device")
    return raw(kind, **{name: GOOD[name] for name in sorted(named)}, **more)


@pytest.mark.parametrize(("name", "kind"), [(name, kind) for name, kinds in CONTRACT.items() for kind in kinds])
def test_each_field_is_accepted_in_its_kinds(name: str, kind: Kind) -> None:
    entry = taken(a(kind, name))
    said = GOOD[name]
    wanted = "2026-11-03T11:50:00Z" if name == "since" else tuple(said) if isinstance(said, list) else said
    assert entry.fields[name] == wanted


@pytest.mark.parametrize(
    ("name", "kind"),
    [(n, kind) for n, kinds in CONTRACT.items() for kind in REPORT_KINDS if kind not in (*kinds, CORRECTION)],
)
def test_each_field_is_refused_by_name_in_every_other_kind(name: str, kind: Kind) -> None:
    assert problems(a(kind, name)) == [Problem(name, f"does not belong to a report of kind {kind}")]


@pytest.mark.parametrize("name", sorted(CONTRACT.keys() - {"ends", "reason", "withdraw", "corrects"}))
def test_a_correction_may_carry_any_field(name: str) -> None:
    assert name in taken(a(CORRECTION, name)).fields


def test_a_withdrawal_is_a_correction_that_says_so() -> None:
    assert taken(raw("correction", corrects="k-0", withdraw=True)).fields == {"corrects": "k-0", "withdraw": True}


def test_the_table_of_fields_holds_the_contracts_and_what_the_project_added() -> None:
    added = {"device", "door_inches", "withdraw", "message", "role", "item", "items", "items_missing", "roles"}
    assert FIELDS.keys() - CONTRACT.keys() == added
    assert CONTRACT.keys() <= FIELDS.keys()


def test_no_field_can_hold_a_vote() -> None:
    words = {part for name in FIELDS for part in name.split("_")}
    assert words.isdisjoint({"vote", "votes", "candidate", "contest", "question", "party", "voter", "tally", "result"})
    assert not FIELDS["voters_left"].shape.startswith("word"), "voters are counted, not named"


@pytest.mark.parametrize("kind", REPORT_KINDS)
def test_an_unknown_field_is_refused_by_name(kind: Kind) -> None:
    assert problems(a(kind, public_countr=4)) == [Problem("public_countr", "no such field")]


@pytest.mark.parametrize("name", ["happenedat", "Key", "sender", "received_at", "seq", "case", "votes", "x" * 500])
def test_what_the_office_itself_adds_is_no_field_of_a_report(name: str) -> None:
    assert fields(a(NOTE, **{name: "x"})) == [name[:64]]


@pytest.mark.parametrize(
    ("kind", "missing", "field"),
    [
        (STEP, "step", "step"),
        (COUNT, "in_line", "kind"),
        (EXCEPTION, "exception", "exception"),
        (INTERRUPTION, "effect", "effect"),
        (NOTE, "note", "note"),
        (MESSAGE_SEEN, "message", "message"),
        (CORRECTION, "corrects", "corrects"),
        (CORRECTION, "copies", "corrects"),
    ],
)
def test_each_kind_says_what_it_needs(kind: Kind, missing: str, field: str) -> None:
    report = a(kind)
    del report[missing]
    assert fields(report) == [field]


@pytest.mark.parametrize("missing", ["key", "kind", "place"])
def test_every_report_needs_key_kind_and_place(missing: str) -> None:
    assert fields(raw("note", note="x") | {missing: None}) == [missing]


def test_everything_wrong_is_said_at_once() -> None:
    report = {"key": "a b", "place": "P014", "kind": "step", "copies": -1, "typo": 1, "happened_at": "noon"}
    assert sorted(fields(report)) == ["copies", "happened_at", "key", "step", "typo"]


def test_a_field_that_cannot_be_read_is_not_also_called_missing() -> None:
    assert fields(raw("count", in_line="many")) == ["in_line"]
    assert fields(raw("note", note=["x"])) == ["note"]
    assert fields(raw("step", step="zero-report", device=[], seal_number="A100")) == ["device"]


@pytest.mark.parametrize("blank", [None, "", " ", "\t\n"])
def test_a_blank_field_is_a_field_not_given(blank: object) -> None:
    assert taken(raw("note", note="x") | {"copies": blank, "no_such": blank}).fields == {"note": "x"}
    assert fields(raw("note") | {"note": blank}) == ["note"]


@pytest.mark.parametrize("key", ["a", "A" * 64, "8d0c.f_1:2-3", "0"])
def test_a_key_of_its_letters_is_accepted(key: str) -> None:
    assert taken(raw("note", note="x", key=key)).key == key


@pytest.mark.parametrize("key", ["A" * 65, "a b", "a/b", "é", "a\n", "١", 5, True, ["k"], {"k": 1}, "k\x00"])
def test_any_other_key_is_refused(key: object) -> None:
    assert fields(raw("note", note="x", key=key)) == ["key"]


@pytest.mark.parametrize("kind", ["action", "raised", "roster", "Step", "votes", "", 5, ["step"], {"step": 1}])
def test_only_the_six_kinds_of_report_are_accepted(kind: object) -> None:
    assert "kind" in fields({"key": "k", "place": "P014", "kind": kind, "note": "x"})


def test_the_precinct_that_votes_there_stands_for_its_place() -> None:
    assert taken(raw("note", note="x", place="14B")).place == "P014"


@pytest.mark.parametrize("place", ["P999", "p014", "", "14C", 14, True, ["P014"], "P014\x00"])
def test_an_unknown_place_is_refused_by_name(place: object) -> None:
    assert fields({"key": "k", "place": place, "kind": "note", "note": "x"}) == ["place"]


def test_a_places_key_reports_for_that_place_alone() -> None:
    assert taken(raw("note", note="x", place="14A"), place_only="P014").place == "P014"
    with pytest.raises(NotAllowed, match="this key reports for P015, not for P014"):
        taken(raw("note", note="x"), place_only="P015")


@pytest.mark.parametrize("report", [None, 5, "text", ["key"], [("key", "k")], {1: 2}, {"key": "k", None: 1}])
def test_what_is_no_object_of_named_fields_is_refused(report: object) -> None:
    assert fields(report) == [""]


@pytest.mark.parametrize("step", ["zero", "ZERO-REPORT", "count"])
def test_a_step_the_plan_has_not_is_refused(step: str) -> None:
    assert fields(raw("step", step=step)) == ["step"]


def test_an_unknown_kind_of_exception_or_effect_is_refused() -> None:
    assert fields(raw("exception", exception="gremlins", effect="terrible")) == ["exception", "effect"]


@pytest.mark.parametrize("effect", ["danger", "stopped", "impaired"])
def test_an_interruption_bears_on_voting(effect: str) -> None:
    assert taken(raw("interruption", effect=effect)).text("effect") == effect


@pytest.mark.parametrize("effect", ["at-risk", "record"])
def test_what_does_not_bear_on_voting_is_no_interruption(effect: str) -> None:
    assert fields(raw("interruption", effect=effect)) == ["effect"]
    assert taken(raw("exception", exception="other", effect=effect)).text("effect") == effect


def test_an_end_needs_no_effect() -> None:
    assert taken(raw("interruption", ends=True)).fields == {"ends": True}
    assert fields(raw("interruption", ends=False)) == ["effect"]


def test_a_report_came_through_the_hand_that_gave_it() -> None:
    entry = taken(raw("note", note="x"), place_only="P014", door="drop", clock="set")
    assert (entry.sender, entry.by, entry.door, entry.clock) == ("place:P014", "P014", "drop", "set")
    assert (entry.received_at, entry.seq) == (OPENS, 0)


def test_what_corrects_nothing_new_is_refused() -> None:
    assert fields(raw("correction", corrects="k-0", reason="misread")) == ["corrects"]
    assert fields(raw("correction", corrects="k-0", happened_at="2026-11-03T05:00:00")) == ["corrects"]
    assert fields(raw("correction", corrects="k-0", withdraw=False)) == ["corrects"]


def test_the_right_time_alone_is_a_correction() -> None:
    assert taken(raw("correction", corrects="k-0", happened_at="2026-11-03T05:00:00-06:00")).fields == {
        "corrects": "k-0"
    }


def test_a_report_is_withdrawn_or_given_new_fields_not_both() -> None:
    assert fields(raw("correction", corrects="k-0", withdraw=True, copies=3)) == ["withdraw"]
    assert taken(raw("correction", corrects="k-0", withdraw=True, reason="twice", note="see k-2")).fields["withdraw"]


@pytest.mark.parametrize("key", ["k-1", "a b", ["k"]])
def test_a_correction_names_the_key_of_another_report(key: object) -> None:
    assert fields(raw("correction", corrects=key, copies=3)) == ["corrects"]
