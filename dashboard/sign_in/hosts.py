"""Under which names the board is reached, and from which address somebody really asks."""

import socket
from dataclasses import dataclass
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.requests import HTTPConnection

from county.settings import Settings

LOOPBACK = frozenset({"localhost", "127.0.0.1", "::1"})
EVERYWHERE = frozenset({"0.0.0.0", "::"})  # noqa: S104  listening so is the county's own setting
FORWARDED = "x-forwarded-for"


@dataclass(frozen=True, slots=True)
class Hosts:
    """`names` are the board's; where it listens on every address, any address of a machine is too."""

    names: frozenset[str]
    any_address: bool
    proxies: frozenset[str]

    def ours(self, asked: HTTPConnection) -> bool:
        """Whether a request was meant for this board: another site's name that leads here by trickery is refused."""
        name = _host(asked.headers.get("host", ""))
        return name in self.names or (self.any_address and _is_address(name))

    def address(self, asked: HTTPConnection) -> str:
        """From where somebody asks; what a proxy says is believed only of the county's own proxies."""
        peer = asked.client.host if asked.client else ""
        hops = [peer, *reversed([hop.strip() for hop in asked.headers.get(FORWARDED, "").split(",") if hop.strip()])]
        return next((hop for hop in hops if hop not in self.proxies), peer)


def hosts_of(settings: Settings) -> Hosts:
    """The names that these settings give the board."""
    everywhere = settings.host in EVERYWHERE
    named = {settings.host.casefold(), _host(urlsplit(settings.signing.address).netloc)}
    machine = {socket.gethostname().casefold(), socket.getfqdn().casefold()} if everywhere else set()
    return Hosts(frozenset(LOOPBACK | (named - {""}) | machine), everywhere, frozenset(settings.signing.proxies))


def _host(netloc: str) -> str:
    try:
        return (urlsplit(f"//{netloc}").hostname or "").casefold().rstrip(".")
    except ValueError:
        return ""


def _is_address(name: str) -> bool:
    try:
        ip_address(name)
    except ValueError:
        return False
    return True
