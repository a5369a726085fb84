"""One task of the sheet as it is shown: what to do and tell, by when, who of the two does what, what was reported."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from county.domain.picture import PlaceNow
from county.domain.plan import Plan
from county.domain.sheet import Task, reports_of, tasks_at
from ingest.officers_page.asks import EACH, PAIR, Ask, asks_of
from ingest.officers_page.reported import Reported, Tell
from ingest.phone.wall import Wall


@dataclass(frozen=True, slots=True)
class TaskView:
    """A task, its name in the page's address (`anchor`), and its words."""

    task: Task
    anchor: str
    says: str
    where: str
    due: str
    asks: tuple[Ask, ...]
    pair: tuple[str, str]
    reported: tuple[Reported, ...]

    @property
    def done(self) -> bool:
        return bool(self.reported)

    @property
    def stop(self) -> bool:
        """Whether something found here is still open at the office."""
        return any(each.open for report in self.reported for each in report.told)

    @property
    def key(self) -> str:
        """The report that a correction would speak of: the latest."""
        return self.reported[-1].key if self.reported else ""

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
        yield TaskView(
            task=task,
            anchor=anchor if used[anchor] == 1 else f"{anchor}-{used[anchor]}",
            says=task.expected.step.says,
            where=_where(task, now, plan),
            due=wall(task.expected.due_at),
            asks=asks_of(task.step, task.device),
            pair=PAIR.get(task.step, EACH),
            reported=tuple(tell(entry) for entry in reports_of(task, now.day, now.expected)),
        )


def _where(task: Task, now: PlaceNow, plan: Plan) -> str:
    if not task.device:
        return ""
    device = f"{plan.word(now.expected.device_types[task.device])} {task.device}"
    said = f"{task.position} seal of {device}" if task.position else device
    return f"{said[:1].upper()}{said[1:]}"
