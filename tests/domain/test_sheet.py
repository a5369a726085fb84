"""The officers' sheet of a place: its tasks, in order, and which reports speak of which."""

from county.domain.entries import Entry
from county.domain.sheet import Task, done_at, reports_of, tasks_at
from tests.builders import OPENS, a_correction, a_step, before
from tests.looking import the_state


def tasks(place: str = "P014") -> dict[str, Task]:
    return {task.name: task for task in tasks_at(the_state(place=place).expected)}


def told_of(name: str, *entries: Entry) -> list[str]:
    """The keys of the reports that speak of a task."""
    state = the_state(*entries)
    return [entry.key for entry in reports_of(tasks()[name], state.day, state.expected)]


def test_every_device_and_every_seal_is_a_task_and_what_the_office_does_is_none() -> None:
    assert list(tasks()) == [
        "staffed",
        "site-ready",
        "seals-checked~SC-0141~front",
        "seals-checked~SC-0141~auxiliary",
        "seals-checked~SC-0142~front",
        "seals-checked~SC-0142~auxiliary",
        "seals-checked~BM-0141~case",
        "powered",
        "setup-confirmed~SC-0141",
        "setup-confirmed~SC-0142",
        "zero-report~SC-0141",
        "zero-report~SC-0142",
        "open",
        "closed",
        "results-printed~SC-0141",
        "results-printed~SC-0142",
        "balanced",
    ]


def test_a_device_without_recorded_seals_is_looked_at_as_a_whole() -> None:
    assert [name for name in tasks("P016") if name.startswith("seals")] == ["seals-checked~SC-0161"]


def test_the_closing_sheet_begins_with_the_closing() -> None:
    assert next(name for name, task in tasks().items() if task.closing) == "closed"


def test_a_seal_report_speaks_of_the_seal_it_names_or_whose_number_it_is() -> None:
    named = a_step("seals-checked", before(20), device="SC-0141", seal_position="front", seal_number="1")
    known = a_step("seals-checked", before(19), device="SC-0141", seal_number="A101")
    assert told_of("seals-checked~SC-0141~front", named, known) == [named.key]
    assert told_of("seals-checked~SC-0141~auxiliary", named, known) == [known.key]
    assert told_of("seals-checked~SC-0142~front", named, known) == []


def test_a_report_of_the_whole_step_speaks_of_every_device() -> None:
    whole = a_step("zero-report", before(15))
    assert told_of("zero-report~SC-0141", whole) == told_of("zero-report~SC-0142", whole) == [whole.key]


def test_a_task_is_done_when_it_was_first_told_and_a_correction_is_not_another_report() -> None:
    first, again = (
        a_step("zero-report", before(15), device="SC-0141", copies=1),
        a_step("zero-report", device="SC-0141"),
    )
    right = a_correction(first, OPENS, copies=3)
    state = the_state(first, again, right)
    task = tasks()["zero-report~SC-0141"]
    assert done_at(task, state.day, state.expected) == before(15)
    assert [entry.number("copies") for entry in reports_of(task, state.day, state.expected)] == [3, None]
