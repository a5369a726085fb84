"""Addresses that may hold a password do not belong into the ledger, which is never erased and may become public."""

from collections.abc import Iterator
from urllib.parse import parse_qsl, urlsplit

from county.domain.plan import Plan
from county.errors import Problem

_PLAIN = ("console", "")
_MAIL = ("mailto", "mailtos")
_HARMLESS = frozenset({"to", "cc", "bcc", "from", "name", "smtp", "mode", "format", "reply"})


def exposed(plan: Plan) -> tuple[Problem, ...]:
    """Everybody whose address may hold a password, with what to do about it; no address is repeated.

    Only `console`, `setting:NAME` and a mail address without name and password are known to hold none.
    """
    return tuple(_exposed(plan))


def _exposed(plan: Plan) -> Iterator[Problem]:
    for person in plan.people:
        if not _is_plain(person.notice):
            says = (
                'its address may hold a password: write notice = "setting:NAME" and put it in POLLRISE_NOTICE_TO_NAME'
            )
            yield Problem(f"person {person.name}", says)


def _is_plain(notice: str) -> bool:
    if notice in _PLAIN or notice.startswith("setting:"):
        return True
    try:
        parts = urlsplit(notice)
        said = {name for name, _ in parse_qsl(parts.query, keep_blank_values=True)}
        return parts.scheme in _MAIL and not parts.password and said <= _HARMLESS
    except ValueError:
        return False
