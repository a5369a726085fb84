"""Made-up mornings of a larger county, and an earlier election that is another such morning, to score forecasts."""

from functools import cache

from county.domain.earlier_steps import EarlierStep, earlier_steps
from county.domain.entries import Entry
from county.domain.intake import Hand, take
from county.domain.picture import Picture
from county.domain.record.forecast_scores import ForecastScore, forecast_scores
from county.domain.replay import Replay
from county.domain.roster import Roster
from county.domain.step_paces import paces_of
from county.rehearsal.day import made_up_day
from county.rehearsal.roster import made_up_county
from tests.rehearsal.days import sample_plan

PLACES = 200


@cache
def large_county() -> Roster:
    return made_up_county(PLACES)


def morning(regime: str, seed: int) -> list[Entry]:
    """What the office keeps of a made-up morning there."""
    taken: dict[str, Entry] = {}
    for sent in made_up_day(large_county(), sample_plan(), regime, seed, hours=2):
        if not sent.is_mistake:
            entry = take(sent.raw, Hand("d", "d", sent.how, sent.at), large_county(), sample_plan())
            taken.setdefault(entry.key, entry)
    return list(taken.values())


@cache
def earlier_morning() -> tuple[EarlierStep, ...]:
    """The steps of a rough morning that no score is of."""
    return earlier_steps(Picture.of(large_county(), sample_plan(), morning("rough", 77)))


def scores(regime: str, seed: int, earlier: tuple[EarlierStep, ...]) -> dict[int, ForecastScore]:
    """The scores of one morning by lead, with what was learned from an earlier one."""
    entries = morning(regime, seed)
    replay = Replay(large_county(), sample_plan(), entries)
    last = max(entry.received_at for entry in entries)
    found = forecast_scores(replay, paces_of(earlier, sample_plan()), last, (60, 45, 30, 15, 5))
    return {score.lead_minutes: score for score in found}
