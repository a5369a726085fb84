"""How good the forecasts of the openings were: made anew from what was known before, against what happened."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import fmean

from county.domain.both_orders import View
from county.domain.opening_forecast import OpeningForecast
from county.domain.place_state import PlaceState
from county.domain.plan import Plan
from county.domain.replay import Replay
from county.domain.step_paces import StepPaces

LEADS = (60, 45, 30, 15)
"""Minutes before a place's own opening at which its forecast is looked at."""


@dataclass(frozen=True, slots=True)
class CalibrationRow:
    """Of `places` to which a chance within one tenth was given: the chance given on average, and the share late."""

    said: float
    came: float
    places: int


@dataclass(frozen=True, slots=True)
class ForecastScore:
    """How good the forecasts of one day were, `lead_minutes` before each place's own opening. One day proves little.

    `places` had a forecast and an opening to hold it against, of which `late` opened late. `brier` is the mean square
    of chance less outcome (Brier 1950; 0 is perfect), `base_brier` that of always saying the day's own share, which
    nobody knew beforehand; both None where there are no places. `band_held` is the share that opened within the band
    of 80 %. `unheard`, `open_already` and `unsettled` (not reported open by now) are the places left out, and why.
    """

    lead_minutes: int
    places: int
    late: int
    brier: float | None
    base_brier: float | None
    band_held: float | None
    calibration: tuple[CalibrationRow, ...]
    unheard: int
    open_already: int
    unsettled: int

    @property
    def skill(self) -> float | None:
        """The share of the base's score that the forecasts take off; None where the base is already perfect."""
        return 1 - self.brier / self.base_brier if self.brier is not None and self.base_brier else None


def forecast_scores(
    replay: Replay, paces: StepPaces, now: datetime, leads: Sequence[int] = LEADS
) -> tuple[ForecastScore, ...]:
    """One score a lead, of what could have been said then by what was known then, against what is known `now` (UTC).

    Each place is looked at so many minutes before its own opening, in a forecast of the whole county at that moment.
    Places not reported open are left out, so that where reports are missing the scores are of the others.
    """
    then = _Then(replay)
    outcomes = {place: replay.state(place, now, View.KNOWN) for place in replay.places}
    return tuple(_score(lead, replay.plan, then, paces, outcomes, now) for lead in leads)


class _Then:
    """Every place as known at a moment; from one of its entries to the next a place is folded once."""

    def __init__(self, replay: Replay) -> None:
        self._replay = replay
        self._folded: dict[tuple[str, int], PlaceState] = {}

    def states(self, at: datetime) -> list[PlaceState]:
        return [self._state(place, at) for place in self._replay.places]

    def _state(self, place: str, at: datetime) -> PlaceState:
        key = place, self._replay.places[place].count(at, View.KNOWN)
        if key not in self._folded:
            self._folded[key] = self._replay.state(place, at, View.KNOWN)
        return self._folded[key]


@dataclass(frozen=True, slots=True)
class _Held:
    """One forecast held against what came."""

    chance: float
    late: bool
    in_band: bool


def _score(
    lead: int, plan: Plan, then: _Then, paces: StepPaces, outcomes: Mapping[str, PlaceState], now: datetime
) -> ForecastScore:
    """The score of one lead; places whose moment has not come yet are not counted at all."""
    # a long while to import, and most of the record does without
    from county.domain.openings import forecast_openings

    held: list[_Held] = []
    unheard = open_already = unsettled = 0
    by_moment: dict[datetime, list[str]] = {}
    for place, outcome in outcomes.items():
        by_moment.setdefault(outcome.expected.opens_at - timedelta(minutes=lead), []).append(place)
    for at, places in by_moment.items():
        if at > now:
            continue
        states = {state.day.place: state for state in then.states(at)}
        said = forecast_openings(states.values(), paces, plan, at)
        for place in places:
            if place not in said:
                unheard += not states[place].day.heard
                open_already += bool(states[place].day.heard)
            elif not outcomes[place].day.opened_at:
                unsettled += 1
            else:
                held.append(_hold(said[place], outcomes[place], plan))
    late = sum(each.late for each in held)
    share = late / len(held) if held else 0.0
    return ForecastScore(
        lead_minutes=lead,
        places=len(held),
        late=late,
        brier=fmean((each.chance - each.late) ** 2 for each in held) if held else None,
        base_brier=share * (1 - share) if held else None,
        band_held=fmean(each.in_band for each in held) if held else None,
        calibration=_calibration(held),
        unheard=unheard,
        open_already=open_already,
        unsettled=unsettled,
    )


def _hold(said: OpeningForecast, outcome: PlaceState, plan: Plan) -> _Held:
    opened_at = outcome.day.opened_at
    assert opened_at is not None
    late = opened_at > said.opens_at + plan.limits.late_grace
    # an opening before its hour is told by a rule of its own; the band begins at the hour
    return _Held(said.chance_late, late, said.earliest <= max(opened_at, said.opens_at) <= said.latest)


def _calibration(held: Iterable[_Held]) -> tuple[CalibrationRow, ...]:
    """What was said against what came, by tenths of the chance, the lowest first, without those that nobody got."""
    tenths: dict[int, list[_Held]] = {}
    for each in held:
        tenths.setdefault(min(9, int(each.chance * 10)), []).append(each)
    return tuple(
        CalibrationRow(fmean(e.chance for e in group), fmean(e.late for e in group), len(group))
        for _, group in sorted(tenths.items())
    )
