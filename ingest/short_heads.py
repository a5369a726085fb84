"""The part of a request before its body, kept short: the parser itself would take one without end."""

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

LONGEST_HEAD = 65_536
_REFUSAL = (
    b'{"type":"about:blank","title":"Request Header Fields Too Large","status":431,'
    b'"detail":"the request line and headers are longer than 64 kB",'
    b'"errors":[{"field":"headers","says":"are longer than 64 kB"}]}'
)


class ShortHeads(HttpToolsProtocol):
    """The server's HTTP with a limit of 64 kB on request line and headers."""

    _unended = 0
    _in_head = False

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        self._unended += len(data)
        if self._in_head and self._unended > LONGEST_HEAD and not self.transport.is_closing():
            self._refuse()

    def on_message_begin(self) -> None:
        self._unended, self._in_head = 0, True
        super().on_message_begin()

    def on_headers_complete(self) -> None:
        self._in_head = False
        super().on_headers_complete()

    def _refuse(self) -> None:
        head = b"HTTP/1.1 431 Request Header Fields Too Large\r\ncontent-type: application/problem+json\r\n"
        length = b"content-length: %d\r\nconnection: close\r\n\r\n" % len(_REFUSAL)
        self.transport.write(head + length + _REFUSAL)
        self.transport.close()
