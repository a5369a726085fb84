"""GET /picture, /cases and /ledger: what stands, as a program reads it."""

import asyncio
import re
from dataclasses import dataclass, field
from datetime import datetime
from typing import Annotated, Literal

from fastapi import Query
from pydantic import BaseModel, ConfigDict, Field
from starlette.requests import Request
from starlette.responses import Response

from county import desk, upkeep
from county.desk import Sender
from county.domain.moments import parse_moment
from county.domain.picture import Picture, happened, known
from county.domain.plan_versions import plan_then
from county.domain.roster import Roster
from county.errors import NotAllowed, NotFound, Problem, Refused
from county.following import Following
from county.forecasting import forecasts
from county.wiring import Office
from ingest.answers import answer
from ingest.senders import Senders
from ingest.shapes import NOTHING_FORECAST, case_shape, picture_shape

LARGEST_PAGE = 10_000
_LOST_PLUS = re.compile(r" (\d\d:\d\d)$")


class PictureQuery(BaseModel):
    """What may be asked of the picture."""

    model_config = ConfigDict(extra="forbid")
    at: str = Field("", description="RFC 3339 time with offset; now where it is missing.")
    view: Literal["known", "happened"] = Field(
        "known", description="`known`: what the office knew at that time; `happened`: what was true at that time."
    )
    place: str = Field("", description="Only this place (a precinct's id stands for the place where it votes).")


class CasesQuery(BaseModel):
    """What may be asked of the cases."""

    model_config = ConfigDict(extra="forbid")
    state: Literal["open", "all"] = Field("open", description="`open`: those that still need somebody; or `all`.")
    place: str = Field("", description="Only this place (a precinct's id stands for the place where it votes).")


class LedgerQuery(BaseModel):
    """Which entries of the ledger."""

    model_config = ConfigDict(extra="forbid")
    after: int = Field(0, ge=0, le=2**53, description="Entries after this number.")
    limit: int = Field(1000, ge=1, le=LARGEST_PAGE, description="At most so many entries.")


@dataclass(frozen=True, slots=True)
class ViewsDoor:
    """The doors out of the endpoint; each sees every report that was acknowledged before it was asked."""

    office: Office
    following: Following
    senders: Senders
    _one_at_a_time: asyncio.Semaphore = field(default_factory=lambda: asyncio.Semaphore(1))

    async def picture(self, request: Request, query: Annotated[PictureQuery, Query()]) -> Response:
        """The county's places and standings, now or at a time; a place's key sees its own place."""
        sender = await self.senders.of(request)
        at = _moment(query.at)
        await asyncio.to_thread(self.following.catch_up)
        only = self._only(sender, query.place)
        if at is None and query.view == "known":
            return answer(200, await asyncio.to_thread(self._now, only))
        async with self._one_at_a_time:
            return answer(200, await asyncio.to_thread(self._then, at, query.view, only))

    async def cases(self, request: Request, query: Annotated[CasesQuery, Query()]) -> Response:
        """The cases, worst first; a place's key sees its own place's."""
        sender = await self.senders.of(request)
        await asyncio.to_thread(self.following.catch_up)
        only = self._only(sender, query.place)
        cases = self.following.picture.cases(open_only=query.state == "open")
        return answer(200, [case_shape(case) for case in cases if only in (None, case.place)])

    async def ledger(self, request: Request, query: Annotated[LedgerQuery, Query()]) -> Response:
        """Entries in order, each chained to the one before; for desk keys."""
        sender = await self.senders.of(request)
        if sender.place is not None:
            raise NotAllowed("the whole ledger is for desk keys")
        return answer(200, await asyncio.to_thread(desk.ledger_pages, self.office, query.after, query.limit))

    def _only(self, sender: Sender, asked: str) -> str | None:
        """The one place to show, or None for all."""
        place = self.following.picture.roster.place_of(asked) if asked else None
        if asked and place is None:
            raise Refused([Problem("place", "no such place or precinct")])
        if sender.place is not None and place is not None and place.place != sender.place:
            raise NotAllowed(f"this key reads {sender.place} only")
        return place.place if place is not None else sender.place

    def _now(self, only: str | None) -> dict[str, object]:
        clock, picture = self.office.clock, self.following.picture
        now = clock.now()
        return picture_shape(picture, now, clock.word, only, forecasts(self.office, picture, now)) | {"view": "known"}

    def _then(self, at: datetime | None, view: str, only: str | None) -> dict[str, object]:
        """The picture as it was, folded afresh from the entries that belong to it."""
        clock = self.office.clock
        moment = at or clock.now()
        entries, now = self.following.entries, self.following.picture
        chosen = {"known": known, "happened": happened}[view](entries, moment)
        roster, plan = now.roster, now.plan
        if view == "known":
            roster, plan = self._roster_then(moment) or roster, plan_then(entries, moment, plan)
        picture = Picture.of(roster, plan, chosen, heard_by_happening=view == "happened")
        # a forecast is of what was known: of what happened there is nothing to foresee
        likely = forecasts(self.office, picture, moment) if view == "known" else NOTHING_FORECAST
        return picture_shape(picture, moment, clock.word, only, likely) | {"view": view}

    def _roster_then(self, at: datetime) -> Roster | None:
        """The roster as the office knew it at a moment; None before the first, or where it was not kept."""
        try:
            then = upkeep.roster_as_at(self.office, at)
        except NotFound:
            return None
        return then if then.places else None


def _moment(asked: str) -> datetime | None:
    """A time from a query; a `+` that arrived as a space is put back."""
    if not asked:
        return None
    try:
        moment = parse_moment(_LOST_PLUS.sub(r"+\1", asked))
    except ValueError as error:
        raise Refused([Problem("at", str(error))]) from None
    if moment is None:
        raise Refused([Problem("at", "needs its offset from UTC, like 2026-11-03T05:41:00-06:00")])
    return moment
