"""How people sign in to the board: how long it lasts, how the board is reached, and the county's own provider."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from ipaddress import ip_address

from county.errors import BadSetting

_PREFIX = "POLLRISE_"
_ADDRESS = re.compile(r"(https?)://(\[[0-9A-Fa-f:.]{2,45}\]|[A-Za-z0-9._-]{1,253})(:\d{1,5})?/?", re.ASCII)
_LOOPBACK = re.compile(r"http://(127\.0\.0\.1|localhost|\[::1\])(:\d{1,5})?(/.*)?", re.ASCII)
_CLAIM = re.compile(r"[A-Za-z0-9_.:/-]{1,200}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Provider:
    """The county's OpenID Connect provider. `claim` is what in its answer says who somebody is."""

    issuer: str
    client_id: str
    client_secret: str
    claim: str = "email"


@dataclass(frozen=True, slots=True)
class Signing:
    """`idle` ends a session that nobody used so long, `longest` any. `address` is the board's own where a proxy stands
    before it, empty otherwise; only `proxies` are believed about whom they speak for.
    """

    idle: timedelta = timedelta(minutes=60)
    longest: timedelta = timedelta(hours=24)
    address: str = ""
    proxies: tuple[str, ...] = ()
    provider: Provider | None = None

    @property
    def secure(self) -> bool:
        """Whether people reach the board by https, so that its cookies must never go any other way."""
        return self.address.startswith("https://")


def signing_from(said: Mapping[str, str]) -> Signing:
    """Read the settings, named without their prefix. Raises BadSetting naming the variable."""
    return Signing(
        idle=timedelta(minutes=_number(said, "IDLE_MINUTES", 60, 1, 24 * 60)),
        longest=timedelta(hours=_number(said, "SIGNED_IN_HOURS", 24, 1, 7 * 24)),
        address=_board_address(said.get("BOARD_ADDRESS", "")),
        proxies=_proxies(said.get("PROXIES", "")),
        provider=_provider(said),
    )


def _bad(name: str, says: str) -> BadSetting:
    return BadSetting(f"{_PREFIX}{name} {says}")


def _number(said: Mapping[str, str], name: str, usual: int, least: int, most: int) -> int:
    text = said.get(name) or str(usual)
    if not re.fullmatch(r"\d{1,5}", text, re.ASCII) or not least <= int(text) <= most:
        raise _bad(name, f"must be a whole number from {least} to {most:,}, not {text[:40]!r}")
    return int(text)


def _board_address(text: str) -> str:
    if text and not _ADDRESS.fullmatch(text):
        raise _bad("BOARD_ADDRESS", "must be an address without a path, like https://board.example.gov")
    return text.rstrip("/")


def _proxies(text: str) -> tuple[str, ...]:
    try:
        return tuple(str(ip_address(each)) for each in re.split(r"[\s,]+", text) if each)
    except ValueError:
        raise _bad("PROXIES", "must be the addresses of proxies before the board, like 127.0.0.1, 10.0.4.2") from None


def _provider(said: Mapping[str, str]) -> Provider | None:
    names = ("OIDC_ISSUER", "OIDC_CLIENT_ID", "OIDC_CLIENT_SECRET")
    missing = [name for name in names if not said.get(name)]
    if len(missing) == len(names):
        return None
    if missing:
        raise _bad(missing[0], f"is missing; single sign-on needs {', '.join(_PREFIX + name for name in names)}")
    issuer, claim = said["OIDC_ISSUER"].rstrip("/"), said.get("OIDC_CLAIM") or "email"
    if not issuer.startswith("https://") and not _LOOPBACK.fullmatch(issuer):
        raise _bad("OIDC_ISSUER", "must begin with https://")
    if not said.get("BOARD_ADDRESS"):
        raise _bad("BOARD_ADDRESS", "is missing; the provider sends people back to it")
    if not _CLAIM.fullmatch(claim):
        raise _bad("OIDC_CLAIM", "must be the name of a claim, like email or preferred_username")
    return Provider(issuer, said["OIDC_CLIENT_ID"], said["OIDC_CLIENT_SECRET"], claim)


def as_said(signing: Signing) -> dict[str, str]:
    """The settings as another program of ours reads them from its environment, named without their prefix."""
    provider = signing.provider or Provider("", "", "", "")
    return {
        "IDLE_MINUTES": str(int(signing.idle.total_seconds() // 60)),
        "SIGNED_IN_HOURS": str(int(signing.longest.total_seconds() // 3600)),
        "BOARD_ADDRESS": signing.address,
        "PROXIES": " ".join(signing.proxies),
        "OIDC_ISSUER": provider.issuer,
        "OIDC_CLIENT_ID": provider.client_id,
        "OIDC_CLIENT_SECRET": provider.client_secret,
        "OIDC_CLAIM": provider.claim,
    }
