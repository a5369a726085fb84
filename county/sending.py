"""How patiently notices are sent, and addresses that are kept out of the plan; from POLLRISE_NOTICE_ variables."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from random import Random
from types import MappingProxyType

from county.errors import BadSetting

_PREFIX = "NOTICE_"
_TO = "NOTICE_TO_"
_SECONDS = re.compile(r"\d{1,6}(\.\d{1,3})?", re.ASCII)
_WHOLE = re.compile(r"[1-9]\d{0,3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Sending:
    """A notice is given up after `tries`; between two it waits `first_wait`, doubled each time, up to `longest_wait`.

    One try may take `timeout`. More than a few notices of one kind to one person within `burst` are sent together.
    `addresses` are those that the plan calls `setting:NAME`.
    """

    tries: int = 8
    first_wait: timedelta = timedelta(seconds=5)
    longest_wait: timedelta = timedelta(minutes=5)
    timeout: timedelta = timedelta(seconds=20)
    burst: timedelta = timedelta(seconds=60)
    addresses: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def wait_after(self, tries: int, luck: Random) -> timedelta:
        """How long to wait after so many tries (from 1): doubled each time, and half of it left to chance.

        Chance keeps those that failed together from all coming back together.
        """
        doubled = self.first_wait.total_seconds() * 2.0 ** min(tries - 1, 40)
        return timedelta(seconds=min(self.longest_wait.total_seconds(), doubled) * luck.uniform(0.5, 1.0))


def sending_from(said: Mapping[str, str]) -> Sending:
    """Read what is said without the POLLRISE_ before it. Raises BadSetting naming the variable."""
    usual = Sending()
    read = {name: value for name, value in said.items() if name.startswith(_PREFIX) and value}
    addresses = {name.removeprefix(_TO): read.pop(name) for name in list(read) if name.startswith(_TO)}
    return Sending(
        tries=_whole("TRIES", read.get("NOTICE_TRIES", str(usual.tries))),
        first_wait=_seconds("FIRST_WAIT", read, usual.first_wait),
        longest_wait=_seconds("LONGEST_WAIT", read, usual.longest_wait),
        timeout=_seconds("TIMEOUT", read, usual.timeout, least=0.1),
        burst=_seconds("BURST", read, usual.burst),
        addresses=MappingProxyType(addresses),
    )


def _seconds(name: str, read: Mapping[str, str], usual: timedelta, least: float = 0) -> timedelta:
    text = read.get(_PREFIX + name)
    if text is None:
        return usual
    if not _SECONDS.fullmatch(text) or float(text) < least:
        raise BadSetting(
            f"POLLRISE_{_PREFIX}{name} must be seconds{f' from {least}' if least else ''}, not {text[:40]!r}"
        )
    return timedelta(seconds=float(text))


def _whole(name: str, text: str) -> int:
    if not _WHOLE.fullmatch(text):
        raise BadSetting(f"POLLRISE_{_PREFIX}{name} must be a whole number from 1 to 9999, not {text[:40]!r}")
    return int(text)
