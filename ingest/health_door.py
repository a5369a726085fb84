"""GET /health and /metrics: whether the endpoint works, for programs that watch it. No key, and no place is named."""

import asyncio
from collections.abc import Iterator
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from county import desk
from county.domain.receipts import Outcome
from county.following import Following
from county.wiring import Office
from ingest.answers import answer
from ingest.metrics import OPENMETRICS, Metric, exposition
from ingest.writer import Writer


@dataclass(frozen=True, slots=True)
class HealthDoor:
    """The two doors without a key."""

    office: Office
    following: Following
    writer: Writer

    async def health(self, request: Request) -> Response:
        """`ok` and the number of the last entry, read from the database; 503 where that does not answer."""
        seq = await asyncio.to_thread(desk.last_seq, self.office)
        return answer(200, {"status": "ok", "seq": seq})

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
        yield Metric("pollrise_real_clock", "gauge", "1 on the real clock, 0 on a set one.", {"": real})
