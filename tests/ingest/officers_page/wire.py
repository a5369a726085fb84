"""A wire between phone and office that can be cut: what is under way is lost, at whichever end it happens to be."""

import socket
import threading
from contextlib import suppress
from dataclasses import dataclass, field

CHUNK = 65_536


@dataclass
class Wire:
    """Passes bytes on from its own port to another; while cut, every connection breaks and none can be made."""

    to_port: int
    cut_off: bool = False
    _listener: socket.socket = field(default_factory=lambda: socket.create_server(("127.0.0.1", 0)))
    _ends: set[socket.socket] = field(default_factory=set)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def __post_init__(self) -> None:
        threading.Thread(target=self._take, daemon=True).start()

    @property
    def port(self) -> int:
        return int(self._listener.getsockname()[1])

    def cut(self) -> None:
        """No signal, from this moment on."""
        with self._lock:
            self.cut_off = True
            ends, self._ends = self._ends, set()
        for end in ends:
            _close(end)

    def mend(self) -> None:
        """Signal again."""
        self.cut_off = False

    def close(self) -> None:
        self.cut()
        _close(self._listener)

    def _take(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
            except OSError:
                return
            with self._lock:
                if self.cut_off:
                    _close(near)
                    continue
                far = socket.create_connection(("127.0.0.1", self.to_port))
                self._ends |= {near, far}
            for one, other in ((near, far), (far, near)):
                threading.Thread(target=self._pass_on, args=(one, other), daemon=True).start()

    def _pass_on(self, one: socket.socket, other: socket.socket) -> None:
        with suppress(OSError):
            while data := one.recv(CHUNK):
                other.sendall(data)
        for end in (one, other):
            _close(end)
        with self._lock:
            self._ends -= {one, other}


def _close(end: socket.socket) -> None:
    # a socket that another thread waits on is only woken by being shut down first
    with suppress(OSError):
        end.shutdown(socket.SHUT_RDWR)
    end.close()
