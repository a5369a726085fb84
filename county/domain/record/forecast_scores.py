"""How good the forecasts of the openings were: made anew from what was known before, against what happened."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

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
    of chance less outcome (0 is perfect), `base_brier` that of always saying the day's own share, which nobody knew
    beforehand; both None where there are no places. `band_held` is the share that opened within the band of 80 %.
    `unheard`, `open_already` and `unsettled` (not open yet) are the places left out, and why.
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
    """One score a lead, as of `now` (aware UTC)."""
    return tuple(ForecastScore(lead, 0, 0, None, None, None, (), 0, 0, 0) for lead in leads)
