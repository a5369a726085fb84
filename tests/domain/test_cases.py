"""A case's life, raised to cleared: what people do with it, in whatever order that is learned."""

from itertools import permutations

import pytest

from county.domain.cases import Case, State
from county.domain.effects import Effect
from county.domain.entries import Entry
from tests.builders import after, an_action, an_exception
from tests.looking import a_picture, the_case

JAM = an_exception("scanner-jam", after(60), device="SC-0141")
NAME = "P014.scanner-jam.SC-0141"


def deed(action: str, minutes: float, case: str = NAME, **more: object) -> Entry:
    return an_action(case, action, after(minutes), **more)


def lived(*deeds: Entry, report: Entry = JAM, name: str = NAME) -> Case:
    """The case after these deeds, whatever the order in which they arrive."""
    first, *others = [the_case(name, *order) for order in permutations([report, *deeds])]
    assert all(other == first for other in others), "the order of arrival changes the case"
    return first


ACKNOWLEDGED, ASSIGNED = deed("acknowledge", 61), deed("assign", 62, rover="R03")
UNDER_WAY, ON_SITE, CLEARED = deed("under-way", 63), deed("on-site", 70), deed("clear", 75, note="cleaned")
WHOLE = (ACKNOWLEDGED, ASSIGNED, UNDER_WAY, ON_SITE, CLEARED)


def milestones(case: Case) -> list[float | None]:
    reached = (case.acknowledged_at, case.assigned_at, case.under_way_at, case.on_site_at, case.cleared_at)
    return [None if moment is None else (moment - after()).total_seconds() / 60 for moment in reached]


def test_a_report_raises_a_case() -> None:
    case = lived()
    assert (case.case, case.place, case.device, case.exception) == (NAME, "P014", "SC-0141", "scanner-jam")
    assert (case.state, case.effect, case.rover, case.needs_person) == (State.RAISED, Effect.IMPAIRED, "", False)
    assert (case.raised_at, case.learned_at, case.raised_by) == (JAM.happened_at, JAM.received_at, "P014")
    assert case.reports == (JAM.key,)
    assert milestones(case) == [None] * 5


@pytest.mark.parametrize(
    ("deeds", "state", "reached"),
    [
        (WHOLE[:1], State.ACKNOWLEDGED, [61, None, None, None, None]),
        (WHOLE[:2], State.ASSIGNED, [61, 62, None, None, None]),
        (WHOLE[:3], State.UNDER_WAY, [61, 62, 63, None, None]),
        (WHOLE[:4], State.ON_SITE, [61, 62, 63, 70, None]),
        (WHOLE, State.CLEARED, [61, 62, 63, 70, 75]),
    ],
)
def test_a_case_goes_from_raised_to_cleared(
    deeds: tuple[Entry, ...], state: State, reached: list[float | None]
) -> None:
    case = lived(*deeds)
    assert case.state is state
    assert milestones(case) == reached
    assert [step.key for step in case.steps] == [entry.key for entry in deeds]


def test_who_cleared_it_and_how_is_said() -> None:
    case = lived(CLEARED)
    assert case.cleared_says == "Front desk: cleaned"
    assert case.ended_at == after(75)


def test_whoever_does_anything_has_acknowledged() -> None:
    assert milestones(lived(ON_SITE)) == [70, None, None, 70, None]
    assert milestones(lived(CLEARED)) == [75, None, None, None, 75]


def test_the_same_deed_twice_is_done_once() -> None:
    twice = [deed("acknowledge", 90), deed("assign", 91, rover="R03"), deed("under-way", 92), deed("on-site", 93)]
    once = lived(*WHOLE[:4])
    case = the_case(NAME, JAM, *WHOLE[:4], *twice)
    assert milestones(case) == milestones(once)
    assert (case.state, case.rover) == (State.ON_SITE, "R03")


def test_a_deed_that_is_behind_the_case_does_not_take_it_back() -> None:
    case = lived(deed("on-site", 70), deed("acknowledge", 80))
    assert case.state is State.ON_SITE
    assert milestones(case)[:1] == [70]


