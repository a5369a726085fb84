"""How far a place is on its way to its opening, and what speaks for its being held up."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import IntEnum

from county.domain.effects import Effect
from county.domain.place_state import PlaceState, open_troubles

SIGNS = frozenset({"late-opening", "step-overdue", "silent", "message-unseen"})
"""What the clock itself concludes from what is missing: it tells nothing that the steps do not tell."""
MOST_BEHIND = 15.0
"""Minutes; a place that was out of signal for an hour is not taken to be so for ever: a judgement."""
_STOPPING = (Effect.DANGER, Effect.STOPPED)


class HeldUp(IntEnum):
    """Whether something that was reported holds the place up: nothing, perhaps, or certainly."""

    UNKNOWN = 0
    PERHAPS = 1
    SURELY = 2


@dataclass(frozen=True, slots=True)
class Progress:
    """One place that has been heard from and is not open.

    `left` is how much of each step that is not done remains, by key in the order due: 1, or the share of its devices.
    `begun_at` is when the first step was done and `reached_at` when anything was done last, None before; `did` is how
    much of each step was done between the two. `behind` is by how many minutes its reports came late at most. Times
    are aware UTC.
    """

    place: str
    opens_at: datetime
    left: Mapping[str, float]
    did: Mapping[str, float]
    begun_at: datetime | None
    reached_at: datetime | None
    held_up: HeldUp
    behind: float

    @property
    def step(self) -> str:
        """The first step that is not done; empty where all are."""
        return next(iter(self.left), "")


def progress_of(state: PlaceState, order: Iterable[str], now: datetime) -> Progress | None:
    """How far the place is at `now`; None where nothing is to be forecast: unheard, open, or over.

    `order` are the plan's steps before the opening, as due.
    """
    day, expected = state.day, state.expected
    if not day.heard or day.opened_at or day.closed_at or day.received_at or now >= expected.closes_at:
        return None
    devices = {step.step.key: step.devices for step in expected.steps}
    left: dict[str, float] = {}
    did: dict[str, float] = {}
    moments: list[datetime] = []
    for key in order:
        if key in day.done:
            did[key] = 1.0
            moments.append(day.done[key])
        elif key in devices:
            done = [at for device in devices[key] if (at := day.device_done.get((key, device)))]
            share = len(done) / len(devices[key]) if done else 0.0
            left[key] = 1.0 - share
            if done:
                did[key] = share
                moments += done
    first = next(iter(did), "")
    did.pop(first, None)
    reached_at = max(moments, default=None)
    late = max((entry.received_at - entry.happened_at for entry in day.steps), default=timedelta(0))
    return Progress(
        place=expected.place.place,
        opens_at=expected.opens_at,
        left=left,
        did=did,
        begun_at=day.done.get(first),
        reached_at=reached_at,
        held_up=_held_up(state, reached_at),
        behind=min(MOST_BEHIND, max(0.0, late.total_seconds() / 60)),
    )


def _held_up(state: PlaceState, reached_at: datetime | None) -> HeldUp:
    """What the place's own open troubles say; a lesser one after which it went on holds it up no more."""
    worst = HeldUp.UNKNOWN
    for case in open_troubles(state.cases):
        if case.exception in SIGNS or case.raised_by == "clock" or case.effect is Effect.RECORD:
            continue
        # a device in doubt may be set aside; the whole place without power, or in danger, may not
        stopping = case.effect in _STOPPING and not case.device
        if stopping or case.exception == "expected-late":
            return HeldUp.SURELY
        if reached_at is None or case.raised_at >= reached_at:
            worst = HeldUp.PERHAPS
    return worst
