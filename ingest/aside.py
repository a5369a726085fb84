"""What was refused, as it is set aside: who sent it, why, and the text as it came."""

from collections.abc import Iterable

from county.domain.intake import KEY, Hand
from county.domain.receipts import SetAside
from county.errors import Problem

REFUSED, NOT_ALLOWED, TOO_LARGE = "refused", "not-allowed", "too-large"


def set_aside(
    hand: Hand, reason: str, problems: Iterable[Problem], raw: bytes | str, *, key: object = "", source: str = ""
) -> SetAside:
    """What to keep of a refused report; bytes that are no text are written as escapes."""
    return SetAside(
        key=key if isinstance(key, str) and KEY.fullmatch(key) else "",
        sender=hand.sender,
        door=hand.door,
        received_at=hand.received_at,
        reason=reason,
        problems=tuple(problems),
        raw=raw.decode("utf-8", "backslashreplace") if isinstance(raw, bytes) else raw,
        source=source,
    )
