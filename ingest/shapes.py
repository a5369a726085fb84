"""How the endpoint shows a receipt, a place, a case and the county: the names of its contract, times in UTC."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from types import MappingProxyType

from county.domain.cases import Case
from county.domain.moments import write_moment
from county.domain.opening_forecast import OpeningForecast
from county.domain.picture import Picture, PlaceNow
from county.domain.receipts import Receipt
from county.domain.standing import Standing

NOTHING_FORECAST: Mapping[str, OpeningForecast] = MappingProxyType({})


def receipt_shape(receipt: Receipt) -> dict[str, object]:
    """A receipt: `seq` and `received_at` where the report is in the ledger, `says` where something is to be said."""
    shape: dict[str, object] = {"key": receipt.key, "outcome": str(receipt.outcome)}
    if receipt.seq:
        shape |= {"seq": receipt.seq, "received_at": _when(receipt.received_at)}
    if receipt.says:
        shape["says"] = receipt.says
    if receipt.problems:
        shape["errors"] = [{"field": problem.field, "says": problem.says} for problem in receipt.problems]
    return shape


def picture_shape(
    picture: Picture,
    now: datetime,
    clock: str,
    only: str | None = None,
    likely: Mapping[str, OpeningForecast] = NOTHING_FORECAST,
) -> dict[str, object]:
    """The county, or one place of it, at a moment. `totals` counts the places shown, every standing named."""
    shown = picture.everywhere(now) if only is None else _only(picture, only, now)
    election = picture.plan.election
    return {
        "as_of": write_moment(now),
        "election": election.name,
        "county": election.county,
        "date": election.date.isoformat(),
        "rehearsal": election.rehearsal,
        "clock": clock,
        "totals": totals_shape(shown),
        "places": [place_shape(place, likely.get(place.place.place)) for place in shown],
    }


def _only(picture: Picture, place: str, now: datetime) -> tuple[PlaceNow, ...]:
    """The one place, or none where a key has outlived its place."""
    return (picture.at(place, now),) if place in picture.places else ()


def totals_shape(places: Iterable[PlaceNow]) -> dict[str, int]:
    """How many places have each standing; a standing nobody has is 0, not missing."""
    totals = {standing.value: 0 for standing in Standing}
    for place in places:
        totals[place.standing.value] += 1
    return totals


def place_shape(now: PlaceNow, likely: OpeningForecast | None = None) -> dict[str, object]:
    """One place: minutes are whole; `open_cases` is how many. Without a forecast its two fields are null."""
    return {
        "place": now.place.place,
        "name": now.place.name,
        "standing": now.standing.value,
        "last_step": now.day.last_step or None,
        "opened_at": _when(now.day.opened_at),
        "minutes_late": now.minutes_late,
        "lost_minutes": now.lost_minutes,
        "last_heard_at": _when(now.day.last_heard_at),
        "open_cases": len(now.open_cases),
        "chance_late": round(likely.chance_late, 2) if likely else None,
        "likely_open_at": _when(likely.middle) if likely else None,
    }


def case_shape(case: Case) -> dict[str, object]:
    """One case; a milestone not reached is null."""
    return {
        "case": case.case,
        "place": case.place,
        "device": case.device or None,
        "exception": case.exception,
        "effect": case.effect.value,
        "raised_at": _when(case.raised_at),
        "learned_at": _when(case.learned_at),
        "raised_by": case.raised_by,
        "state": case.state.value,
        "rover": case.rover or None,
        "told": list(case.told),
        "acknowledged_at": _when(case.acknowledged_at),
        "assigned_at": _when(case.assigned_at),
        "accepted_at": _when(case.accepted_at),
        "under_way_at": _when(case.under_way_at),
        "expected_at": _when(case.expected_at),
        "on_site_at": _when(case.on_site_at),
        "cleared_at": _when(case.cleared_at),
        "cleared_says": case.cleared_says or None,
        "needs_person": case.needs_person,
        "says": case.says,
        "pattern_of": case.of or None,
        "links": list(case.links),
    }


def _when(moment: datetime | None) -> str | None:
    return None if moment is None else write_moment(moment)
