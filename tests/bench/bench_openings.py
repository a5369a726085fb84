"""How long forecasting every opening takes, and how good the forecasts of made-up mornings are.

A morning 25 minutes before opening, in milliseconds of processor. Target: under 100 ms for 2,000 places, under 500 ms
for 10,000. Then the Brier score of each regime over several mornings by the lead, as a ratio of always saying that
morning's own share, which nobody knew; below 1 is better. One part of that base is hindsight: on an ordinary morning
one place in a hundred is late, and nothing that could be said beforehand beats having known it.
"""

import time
from collections.abc import Sequence
from datetime import timedelta

from county.domain.earlier_steps import EarlierStep, parse_earlier_steps
from county.domain.intake import Hand, take
from county.domain.openings import forecast_openings
from county.domain.picture import Picture, known
from county.domain.record.forecast_scores import ForecastScore
from county.domain.step_paces import paces_of
from county.earlier_file import FILE
from county.rehearsal.day import made_up_day
from county.rehearsal.regimes import REGIMES
from county.rehearsal.roster import made_up_county
from tests.rehearsal.days import SAMPLE, sample_plan
from tests.rehearsal.forecast_days import earlier_morning, scores

TARGETS_MS = {2_000: 100, 10_000: 500}
ROUNDS = 5
SEEDS = (1, 2, 3, 4)
LEADS = (45, 30, 15, 5)


def main() -> int:
    """Measure and print; 1 where a target of speed is missed."""
    took = {places: speed(places) for places in TARGETS_MS}
    file = SAMPLE / "earlier_election" / FILE
    learned = {
        "another morning": earlier_morning(),
        "the plan alone": (),
        "the sample's file": parse_earlier_steps(file.read_text(encoding="utf-8"), file.name),
    }
    for name, earlier in learned.items():
        for regime in REGIMES:
            quality(regime, name, earlier)
    return int(any(took[places] > target for places, target in TARGETS_MS.items()))


def speed(places: int) -> float:
    """One forecast of so many places, the fastest of some."""
    county, plan = made_up_county(places), sample_plan()
    day = made_up_day(county, plan, "rough", 5, 1)
    entries = [take(each.raw, Hand("d", "d", each.how, each.at), county, plan) for each in day if not each.is_mistake]
    picture = Picture(county, plan)
    openings = sorted(expected.opens_at for expected in picture.expected.values())
    now = openings[len(openings) // 2] - timedelta(minutes=25)
    picture.add(known(entries, now))
    paces = paces_of((), plan)
    took = []
    for _ in range(ROUNDS):
        began = time.process_time()
        found = forecast_openings(picture.places.values(), paces, plan, now)
        took.append((time.process_time() - began) * 1_000)
    target = TARGETS_MS[places]
    print(f"{places:,} places, {len(found):,} forecasts: {min(took):.0f} ms, {min(took) / target:.2f} of {target} ms")
    return min(took)


def quality(regime: str, name: str, earlier: Sequence[EarlierStep]) -> None:
    """The scores of some mornings together, a line a lead."""
    mornings = [scores(regime, seed, tuple(earlier)) for seed in SEEDS]
    for lead in LEADS:
        told = [each[lead] for each in mornings if each[lead].places]
        brier, base = (_together(told, field) for field in ("brier", "base_brier"))
        held = _together(told, "band_held")
        late, places = sum(each.late for each in told), sum(each.places for each in told)
        print(
            f"{regime:12} from {name:17} {lead:2} min before: {late:3} of {places} late, Brier {brier:.4f}, "
            f"{brier / base:.2f} of the day's own share's {base:.4f}; {held:.0%} within the band of 80 %"
        )


def _together(told: Sequence[ForecastScore], field: str) -> float:
    """A mean over the places of several mornings."""
    places = sum(each.places for each in told)
    return sum((getattr(each, field) or 0.0) * each.places for each in told) / places


if __name__ == "__main__":
    raise SystemExit(main())
