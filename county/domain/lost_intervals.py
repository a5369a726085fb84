"""The intervals in which nobody could vote at a place: its late opening, and every stop of the whole place."""

from dataclasses import dataclass
from datetime import datetime

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.interruptions import Interruption, began
from county.domain.lost_time import Interval
from county.domain.place_state import PlaceState

_LOST = (Effect.DANGER, Effect.STOPPED)


@dataclass(frozen=True, slots=True)
class Lost:
    """One such interval (aware UTC) and the interruption it belongs to; None for the late opening."""

    begins: datetime
    ends: datetime
    why: Interruption | None

    @property
    def interval(self) -> Interval:
        return self.begins, self.ends


def lost_intervals(state: PlaceState, now: datetime) -> tuple[Lost, ...]:
    """The late opening and every interval in which nobody could vote, up to `now`.

    An interval that nobody reported over lasts until a person ended its case; one that a person withdrew never was.
    """
    lost = [Lost(state.expected.opens_at, state.day.opened_at or now, None)]
    cases = {(case.exception, cause): case for case in state.cases for cause in case.reports}
    for interval in state.day.interruptions:
        if interval.effect not in _LOST or interval.device:
            continue
        for report in interval.reports:
            case = cases.get((interval.exception, report.key))
            if case is None or case.state is not State.WITHDRAWN:
                ends = (interval.ends, case.ended_at if case else None, now)
                begins = max(began(report), interval.begins)
                lost.append(Lost(begins, min(end for end in ends if end is not None), interval))
    return tuple(lost)
