"""A request's body, read without trusting it: no more than fits, in time, and JSON of one meaning only."""

import asyncio
import json
import re

from starlette.requests import ClientDisconnect, Request

from county.errors import PollriseError, Problem, Refused

LARGEST_BODY = 4 * 1024 * 1024
READ_WITHIN = 30.0
BEGINS = 64_000
WHOLE = "body"
_LONGEST_NUMBER = 20
_BEYOND_ANY_COUNT = 10**_LONGEST_NUMBER
_BETWEEN = re.compile(r"[ \t\r\n,:]*")


class TooLarge(PollriseError):
    """More was sent than is taken at once; `begins` is how it begins, `unread` whether more of it is still coming."""

    def __init__(self, says: str, begins: bytes = b"", *, unread: bool = True) -> None:
        self.begins = begins
        self.unread = unread
        super().__init__(says)


class TooSlow(PollriseError):
    """The body did not arrive in time."""


class Repeated(dict[str, object]):
    """An object that says a field twice: which of the two is meant cannot be known."""

    def __init__(self, pairs: list[tuple[str, object]]) -> None:
        super().__init__(pairs)
        self.again = _first_repeated(pairs)


async def read_body(request: Request) -> bytes:
    """The whole body, at most 4 MB. Errors: TooLarge as soon as it is known, TooSlow after 30 seconds."""
    length = request.headers.get("content-length", "")
    if length.isdecimal() and (len(length) > _LONGEST_NUMBER or int(length) > LARGEST_BODY):
        raise TooLarge(_too_large())
    try:
        async with asyncio.timeout(READ_WITHIN):
            return await _up_to(request, LARGEST_BODY)
    except TimeoutError:
        raise TooSlow(f"the body did not arrive within {READ_WITHIN:.0f} seconds") from None


async def _up_to(request: Request, most: int) -> bytes:
    parts: list[bytes] = []
    read, more = 0, True
    while more:
        message = await request.receive()
        if message["type"] == "http.disconnect":
            raise ClientDisconnect
        part, more = message.get("body", b""), message.get("more_body", False)
        parts.append(part)
        read += len(part)
        if read > most:
            raise TooLarge(_too_large(), b"".join(parts)[:BEGINS])
    return parts[0] if len(parts) == 1 else b"".join(parts)


def _too_large() -> str:
    return f"more than {LARGEST_BODY // 1024 // 1024} MB; send it in parts"


def read_text(body: bytes) -> str:
    """The body as text. Errors: Refused where it is empty or not UTF-8."""
    try:
        text = body.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused([Problem(WHOLE, f"is not UTF-8 (byte {error.start + 1})")]) from None
    if not text.strip():
        raise Refused([Problem(WHOLE, "is empty")])
    return text


def read_json(text: str) -> object:
    """The JSON value (RFC 8259). An object that says a field twice comes back as Repeated, for its reader to refuse;
    a number no count can be comes back as one that is refused by its field. Errors: Refused where it is not JSON.
    """
    try:
        return _DECODER.decode(text)
    except json.JSONDecodeError as error:
        says = f"is not JSON: {error.msg} (line {error.lineno}, column {error.colno})"
        raise Refused([Problem(WHOLE, says)]) from None
    except RecursionError:
        raise Refused([Problem(WHOLE, "is nested too deep")]) from None


def report_texts(text: str) -> list[str]:
    """Each report of a batch as it was sent, from a text that read_json has read."""
    at = _next(text, text.index("{") + 1)
    while text[at] != "}":
        name, at = _DECODER.raw_decode(text, at)
        at = _next(text, at)
        if name == "reports":
            return _items(text, _next(text, at + 1))
        at = _next(text, _DECODER.raw_decode(text, at)[1])
    return []


def _items(text: str, at: int) -> list[str]:
    items: list[str] = []
    while text[at] != "]":
        end = _DECODER.raw_decode(text, at)[1]
        items.append(text[at:end])
        at = _next(text, end)
    return items


def _next(text: str, at: int) -> int:
    found = _BETWEEN.match(text, at)
    return found.end() if found else at


def _first_repeated(pairs: list[tuple[str, object]]) -> str:
    seen: set[str] = set()
    for name, _ in pairs:
        if name in seen:
            return name
        seen.add(name)
    return ""


def _object(pairs: list[tuple[str, object]]) -> dict[str, object]:
    said = dict(pairs)
    return said if len(said) == len(pairs) else Repeated(pairs)


def _whole(digits: str) -> int:
    return int(digits) if len(digits) <= _LONGEST_NUMBER else _BEYOND_ANY_COUNT


_DECODER = json.JSONDecoder(object_pairs_hook=_object, parse_int=_whole)
