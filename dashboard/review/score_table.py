"""How good the forecasts were, in words for people who are not statisticians, and in figures."""

from collections.abc import Sequence

from county.domain.record.forecast_scores import CalibrationRow, ForecastScore
from dashboard import words
from dashboard.markup import Markup
from dashboard.review.table import cells, table

SCORE_IS = (
    "The score (Brier) takes for each place the chance that was said less what came (1 late, 0 in time), squares it "
    "and averages: 0 is never wrong, and saying one half of every place comes to 0.25. One morning proves little."
)
HEADS = ("Before opening", "Places", "Late", "Score", "Saying the day's share", "Better by", "Opened within the band")
LEFT_OUT = ("Not heard from", "Open already", "Not open yet")


def sentence(scores: Sequence[ForecastScore], lead: int) -> str:
    """Whether the forecasts were any better than saying of every place what came of the county."""
    score = next((each for each in scores if each.lead_minutes == lead), None)
    if score is None or score.brier is None or score.base_brier is None:
        return f"Of no place is there a forecast from {lead} minutes before its opening to hold against what came."
    share = f"{score.late:,} of {words.counted(score.places, 'place')} opened late"
    said = f"{lead} minutes before opening the forecasts score {_score(score.brier)}"
    base = f"saying the day's own share of every place, which nobody knew, {_score(score.base_brier)}"
    return f"{share}. {said}; {base}. Lower is better.{_unsettled(score)}"


def _unsettled(score: ForecastScore) -> str:
    """That the late ones may be missing still: who opens last is counted last."""
    if not score.unsettled:
        return ""
    return f" Left out: {words.counted(score.unsettled, 'place')} not reported open yet."


def by_lead(scores: Sequence[ForecastScore]) -> Markup:
    """One row for each time before the opening, and which places are left out of it."""
    rows = [
        cells(
            f"{each.lead_minutes} min",
            each.places,
            each.late,
            _score(each.brier),
            _score(each.base_brier),
            _better(each),
            _share(each.band_held),
            each.unheard,
            each.open_already,
            each.unsettled,
        )
        for each in scores
    ]
    return table((*HEADS, *LEFT_OUT), rows, label="How good the forecasts were, by the time before the opening")


def by_tenths(rows: Sequence[CalibrationRow]) -> Markup:
    """What was said against what came: of the places to which 7 in 10 was said, 7 in 10 should have opened late."""
    told = [cells(_share(row.said), _share(row.came), row.places) for row in rows]
    return table(("Said, on average", "Opened late", "Places"), told, label="What was said against what came")


def _score(value: float | None) -> str:
    return "" if value is None else f"{value:.3f}"


def _share(value: float | None) -> str:
    return "" if value is None else f"{value:.0%}".replace("%", " %")


def _better(score: ForecastScore) -> str:
    if score.skill is None:
        return ""
    return f"{_share(score.skill)}" if score.skill >= 0 else f"worse by {_share(-score.skill)}"
