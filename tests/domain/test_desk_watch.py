"""Who is on the desk follows from the facts of signing in and out, and a note waits until somebody takes it."""

from county.domain.desk_watch import DeskWatch
from county.domain.entries import Entry, Kind
from county.domain.people import Role
from tests.builders import after


def a_fact(minutes: int, person: str, did: str, role: str = "", kind: Kind = Kind.PERSON, **more: object) -> Entry:
    """A fact about a person, so many minutes after opening."""
    said = {"person": person, "did": did, "role": role} if kind is Kind.PERSON else {}
    return Entry(
        key=f"k{minutes}",
        kind=kind,
        place="",
        happened_at=after(minutes),
        received_at=after(minutes),
        by=person,
        door="board",
        sender=f"board:{person}",
        fields={name: value for name, value in {**said, **more}.items() if value != ""},
        seq=minutes,
    )


def watched(*facts: Entry) -> DeskWatch:
    watch = DeskWatch()
    watch.add(facts)
    return watch


def names(watch: DeskWatch) -> list[str]:
    return [each.name for each in watch.on_the_desk]


def test_whoever_signs_in_at_the_desk_is_there_until_their_last_session_ends() -> None:
    watch = watched(a_fact(1, "Ann", "signed-in", "lead"), a_fact(2, "Ann", "signed-in", "lead"))
    watch.add([a_fact(3, "Ann", "signed-out")])
    (ann,) = watch.on_the_desk
    assert (ann.name, ann.role, ann.since) == ("Ann", Role.LEAD, after(1))
    watch.add([a_fact(4, "Ann", "signed-out")])
    assert names(watch) == []
    watch.add([a_fact(5, "Ann", "signed-in", "lead")])
    assert watch.on_the_desk[0].since == after(5)


def test_the_longest_there_is_named_first_and_those_who_only_see_are_not() -> None:
    watch = watched(
        a_fact(2, "Ann", "signed-in", "desk"),
        a_fact(1, "Bo", "signed-in", "lead"),
        a_fact(3, "Vi", "signed-in", "viewer"),
        a_fact(4, "Ro", "signed-in", "rover"),
    )
    assert names(watch) == ["Bo", "Ann"]


def test_a_changed_role_changes_who_is_on_the_desk() -> None:
    watch = watched(a_fact(1, "Vi", "signed-in", "viewer"), a_fact(2, "Vi", "role-changed", "desk"))
    assert names(watch) == ["Vi"]


def test_a_sign_out_that_nobody_signed_in_for_changes_nothing() -> None:
    watch = watched(a_fact(1, "Ann", "signed-out"), a_fact(2, "Ann", "signed-in", "desk"))
    assert names(watch) == ["Ann"]


def test_a_note_waits_until_it_is_taken_the_newest_first() -> None:
    first = a_fact(1, "Ann", "", kind=Kind.HAND_OVER, note="Call Mill Creek back")
    second = a_fact(2, "Bo", "", kind=Kind.HAND_OVER, note="Rover 3 has the spare")
    watch = watched(first, second)
    assert [each.note for each in watch.waiting] == ["Rover 3 has the spare", "Call Mill Creek back"]
    watch.add([a_fact(3, "Cy", "", kind=Kind.HAND_OVER, took=1)])
    (left,) = watch.waiting
    assert (left.seq, left.by, left.at) == (2, "Bo", after(2))
