"""A plan's text made into a rehearsal's: marked as one, and every notice stays on the console."""

import re
import tomllib

from county.domain.plan_file import parse_plan
from county.domain.plan_lines import PlanLines
from county.errors import BadPlan

_NAME = "the rehearsal's plan"
_REHEARSAL = re.compile(r"^(\s*rehearsal\s*=\s*)(?:true|false)")
_NOTICE = re.compile(r"""^(\s*notice\s*=\s*)(?:"[^"\n]*"|'[^'\n]*')""")


def marked(text: str, *, rehearsal: bool) -> str:
    """The same text with `rehearsal` said so in [election]; comments and order stay.

    Raises BadPlan where the text is no plan, or is written so that it cannot be changed.
    """
    parse_plan(text, _NAME)
    lines, at = text.split("\n"), PlanLines(text).line("election", "rehearsal") - 1
    said = "true" if rehearsal else "false"
    if "rehearsal" in tomllib.loads(text)["election"]:
        lines[at] = _REHEARSAL.sub(rf"\g<1>{said}", lines[at])
    else:
        lines.insert(at + 1, f"rehearsal = {said}")
    made = "\n".join(lines)
    if parse_plan(made, _NAME).election.rehearsal is not rehearsal:
        raise _cannot()
    return made


def rehearsed(text: str) -> str:
    """The same plan as a rehearsal's: nobody outside the room is told, and every page and notice says so.

    Raises BadPlan as `marked` does.
    """
    parse_plan(text, _NAME)
    lines, where = text.split("\n"), PlanLines(text)
    for number, person in enumerate(tomllib.loads(text).get("person", [])):
        if "notice" in person:
            at = where.line("person", number, "notice") - 1
            lines[at] = _NOTICE.sub(r'\1"console"', lines[at])
    made = marked("\n".join(lines), rehearsal=True)
    if any(person.notice != "console" for person in parse_plan(made, _NAME).people):
        raise _cannot()
    return made


def _cannot() -> BadPlan:
    return BadPlan(_NAME, 0, "write [election] and [[person]] with a line for each name, so that it can be changed")
