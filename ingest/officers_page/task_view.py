"""One task of the sheet as it is shown: what to do and tell, by when, who of the two does what, what was reported."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from county.domain.entries import Entry
from county.domain.items import items_at
from county.domain.picture import PlaceNow
from county.domain.plan import Plan
from county.domain.sheet import Task, reports_of, tasks_at
from ingest.officers_page.asks import EACH, NEW_SEAL, PAIR, SEALED_ANEW, Ask, asks_of
from ingest.officers_page.reported import Reported, Tell
from ingest.phone.wall import Wall

BLANK = "t"
"""The anchor of a form that is no task's yet: the script puts the task's own in its place."""


@dataclass(frozen=True, slots=True)
class TaskView:
    """A task, its name in the page's address (`anchor`), and its words.

    `key` is the report that a correction would speak of; `new_seals` are the fields for seals put on at this step, each
    with its words.
    """

    task: Task
    anchor: str
    says: str
    where: str
    due: str
    asks: tuple[Ask, ...]
    pair: tuple[str, str]
    reported: tuple[Reported, ...]
    key: str
    new_seals: tuple[tuple[str, str], ...] = ()

    @property
    def done(self) -> bool:
        return bool(self.reported)

    @property
    def stop(self) -> bool:
        """Whether something found here is still open at the office."""
        return any(each.open for report in self.reported for each in report.told)

    @property
    def takes_note(self) -> bool:
        """Whether the form still needs a field for a note."""
        return all(ask.name != "note" for ask in self.asks)


def task_views(now: PlaceNow, plan: Plan, wall: Wall, tell: Tell) -> Iterator[TaskView]:
    """Every task of a place, in order."""
    used: dict[str, int] = {}
    for task in tasks_at(now.expected):
        anchor = f"t-{re.sub(r'[^A-Za-z0-9]+', '-', task.name)}"
        used[anchor] = used.get(anchor, 0) + 1
        reports = reports_of(task, now.day, now.expected)
        yield TaskView(
            task=task,
            anchor=anchor if used[anchor] == 1 else f"{anchor}-{used[anchor]}",
            says=task.expected.step.says,
            where=_where(task, now, plan),
            due=wall(task.expected.due_at),
            asks=asks_of(task.step, task.device),
            pair=PAIR.get(task.step, EACH),
            reported=tuple(tell(entry) for entry in reports),
            key=_spoken_of(task, reports),
            new_seals=tuple(_new_seals(now, plan)) if task.step == SEALED_ANEW else (),
        )


def blank(view: TaskView) -> TaskView:
    """The task's form as any task of its step begins with: of no device, nothing reported."""
    return replace(view, task=Task(view.task.expected), anchor=BLANK, where="", reported=(), key="")


def _spoken_of(task: Task, reports: Sequence[Entry]) -> str:
    """The key of the latest report of this very task; of one that speaks of it among others where there is none."""
    own = [entry.key for entry in reports if entry.device == task.device]
    return (own or [entry.key for entry in reports] or [""])[-1]


def _new_seals(now: PlaceNow, plan: Plan) -> Iterator[tuple[str, str]]:
    for each in items_at(now.expected.device_types, plan.items):
        if each.item.sealed:
            yield f"{NEW_SEAL}{each.name}~", each.says
    for device, type_ in now.expected.device_types.items():
        for position in now.expected.seals.get(device, {}):
            yield f"{NEW_SEAL}{device}~{position}", f"{position} of {plan.word(type_)} {device}"


def _where(task: Task, now: PlaceNow, plan: Plan) -> str:
    if not task.device:
        return ""
    device = f"{plan.word(now.expected.device_types[task.device])} {task.device}"
    said = f"{task.position} seal of {device}" if task.position else device
    return f"{said[:1].upper()}{said[1:]}"
