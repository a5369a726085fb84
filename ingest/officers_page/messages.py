"""The office's messages as the sheet shows them: those to be acknowledged, and those that were."""

from collections.abc import Iterable
from dataclasses import dataclass

from county.domain.broadcasts import Broadcast
from county.domain.plan import Plan
from ingest.phone.wall import Wall

_IN_CHARGE = "in charge"


@dataclass(frozen=True, slots=True)
class OfMessage:
    """One message: its id, its text, when it was sent, and when and by which role it was acknowledged; else empty."""

    message: str
    text: str
    at: str
    read: str


def of_messages(messages: Iterable[Broadcast], wall: Wall, *, seen: bool) -> tuple[OfMessage, ...]:
    """Those that were acknowledged, or those that were not, oldest first."""
    return tuple(
        OfMessage(each.message, each.text, wall(each.sent_at), _read(each, wall))
        for each in messages
        if (each.seen_at is not None) == seen
    )


def acknowledged_by(plan: Plan) -> tuple[tuple[str, str], ...]:
    """Who acknowledges, by role and not by name, each with what the button says."""
    officer = plan.word("officer")
    return (
        (f"{officer} {_IN_CHARGE}", f"Read by the {officer} {_IN_CHARGE}"),
        (officer, f"Read by another {officer}"),
    )


def _read(message: Broadcast, wall: Wall) -> str:
    if message.seen_at is None:
        return ""
    return " ".join(part for part in (wall(message.seen_at), message.seen_role and f"by {message.seen_role}") if part)
