"""The line that acknowledges a message from the office: the one that waits, or the one sent at the time given."""

from collections.abc import Iterable

from county.domain.broadcasts import Broadcast
from county.domain.text_line.line import FILLERS, Line, Raw, Unclear, Understood

_A_LINE = 40
_AROUND = FILLERS | {"it", "message", "msg", "your", "sent", "office", "all", "officers", "officer"}


def may_acknowledge(messages: Iterable[Broadcast], key: str) -> tuple[Broadcast, ...]:
    """What a line with this key may acknowledge: what nobody has, or what it has itself where it comes once more."""
    every = tuple(messages)
    own = tuple(each for each in every if each.seen_key == key or each.seen_key.startswith(f"{key}."))
    return own or tuple(each for each in every if each.seen_at is None)


def seen(line: Line) -> Understood:
    """The only message that waits is meant; of several the one sent at this time of day, so that none is guessed."""
    said = [word for word in line.words if word.casefold() not in _AROUND]
    sent = {_sent(each, line) for each in line.messages}
    for word in said:
        if _digits(word) not in sent:
            raise Unclear(f'no message that waits was sent at "{word[:20]}"')
    meant = [each for each in line.messages if _sent(each, line) in map(_digits, said)]
    if not meant and len(line.messages) > 1:
        times = " or ".join(_sent(each, line) for each in line.messages[:3])
        raise Unclear(f"{len(line.messages)} messages wait: add when it was sent, {times}")
    if not line.messages:
        raise Unclear("no message waits to be acknowledged")
    told = meant or list(line.messages)
    raws: tuple[Raw, ...] = tuple(
        {"kind": "message-seen", "message": each.message, "role": line.plan.word("officer")} for each in told
    )
    return Understood(raws, f"seen: {'; '.join(_begun(each.text) for each in told)}")


def _sent(message: Broadcast, line: Line) -> str:
    return f"{message.sent_at.astimezone(line.zone):%H%M}"


def _digits(word: str) -> str:
    digits = word.replace(":", "")
    return digits.zfill(4) if digits.isdecimal() else ""


def _begun(text: str) -> str:
    plain = " ".join(text.split())
    said = plain if len(plain) <= _A_LINE else f"{plain[: _A_LINE - 3].rstrip(' .')}..."
    return f'"{said}"'
