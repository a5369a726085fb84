"""A made-up desk and its rovers: they work the cases of a rehearsal through the real endpoint, not always in time."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from typing import Any

import httpx

from county.domain.dispatch_settings import DispatchSettings
from county.domain.effects import Effect
from county.domain.moments import parse_moment, write_moment
from county.domain.roster import Rover
from county.rehearsal.sent import chance, lognormal, minutes

EVERY = timedelta(minutes=2)
CLEARS_LATER_THAN = timedelta(minutes=20)
NEVER, WITHDRAWN, CANNOT = 0.05, 0.03, 0.05
_QUICK: Mapping[Effect, float] = {
    Effect.DANGER: 1.0,
    Effect.STOPPED: 2.5,
    Effect.IMPAIRED: 5.0,
    Effect.AT_RISK: 8.0,
    Effect.RECORD: 25.0,
}
"""Median minutes to the first look, by effect: made up."""

Step = tuple[datetime, str, dict[str, str]]


@dataclass(frozen=True, slots=True)
class Seen:
    """An open case as the desk sees it."""

    case: str
    exception: str
    effect: Effect
    raised_at: datetime


@dataclass(frozen=True, slots=True)
class Desk:
    """Whom the desk can send, by which settings, and what share of the cases it works."""

    rovers: Sequence[Rover]
    dispatch: DispatchSettings
    share: float = 1.0

    def begin(self, client: httpx.Client, key: str, run: str) -> "DeskWork":
        """The desk at work, through this client and under this key."""
        return DeskWork(client, key, run, self)


@dataclass(slots=True)
class DeskWork:
    """The desk: `look` asks for open cases now and then, and does what is due by the made-up clock.

    The cases that are not of its share are left to whoever else sits at the board.
    """

    client: httpx.Client
    key: str
    run: str
    desk: Desk
    done: int = 0
    _due: list[Step] = field(default_factory=list)
    _known: set[str] = field(default_factory=set)
    _free_at: dict[str, datetime] = field(default_factory=dict)
    _looked_at: datetime | None = None

    def look(self, now: datetime) -> None:
        """Take up what is new and do what is due; the list is asked for every couple of made-up minutes at most."""
        due = sorted((step for step in self._due if step[0] <= now), key=lambda step: step[0])
        if not due and self._looked_at is not None and now - self._looked_at < EVERY:
            return
        self._looked_at = now
        still_open = {case.case: case for case in self._open()}
        for case in still_open.values():
            if case.case not in self._known:
                self._known.add(case.case)
                self._due.extend(self._course(case, now))
        self._due = [step for step in self._due if step not in due]
        for at, name, said in due:
            # what the facts have ended meanwhile is left alone, as people would
            if name in still_open:
                self._act(name, said | {"happened_at": write_moment(at)})

    def _open(self) -> list[Seen]:
        try:
            response = self.client.get("/cases", params={"state": "open"}, headers=self._headers)
        except httpx.TransportError:
            return []  # the sender says it where the endpoint stays away; the desk looks again
        return [_seen(each) for each in response.json()] if response.is_success else []

    def _act(self, case: str, said: dict[str, str]) -> None:
        """One action; refused where somebody else was quicker, and left out where there is no answer."""
        try:
            response = self.client.post(f"/cases/{case}/actions", json=said, headers=self._headers)
        except httpx.TransportError:
            return
        self.done += response.is_success

    @property
    def _headers(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.key}"}

    def _course(self, case: Seen, now: datetime) -> Iterator[Step]:
        """What the desk will do with a case, each with its moment; nothing is done before it was seen."""
        rng = chance(self.run, case.case, "desk")
        if rng.random() >= self.desk.share or rng.random() < NEVER:
            return
        seen = case.raised_at if now - case.raised_at < CLEARS_LATER_THAN else now
        at = max(seen, case.raised_at) + minutes(lognormal(rng, _QUICK[case.effect], 0.6))
        yield self._step(case, at, "acknowledge")
        if rng.random() < WITHDRAWN:
            yield self._step(case, at + minutes(rng.uniform(2, 12)), "withdraw", note="Called back: a mistake.")
            return
        need = self.desk.dispatch.need(case.exception)
        if need.rover and self.desk.rovers and case.effect is not Effect.DANGER:
            yield from self._sent(case, at, need.minutes, rng)
        elif case.effect is not Effect.DANGER and rng.random() < 0.5:
            yield self._step(case, at + minutes(lognormal(rng, 18, 0.7)), "clear", note="Settled on the telephone.")

    def _sent(self, case: Seen, at: datetime, on_site: float, rng: Random) -> Iterator[Step]:
        """A rover goes there: whoever is free first."""
        ready = at + minutes(lognormal(rng, 1.5, 0.5))
        rover = min(
            self.desk.rovers, key=lambda each: (max(self._free_at.get(each.rover, ready), ready), each.rover)
        ).rover
        ready = max(ready, self._free_at.get(rover, ready))
        yield self._step(case, ready, "assign", rover=rover)
        if rng.random() < CANNOT:
            yield self._step(case, ready + minutes(2), "cannot", rover=rover, note="Tyre is flat.")
            return
        under_way = ready + minutes(lognormal(rng, 2, 0.5))
        there = under_way + minutes(lognormal(rng, 13, 0.4))
        cleared = there + minutes(lognormal(rng, max(4.0, on_site), 0.4))
        self._free_at[rover] = cleared
        for moment, action in ((ready + minutes(1), "accept"), (under_way, "under-way"), (there, "on-site")):
            yield self._step(case, moment, action, rover=rover)
        yield self._step(case, cleared, "clear", note="Done together with two officers.")

    def _step(self, case: Seen, at: datetime, action: str, **more: str) -> Step:
        key = f"{self.run}.{action}.{case.case}"[-64:]
        return at, case.case, {"key": key, "action": action, **more}


def _seen(raw: Mapping[str, Any]) -> Seen:
    raised_at = parse_moment(str(raw["raised_at"]))
    assert raised_at is not None, "the endpoint gives every time its offset"
    return Seen(str(raw["case"]), str(raw["exception"]), Effect(raw["effect"]), raised_at)
