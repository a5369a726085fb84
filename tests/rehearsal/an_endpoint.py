"""A tiny endpoint that answers as told, over a real socket, and remembers what it was sent."""

import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any

Answer = tuple[int, dict[str, str]] | None


@dataclass
class Heard:
    """What was asked, in order; `answers` are given first (None: the connection is cut), then 201 or a batch's 200."""

    answers: list[Answer]
    bodies: list[Any] = field(default_factory=list)
    keys: list[str | None] = field(default_factory=list)
    port: int = 0


@contextmanager
def an_endpoint(answers: Sequence[Answer] = ()) -> Iterator[Heard]:
    """Serve on a free port until the end of the block."""
    heard = Heard(list(answers))

    class Door(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
            heard.bodies.append(body)
            heard.keys.append(self.headers["Authorization"])
            answer = heard.answers.pop(0) if heard.answers else (200 if "reports" in body else 201, {})
            if answer is None:
                self.connection.close()
                return
            status, headers = answer
            receipts = [{"outcome": "kept"} for _ in body.get("reports", ())]
            text = json.dumps({"receipts": receipts}).encode()
            self.send_response(status)
            for name, value in (headers | {"Content-Length": str(len(text))}).items():
                self.send_header(name, value)
            self.end_headers()
            self.wfile.write(text)

        def log_message(self, *said: object) -> None:
            return

    server = ThreadingHTTPServer(("127.0.0.1", 0), Door)
    heard.port = server.server_address[1]
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    try:
        yield heard
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
