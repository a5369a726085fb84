"""A lean HTTP client for benchmarks: some connections, each sending its next request when the last is answered."""

import asyncio
import time
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass
class Run:
    """What a run came to: answers counted by status, the time each took in seconds, the whole time."""

    statuses: dict[int, int] = field(default_factory=dict)
    took: list[float] = field(default_factory=list)
    seconds: float = 0.0

    def add(self, other: "Run") -> None:
        """Count another run of the same kind with this one."""
        for status, times in other.statuses.items():
            self.statuses[status] = self.statuses.get(status, 0) + times
        self.took += other.took
        self.seconds += other.seconds

    def a_second(self, status: int = 201) -> float:
        """Answers with this status a second."""
        return self.statuses.get(status, 0) / self.seconds

    def milliseconds(self, share: float) -> float:
        """The time under which this share of the answers came."""
        return sorted(self.took)[int(share * (len(self.took) - 1))] * 1_000


class _Connection(asyncio.Protocol):
    def __init__(self, request: Callable[[], bytes], until: float, run: Run, done: asyncio.Future[None]) -> None:
        self._request, self._until, self._run, self._done = request, until, run, done
        self._held = b""

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        assert isinstance(transport, asyncio.Transport)
        self._transport = transport
        self._send()

    def data_received(self, data: bytes) -> None:
        self._held += data
        end = self._held.find(b"\r\n\r\n")
        if end < 0:
            return
        head = self._held[:end].lower()
        length = int(head.split(b"content-length: ", 1)[1].split(b"\r\n", 1)[0])
        if len(self._held) < end + 4 + length:
            return
        status = int(head[9:12])
        now = time.perf_counter()
        self._run.statuses[status] = self._run.statuses.get(status, 0) + 1
        self._run.took.append(now - self._sent)
        self._held = b""
        if now < self._until:
            self._send()
        else:
            self._transport.close()
            self._done.set_result(None)

    def connection_lost(self, error: Exception | None) -> None:
        if not self._done.done():
            self._done.set_exception(error or ConnectionError("the server closed the connection"))

    def _send(self) -> None:
        self._sent = time.perf_counter()
        self._transport.write(self._request())


async def load(port: int, request: Callable[[], bytes], connections: int, seconds: float) -> Run:
    """Send for so many seconds over so many connections."""
    run, loop = Run(), asyncio.get_running_loop()
    began = time.perf_counter()
    done = [loop.create_future() for _ in range(connections)]
    for future in done:
        make = lambda future=future: _Connection(request, began + seconds, run, future)  # noqa: E731
        await loop.create_connection(make, "127.0.0.1", port)
    await asyncio.gather(*done)
    run.seconds = time.perf_counter() - began
    return run


def post(path: str, body: bytes, key: str = "") -> bytes:
    """One POST request as it goes over the wire."""
    head = f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
    head += f"Authorization: Bearer {key}\r\n" if key else ""
    return f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body
