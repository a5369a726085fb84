"""A plan's text made into a rehearsal's: marked as one, and every notice stays on the console."""

import re
import tomllib

from county.domain.plan import Plan
from county.domain.plan_file import parse_plan
from county.domain.plan_lines import PlanLines
from county.errors import BadPlan

_NAME = "the rehearsal's plan"
_REHEARSAL = re.compile(r"^(\s*rehearsal\s*=\s*)(?:true|false)")
_NOTICE = re.compile(r"""^(\s*notice\s*=\s*)(?:"[^"\n]*"|'[^'\n]*')""")


def rehearsed(text: str) -> str:
    """The same plan as a rehearsal's: nobody outside the room is told, and every page and notice says so.

    Comments and order stay. Raises BadPlan where the text is no plan, or is written so that it cannot be changed.
    """
    parse_plan(text, _NAME)
    lines, where, values = text.split("\n"), PlanLines(text), tomllib.loads(text)
    for number, person in enumerate(values.get("person", [])):
        if "notice" in person:
            at = where.line("person", number, "notice") - 1
            lines[at] = _NOTICE.sub(r'\1"console"', lines[at])
    at = where.line("election", "rehearsal") - 1
    if "rehearsal" in values["election"]:
        lines[at] = _REHEARSAL.sub(r"\1true", lines[at])
    else:
        lines.insert(at + 1, "rehearsal = true")
    made = "\n".join(lines)
    _must_be_one(parse_plan(made, _NAME))
    return made


def _must_be_one(plan: Plan) -> None:
    if not plan.election.rehearsal or any(person.notice != "console" for person in plan.people):
        raise BadPlan(_NAME, 0, "write [election] and [[person]] with a line for each name, so that it can be changed")
