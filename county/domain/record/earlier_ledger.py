"""An earlier election's ledger as exported, folded to when each place had done each step."""

import json
from collections.abc import Iterable
from datetime import UTC, datetime

from county.domain.earlier_steps import EarlierStep
from county.domain.entries import Entry
from county.domain.entry_form import read_back
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.plan_versions import plan_then
from county.domain.roster import Roster
from county.errors import BadPlan, Problem, Refused

_ALWAYS = datetime.max.replace(tzinfo=UTC)
_MOST_PROBLEMS = 5


def steps_of_ledger(text: str, name: str, roster: Roster, plan: Plan) -> tuple[EarlierStep, ...]:
    """The steps in a ledger of one JSON entry a line, corrections applied; `name` is the file's name for messages.

    Its own last plan says what election it was; hours of a place's own are those of this roster, the only one there
    is. Places that are not on it are left out. Raises Refused where lines are no entries, or where its plan is missing.
    """
    entries = _read(text, name)
    try:
        then = plan_then(entries, _ALWAYS, plan)
    except BadPlan as error:
        raise Refused([Problem(name, f"its plan cannot be read: {error}")]) from error
    if then.election == plan.election:
        raise Refused([Problem(name, "it is of this election, or does not say of which")])
    picture = Picture.of(roster, then, entries)
    return tuple(
        EarlierStep(then.election.name, place, step, at, int((at - state.expected.opens_at).total_seconds() // 60))
        for place, state in picture.places.items()
        for step, at in state.day.done.items()
    )


def _read(text: str, name: str) -> list[Entry]:
    problems: list[Problem] = []
    entries = [entry for entry in _entries(text, name, problems) if entry is not None]
    if problems or not entries:
        raise Refused(problems[:_MOST_PROBLEMS] or [Problem(name, "there is no entry in it")])
    return entries


def _entries(text: str, name: str, problems: list[Problem]) -> Iterable[Entry | None]:
    for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1):
        if not line.strip():
            continue
        try:
            yield read_back(json.loads(line))
        except (KeyError, TypeError, ValueError, AttributeError):
            problems.append(Problem(f"{name}, line {number}", "it is no entry of a ledger"))
