"""One thread writes for every door: what waits together is kept in one transaction, and acknowledged after it."""

import asyncio
import logging
import threading
import time
from collections import Counter, deque
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from typing import TypeAlias

from county.domain.receipts import Outcome, Receipt, SetAside
from county.errors import Busy, PollriseError, Problem
from ingest.waiting import Answer, Item, Job, settle

Keep: TypeAlias = Callable[[Sequence[Item]], list[Receipt]]

MOST_TOGETHER = 500
MOST_WAITING = 20_000
AGAIN_IN = 2
LOOKS, LOOKS_EVERY = 4, 0.001
CLOSING = "the endpoint is closing; send it again"

log = logging.getLogger(__name__)


class CannotKeep(PollriseError):
    """The database takes nothing just now; nothing was acknowledged, so the sender still holds it."""


@dataclass(slots=True, eq=False)
class Writer:
    """The queue before the ledger. `keep` writes items in one transaction and gives a receipt for each, in order.

    No more than `most_waiting` items wait; `outcomes` counts the receipts given since the start.
    """

    keep_all: Keep
    most_waiting: int = MOST_WAITING
    outcomes: Counter[str] = field(default_factory=Counter)
    waiting: int = 0
    _jobs: deque[Job] = field(default_factory=deque)
    _changed: threading.Condition = field(default_factory=threading.Condition)
    _closed: bool = False
    _thread: threading.Thread | None = None

    def start(self) -> None:
        """Begin to write."""
        self._thread = threading.Thread(target=self._run, name="writer", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Take nothing more, write what waits, and end."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
        if self._thread is not None:
            self._thread.join()
        while self._thread is None and (jobs := self._next()):
            self._settle(jobs, [CannotKeep(CLOSING)] * len(jobs))

    async def keep(self, items: Sequence[Item]) -> list[Receipt]:
        """Receipts, once the items are durable. Raises Busy where too much waits, CannotKeep where nothing is kept."""
        loop = asyncio.get_running_loop()
        future: asyncio.Future[list[Receipt]] = loop.create_future()
        with self._changed:
            self._refuse_if_closed()
            if self.waiting + len(items) > self.most_waiting:
                raise Busy(AGAIN_IN)
            self._add(Job(items, future, loop))
        return await future

    def keep_waiting(self, items: Sequence[Item]) -> list[Receipt]:
        """The same from a thread that can wait for room."""
        future: Future[list[Receipt]] = Future()
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self.waiting + len(items) <= self.most_waiting)
            self._refuse_if_closed()
            self._add(Job(items, future))
        return future.result()

    def _refuse_if_closed(self) -> None:
        if self._closed:
            raise CannotKeep(CLOSING)

    def _add(self, job: Job) -> None:
        self._jobs.append(job)
        self.waiting += len(job.items)
        self._changed.notify_all()

    def _run(self) -> None:
        together = 0
        while jobs := self._next(together):
            together = len(jobs)
            self._settle(jobs, self._keep_together(jobs))

    def _next(self, expected: int = 0) -> list[Job]:
        """What waits, up to one transaction's worth; nothing once the queue is closed and empty.

        Where `expected` came together last time they will soon be there again: their senders were all answered at once.
        To go off with the first of them alone would make the others wait for a commit of one.
        """
        with self._changed:
            self._changed.wait_for(lambda: self._jobs or self._closed)
        for _ in range(LOOKS):
            if len(self._jobs) >= expected or self._closed:
                break
            time.sleep(LOOKS_EVERY)
        with self._changed:
            jobs: list[Job] = []
            size = 0
            while self._jobs and (not jobs or size + len(self._jobs[0].items) <= MOST_TOGETHER):
                jobs.append(self._jobs.popleft())
                size += len(jobs[-1].items)
            return jobs

    def _keep_together(self, jobs: list[Job]) -> list[Answer]:
        try:
            receipts = iter(self.keep_all([item for job in jobs for item in job.items]))
            return [[next(receipts) for _ in job.items] for job in jobs]
        except Exception:  # one bad row must not cost the others their receipts
            log.exception("could not keep %d together; trying one by one", sum(len(job.items) for job in jobs))
            return [self._keep_singly(job) for job in jobs]

    def _keep_singly(self, job: Job) -> Answer:
        try:
            return [self._keep_one(item) for item in job.items]
        except CannotKeep as error:
            return error

    def _keep_one(self, item: Item) -> Receipt:
        try:
            return self.keep_all([item])[0]
        except Exception:  # whatever is wrong with it, the next one has its turn
            log.exception("could not keep %r", item.key)
        return self._set_aside(item)

    def _set_aside(self, item: Item) -> Receipt:
        """Where even the note about an item cannot be kept, it is the database that fails and not the item."""
        problems = (Problem("", "could not be kept; it is set aside for the office"),)
        note = SetAside(item.key, item.sender, item.door, item.received_at, "failed", problems, repr(item))
        try:
            self.keep_all([note])
        except Exception:  # the sender is told, and keeps it
            log.exception("nothing can be kept")
            raise CannotKeep("nothing can be kept just now; send it again") from None
        return Receipt(item.key, Outcome.REFUSED, 0, item.received_at, problems, str(problems[0]))

    def _settle(self, jobs: list[Job], answers: list[Answer]) -> None:
        with self._changed:
            self.waiting -= sum(len(job.items) for job in jobs)
            self._changed.notify_all()
        for answer in answers:
            if not isinstance(answer, PollriseError):
                self.outcomes.update(receipt.outcome.value for receipt in answer)
        settle(zip(jobs, answers, strict=True))
