"""GET /health and /metrics: whether the endpoint works, for programs that watch it. No key, and no place is named."""

import asyncio
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county import desk
from county.domain.receipts import Outcome
from county.following import Following
from county.wiring import Office
from ingest.answers import answer
from ingest.loops import Loop
from ingest.metrics import OPENMETRICS, Metric, exposition
from ingest.writer import Writer


@dataclass(frozen=True, slots=True)
class HealthDoor:
    """The two doors without a key."""

    office: Office
    following: Following
    writer: Writer
    loops: Sequence[Loop] = ()

    async def health(self, request: Request) -> Response:
        """`ok` and the number of the last entry, read from the database; 503 where that does not answer.

        503 too, with `stalled`, where a loop beside the endpoint has not come round when it should.
        """
        seq = await asyncio.to_thread(desk.last_seq, self.office)
        stalled = [loop.name for loop in self.loops if loop.stands_still]
        turned = {loop.name: round(loop.since_turn.total_seconds(), 1) for loop in self.loops}
        told = {"status": "stalled" if stalled else "ok", "seq": seq, "loops": turned, "stalled": stalled}
        return answer(503 if stalled else 200, told)

    async def metrics(self, request: Request) -> Response:
        """Counts of work in OpenMetrics text."""
        await asyncio.to_thread(self.following.catch_up)
        seq = await asyncio.to_thread(desk.last_seq, self.office)
        return Response(exposition(self._metrics(seq)), media_type=None, headers={"content-type": OPENMETRICS})

    def _metrics(self, seq: int) -> Iterator[Metric]:
        outcomes = {outcome.value: self.writer.outcomes[outcome.value] for outcome in Outcome}
        cases = len(self.following.picture.cases(open_only=True))
        yield Metric("pollrise_reports", "counter", "Receipts given since the start.", outcomes, "outcome")
        yield Metric("pollrise_entries", "gauge", "Entries in the ledger.", {"": seq})
        yield Metric("pollrise_last_seq", "gauge", "Number of the last entry.", {"": seq})
        yield Metric("pollrise_open_cases", "gauge", "Cases that still need somebody.", {"": cases})
        yield Metric("pollrise_queue_length", "gauge", "Items waiting to be kept.", {"": self.writer.waiting})
        real = int(self.office.clock.real)
        turned = {loop.name: int(loop.since_turn.total_seconds()) for loop in self.loops}
        still = {loop.name: int(loop.stands_still) for loop in self.loops}
        yield Metric("pollrise_loop_turned_seconds", "gauge", "Whole seconds since a loop came round.", turned, "loop")
        yield Metric("pollrise_loop_stalled", "gauge", "1 where a loop has not come round in time.", still, "loop")
        yield Metric("pollrise_real_clock", "gauge", "1 on the real clock, 0 on a set one.", {"": real})
