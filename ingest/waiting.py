"""Who waits for items to be kept, on an event loop or in a thread, and how they are told."""

import asyncio
from collections.abc import Iterable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from typing import TypeAlias

from county.domain.entries import Entry
from county.domain.receipts import Receipt, SetAside
from county.errors import PollriseError

Item: TypeAlias = Entry | SetAside
Answer: TypeAlias = list[Receipt] | PollriseError


@dataclass(slots=True, eq=False)
class Job:
    """Items that one sender waits for, and where the answer goes: an event loop's future or a thread's."""

    items: Sequence[Item]
    future: "asyncio.Future[list[Receipt]] | Future[list[Receipt]]"
    loop: asyncio.AbstractEventLoop | None = None

    def tell(self, answer: Answer) -> None:
        if self.future.done():
            return  # the sender has gone; its report is kept all the same
        if isinstance(answer, PollriseError):
            self.future.set_exception(answer)
        else:
            self.future.set_result(answer)


def settle(answered: Iterable[tuple[Job, Answer]]) -> None:
    """Tell everybody who waits; each event loop is woken once for all that wait on it."""
    by_loop: dict[asyncio.AbstractEventLoop | None, list[tuple[Job, Answer]]] = {}
    for job, answer in answered:
        by_loop.setdefault(job.loop, []).append((job, answer))
    for loop, settled in by_loop.items():
        if loop is None:
            _tell(settled)
        elif not loop.is_closed():
            loop.call_soon_threadsafe(_tell, settled)


def _tell(settled: list[tuple[Job, Answer]]) -> None:
    for job, answer in settled:
        job.tell(answer)
