"""Notices are gathered: what waits for one person about one kind of trouble is one message; a burst is one more."""

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from county.domain.messages import AT_ONCE, Waiting, gathered, message_id
from tests.builders import after

BURST = timedelta(minutes=1)


def a_notice(number: int = 1, person: str = "Ada Rill", kind: str = "late-opening", *, danger: bool = False) -> Waiting:
    case = f"P{number:03}.{kind}"
    return Waiting(
        f"n{number}", number, case, f"P{number:03}", person, "lead", "console", kind, danger,
        after(), after(), "title", "body", "line",
    )  # fmt: skip


def test_two_hundred_places_with_one_trouble_are_one_message() -> None:
    waiting = [a_notice(number) for number in range(200)]
    assert gathered(waiting, {}, after(), BURST) == [waiting]


def test_each_person_and_each_kind_of_trouble_has_its_own_message() -> None:
    waiting = [a_notice(1), a_notice(2, "Bo Fenn"), a_notice(3, kind="silent"), a_notice(4)]
    assert gathered(waiting, {}, after(), BURST) == [[waiting[0], waiting[3]], [waiting[1]], [waiting[2]]]


def test_after_a_few_within_a_minute_the_next_wait_and_then_go_together() -> None:
    made = {("Ada Rill", "late-opening"): [after(0), after(0.2), after(0.4)]}
    waiting = [a_notice(1), a_notice(2)]
    assert gathered(waiting, made, after(0.9), BURST) == []
    assert gathered(waiting, made, after(1), BURST) == [waiting]


def test_danger_does_not_wait() -> None:
    made = {("Ada Rill", "fire"): [after()] * 9}
    assert gathered([a_notice(kind="fire", danger=True)], made, after(), BURST) != []


@given(
    st.lists(st.tuples(st.integers(0, 150), st.sampled_from("AB"), st.sampled_from(["silent", "fire"])), max_size=60)
)
def test_none_is_lost_none_is_sent_twice_and_nobody_gets_more_than_a_few_a_minute(
    owed: list[tuple[int, str, str]],
) -> None:
    """Notices become owed at these seconds; somebody looks every five."""
    owed.sort()
    waiting = [a_notice(number, person, kind) for number, (_, person, kind) in enumerate(owed, 1)]
    made: dict[tuple[str, str], list[float]] = {}
    sent: list[int] = []
    for second in range(0, 400, 5):
        pending = [w for w, (at, *_) in zip(waiting, owed, strict=True) if at <= second and w.number not in sent]
        if not pending:
            continue
        moments = {name: [after(at / 60) for at in times] for name, times in made.items()}
        for group in gathered(pending, moments, after(second / 60), BURST):
            made.setdefault((group[0].person, group[0].kind), []).append(second)
            sent += [each.number for each in group]
    assert sorted(sent) == [each.number for each in waiting]
    for times in made.values():
        assert all(later - first >= 60 for first, later in zip(times, times[AT_ONCE:], strict=False))


def test_a_message_of_one_has_its_notices_number_and_another_one_that_is_always_the_same() -> None:
    one, other = a_notice(1), a_notice(2)
    assert message_id([one]) == "n1"
    assert message_id([one, other]) == message_id([other, one]) not in ("n1", "n2")
