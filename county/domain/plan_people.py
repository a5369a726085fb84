"""The people whom the ladder can tell, as the plan's [[person]] tables name them."""

import re

from county.domain.plan import Contact
from county.domain.plan_table import PlanTable, shown

CONSOLE = "console"
SETTING = "setting:"
_NOTICE = re.compile(r"console|setting:[A-Z0-9_]{1,40}|[a-z][a-z0-9+.-]{1,30}://\S{1,2000}", re.ASCII)
_LONGEST_NAME = 60


def read_people(top: PlanTable) -> tuple[Contact, ...]:
    """Everybody in the order of the file. Raises BadPlan at the first fault."""
    people: dict[str, Contact] = {}
    for table in top.items("person"):
        person = _person(table)
        if person.name in people:
            table.refuse("name", f'name "{person.name}" stands on another person above')
        people[person.name] = person
    return tuple(people.values())


def _person(table: PlanTable) -> Contact:
    table.only("name", "roles", "notice", "starts", "ends")
    name = " ".join(table.text("name").split())
    if len(name) > _LONGEST_NAME:
        table.refuse("name", f"name is longer than {_LONGEST_NAME} characters")
    if table.has("starts") is not table.has("ends"):
        table.refuse("starts" if table.has("starts") else "ends", "a shift needs both starts and ends")
    shift = (table.clock("starts"), table.clock("ends")) if table.has("starts") else (None, None)
    if shift[0] is not None and shift[0] == shift[1]:
        table.refuse("ends", f"ends {shift[1]:%H:%M} is when the shift starts")
    return Contact(name, table.texts("roles"), _notice(table), *shift)


def _notice(table: PlanTable) -> str:
    notice = table.text("notice") if table.has("notice") else CONSOLE
    if not _NOTICE.fullmatch(notice):
        # what is written there may be a password, so it is not repeated
        scheme = notice.partition(":")[0]
        table.refuse("notice", f'notice {shown(scheme)} is not "console", "setting:NAME" or an address like mailto://…')
    return notice