def test_a_rover_named_after_it_set_out_keeps_its_way() -> None:
    case = lived(deed("under-way", 63), deed("assign", 64, rover="R03"))
    assert (case.state, case.rover) == (State.UNDER_WAY, "R03")
    assert milestones(case) == [63, 64, 63, None, None]


def test_a_rover_that_says_so_itself_is_the_cases_rover() -> None:
    assert lived(deed("under-way", 63, rover="R03")).rover == "R03"
    assert lived(deed("on-site", 70, rover="R03")).rover == "R03"


def test_another_rover_begins_the_way_anew() -> None:
    case = lived(*WHOLE[:4], deed("assign", 71, rover="R04"))
    assert (case.state, case.rover) == (State.ASSIGNED, "R04")
    assert milestones(case) == [61, 71, None, None, None]


def test_the_first_rovers_late_word_does_not_take_the_case_back() -> None:
    case = lived(ASSIGNED, deed("assign", 64, rover="R04"), deed("under-way", 65, rover="R03"))
    assert case.rover == "R04"


def test_a_cleared_case_is_left_alone_by_what_is_done_later() -> None:
    case = the_case(NAME, JAM, *WHOLE, deed("on-site", 80), deed("withdraw", 81), deed("clear", 82), deed("note", 83))
    assert case.state is State.CLEARED
    assert case.cleared_at == after(75)
    assert len(case.steps) == 9, "what was done stays readable"


def test_a_withdrawn_case_is_over_but_not_cleared() -> None:
    case = lived(deed("withdraw", 65, note="wrong place"))
    assert (case.state, case.ended_at, case.cleared_at) == (State.WITHDRAWN, after(65), None)
    assert case.cleared_says == "Front desk: wrong place"


def test_a_reopened_case_belongs_to_nobody() -> None:
    case = the_case(NAME, JAM, *WHOLE, deed("reopen", 80))
    assert (case.state, case.rover, case.ended_at, case.cleared_says) == (State.RAISED, "", None, "")
    assert milestones(case) == [None] * 5
    assert case.raised_at == JAM.happened_at
    assert len(case.steps) == 6


def test_what_is_open_cannot_be_reopened() -> None:
    assert lived(ACKNOWLEDGED, deed("reopen", 65)).state is State.ACKNOWLEDGED


def test_a_reopened_case_can_be_cleared_again() -> None:
    case = the_case(NAME, JAM, *WHOLE, deed("reopen", 80), deed("clear", 90))
    assert (case.state, case.cleared_at) == (State.CLEARED, after(90))


def test_a_note_changes_nothing_but_stays() -> None:
    case = lived(deed("note", 61, note="called back"))
    assert case.state is State.RAISED
    assert case.steps[0].note == "called back"


def test_a_person_may_change_the_effect() -> None:
    assert lived(deed("effect", 61, effect="stopped")).effect is Effect.STOPPED
    assert lived(deed("effect", 61, effect="stopped"), deed("effect", 62, effect="record")).effect is Effect.RECORD


def test_a_worse_report_after_the_effect_was_lowered_counts_again() -> None:
    lowered = deed("effect", 61, effect="record")
    worse = an_exception("scanner-jam", after(65), device="SC-0141", effect="stopped")
    assert the_case(NAME, JAM, lowered).effect is Effect.RECORD
    assert the_case(NAME, JAM, lowered, worse).effect is Effect.STOPPED
    known = an_exception("scanner-jam", after(60.5), device="SC-0141", effect="stopped")
    assert the_case(NAME, JAM, known, lowered).effect is Effect.RECORD


def test_cases_are_listed_worst_first() -> None:
    entries = [
        an_exception("other", after(1), effect="record"),
        an_exception("fire", after(9), place="P015"),
        an_exception("no-power", after(5)),
        an_exception("no-power", after(4), place="P016"),
        an_exception("wrong-ballots", after(2)),
        an_action("P014.wrong-ballots", "acknowledge", after(3)),
        an_exception("medical", after(0), place="P016"),
        an_action("P016.medical", "clear", after(2)),
    ]
    names = ["P015.fire", "P016.no-power", "P014.no-power", "P014.wrong-ballots", "P014.other", "P016.medical"]
    assert [case.case for case in a_picture(*entries).cases()] == names
    assert [case.case for case in a_picture(*entries).cases(open_only=True)] == names[:-1]
