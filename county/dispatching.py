"""Which rover the board suggests for which case, worked out once for everybody in a process who asks."""

import logging
import threading
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from county.domain.barred import barred_by_word
from county.domain.cases import Case
from county.domain.dispatch import Dispatch, suggest
from county.domain.dispatch_settings import DispatchSettings
from county.domain.picture import Picture
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.errors import PollriseError
from county.ways_file import read_ways
from county.wiring import Office

_KEPT = 4


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a suggestion rests on: the same cases in the same minute are the same question."""

    roster: Roster
    plan: Plan
    minute: int
    cases: Sequence[tuple[object, ...]]

    def is_the_same(self, other: "_Asked") -> bool:
        return (
            self.roster is other.roster
            and self.plan is other.plan
            and self.minute == other.minute
            and self.cases == other.cases
        )


_log = logging.getLogger(__name__)
_lock = threading.Lock()
_answered: deque[tuple[_Asked, Dispatch]] = deque(maxlen=_KEPT)


def suggestion(office: Office, picture: Picture, now: datetime) -> Dispatch:
    """Who should go where next, as the cases of this picture stand `now` (aware UTC), by the plan it was folded with.

    Takes up to some 300 ms where something that bears on it has changed or another minute has begun, and nothing
    otherwise: reports that change no case cost nothing. Any thread may ask; the second waits for the first's answer.
    Whoever turned a case down is not suggested for it again.
    """
    cases = [case for state in list(picture.places.values()) for case in state.cases if case.state.open or case.rover]
    plan = picture.plan
    asked = _Asked(picture.roster, plan, int(now.timestamp() // 60), [_bearing(case) for case in cases])
    with _lock:
        for before, answer in _answered:
            if before.is_the_same(asked):
                return answer
        settings, remark = _settings(office, plan)
        found = suggest(cases, picture.roster, plan, settings, now, barred=barred_by_word(cases))
        answer = replace(found, remark=remark)
        _answered.append((asked, answer))
        return answer


def _settings(office: Office, plan: Plan) -> tuple[DispatchSettings, str]:
    """The plan's settings with the county's own ways, and what is to be said where those cannot be read any more."""
    if not plan.dispatch.matrix_file:
        return plan.dispatch, ""
    try:
        return replace(plan.dispatch, matrix=read_ways(office.settings.plan, plan)), ""
    except PollriseError as error:
        _log.warning("rovers are reckoned by distance alone: %s", error)
        return plan.dispatch, f"{plan.dispatch.matrix_file} cannot be read, so minutes are reckoned by distance alone"


def _bearing(case: Case) -> tuple[object, ...]:
    """Of a case, all that bears on who should go to it and where its rover is; turning it down changes its steps."""
    return (
        case.case,
        case.effect,
        case.state,
        case.rover,
        case.raised_at,
        case.under_way_at,
        case.on_site_at,
        len(case.steps),
    )
