"""The officers' sheet of one place: the plan's steps as tasks, device by device, seal by seal, in the plan's order."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from county.domain.entries import Entry
from county.domain.expected import Expected, ExpectedStep
from county.domain.place_day import PlaceDay
from county.domain.plan import Anchor
from county.domain.seals import position_of

SEALS = "seals-checked"
OFFICE_STEPS = ("received",)
"""Steps of the plan that the office does itself, so that no place is asked for them."""

_OF_A_SEAL = ("seal_number", "seal_intact")


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do and tell: a step of the place, of one of its devices, or of one seal on a device."""

    expected: ExpectedStep
    device: str = ""
    position: str = ""

    @property
    def step(self) -> str:
        return self.expected.key

    @property
    def name(self) -> str:
        """The task's own name: the same for as long as plan and roster stay as they are."""
        return "~".join(part for part in (self.step, self.device, self.position) if part)

    @property
    def closing(self) -> bool:
        """Whether it belongs to the closing sheet."""
        return self.expected.step.anchor is Anchor.CLOSING


def tasks_at(expected: Expected) -> tuple[Task, ...]:
    """Everything the officers of this place are asked to tell, in order."""
    return tuple(task for step in expected.steps if step.key not in OFFICE_STEPS for task in _tasks(step, expected))


def _tasks(step: ExpectedStep, expected: Expected) -> Iterator[Task]:
    if not step.step.per_device:
        yield Task(step)
    for device in step.devices:
        positions = tuple(expected.seals.get(device, {})) if step.key == SEALS else ()
        for position in positions or ("",):
            yield Task(step, device, position)


def reports_of(task: Task, day: PlaceDay, expected: Expected) -> tuple[Entry, ...]:
    """What was reported of a task and stands, in the order it happened; a report of the whole step speaks of each."""
    return tuple(entry for entry in day.steps if entry.text("step") == task.step and _speaks_of(entry, task, expected))


def done_at(task: Task, day: PlaceDay, expected: Expected) -> datetime | None:
    """When the task was first reported done; None where it was not."""
    return next((entry.happened_at for entry in reports_of(task, day, expected)), None)


def _speaks_of(entry: Entry, task: Task, expected: Expected) -> bool:
    if not task.device or not entry.device:
        return True
    if entry.device != task.device:
        return False
    if not task.position or not any(name in entry.fields for name in _OF_A_SEAL):
        return True
    return position_of(entry, expected.seals.get(task.device, {})) == task.position
