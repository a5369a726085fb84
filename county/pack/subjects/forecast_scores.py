"""How good the forecasts of openings were: made anew from what was known before, against what came."""

from county.domain.record.forecast_scores import ForecastScore, forecast_scores
from county.domain.replay import Replay
from county.domain.step_paces import paces_of
from county.pack.record import Record
from county.pack.table import Cell, Table, number, table, text

COLUMNS = (
    number("lead_minutes", "Minutes before own opening"),
    text("chance", "Chance said", 14),
    number("places"),
    number("late", "Opened late"),
    number("said", "Said on average"),
    number("came", "Share that came"),
    number("brier", "Score (Brier)"),
    number("base_brier", "Score of the day’s own share"),
    number("skill", "Share of it taken off"),
    number("band_held", "Opened within the band of 80 %"),
    number("unheard", "Left out: not heard from"),
    number("open_already", "Left out: open already"),
    number("unsettled", "Left out: not reported open"),
)


def scores(record: Record) -> Table:
    """For each lead one row for all places, then one a tenth of the chance that was said."""
    replay = Replay(record.roster, record.plan, record.entries)
    found = forecast_scores(replay, paces_of(record.earlier, record.plan), record.as_of)
    rows = [row for score in found for row in _rows(score)]
    learned = "an earlier election and the plan" if record.earlier else "the plan alone"
    says = (
        "The chance of opening late for each place, reckoned anew from what the office knew so many minutes before the "
        f"place’s own opening, with paces from {learned}. The Brier score is the mean square of chance less outcome: "
        "0 is perfect. It is compared with that of always saying the day’s own share, which nobody knew beforehand. "
        "One day proves little of a forecast."
    )
    return table("forecast_scores", "Forecasts scored", says, COLUMNS, rows)


def _rows(score: ForecastScore) -> list[list[Cell]]:
    share = score.late / score.places if score.places else None
    every: list[Cell] = [score.lead_minutes, "all", score.places, score.late, None, _round(share)]
    every += [_round(score.brier), _round(score.base_brier), _round(score.skill), _round(score.band_held)]
    rows: list[list[Cell]] = [[*every, score.unheard, score.open_already, score.unsettled]]
    for row in score.calibration:
        tenth = min(9, int(row.said * 10))
        chance = f"{tenth * 10} to {tenth * 10 + 10} %"
        told: list[Cell] = [score.lead_minutes, chance, row.places, round(row.came * row.places)]
        rows.append([*told, _round(row.said), _round(row.came), *(None,) * 7])
    return rows


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, 4)
