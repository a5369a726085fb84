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
    """`names` are the board's; where it listens on every address, any address of a machine is too.

    `netloc` is the board's own address as people reach it, empty where that is whatever they asked for.
    """

    names: frozenset[str]
    any_address: bool
    proxies: frozenset[str]
    netloc: str = ""

    def ours(self, asked: HTTPConnection) -> bool:
        """Whether a request was meant for this board: another site's name that leads here by trickery is refused."""
        name = _host(asked.headers.get("host", ""))
        return name in self.names or (self.any_address and _is_address(name))

    def own_page(self, asked: HTTPConnection) -> bool:
        """Whether what asks is a page of this very board, or no page at all: other ports of a machine are others."""
        origin = asked.headers.get("origin")
        return origin is None or urlsplit(origin).netloc == (self.netloc or asked.headers.get("host", ""))

    def address(self, asked: HTTPConnection) -> str:
        """From where somebody asks; what a proxy says is believed only of the county's own proxies."""
        peer = asked.client.host if asked.client else ""
        hops = [peer, *reversed([hop.strip() for hop in asked.headers.get(FORWARDED, "").split(",") if hop.strip()])]
        return next((hop for hop in hops if hop not in self.proxies), peer)


def hosts_of(settings: Settings) -> Hosts:
    """The names that these settings give the board."""
    everywhere = settings.host in EVERYWHERE
    netloc = urlsplit(settings.signing.address).netloc
    named = {settings.host.casefold(), _host(netloc)}
    machine = {socket.gethostname().casefold(), socket.getfqdn().casefold()} if everywhere else set()
    return Hosts(
        frozenset(LOOPBACK | (named - {""}) | machine), everywhere, frozenset(settings.signing.proxies), netloc
    )


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
