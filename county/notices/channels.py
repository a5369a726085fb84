"""The ways a notice is carried: the console, or whatever an address in Apprise's form names."""

import logging
import threading
from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from county.domain.plan_people import CONSOLE, SETTING
from county.errors import PollriseError

if TYPE_CHECKING:
    from apprise import AppriseAsset

_WORDS: Mapping[str, str] = MappingProxyType(
    {
        CONSOLE: "console",
        "mailto": "e-mail",
        "mailtos": "e-mail",
        "form": "webhook",
        "forms": "webhook",
        "json": "webhook",
        "jsons": "webhook",
        "xml": "webhook",
        "xmls": "webhook",
        "": "no channel",
    }
)
_printing = threading.Lock()
log = logging.getLogger(__name__)


class NotTaken(PollriseError):
    """A channel did not take a notice; says why, for the office's eyes."""


def address_of(notice: str, addresses: Mapping[str, str]) -> str:
    """The address behind what the plan says of a person; empty where the settings do not have it."""
    return addresses.get(notice.removeprefix(SETTING), "") if notice.startswith(SETTING) else notice


def channel_word(address: str) -> str:
    """What people call the channel of an address; the address itself is never shown."""
    scheme = address.partition(":")[0]
    return _WORDS.get(scheme, scheme)


def fault(notice: str, addresses: Mapping[str, str]) -> str:
    """What is wrong with what the plan says of a person; empty where it can be used."""
    address = address_of(notice, addresses)
    if not address:
        return f"POLLRISE_NOTICE_TO_{notice.removeprefix(SETTING)} is not set"
    if address == CONSOLE:
        return ""
    from apprise import Apprise

    return "" if Apprise.instantiate(address, asset=_asset()) else f"the {channel_word(address)} address cannot be used"


def carry(address: str, title: str, body: str) -> None:
    """Hand a notice to its channel and wait until it is taken. Raises NotTaken."""
    (_console if address == CONSOLE else _apprise)(address, title, body)


def _console(address: str, title: str, body: str) -> None:
    rule = "-" * 72
    try:
        with _printing:
            print(f"{rule}\n{title}\n\n{body}\n{rule}", flush=True)
    except (OSError, ValueError) as error:
        raise NotTaken(f"the console is closed: {error}") from None


def _apprise(address: str, title: str, body: str) -> None:
    from apprise import Apprise, NotifyFormat

    channel = Apprise(asset=_asset())
    if not address or not channel.add(address):
        raise NotTaken("the address cannot be used")
    result = channel.notify(title=title, body=body, body_format=NotifyFormat.TEXT)
    if not result:
        said = [entry.message for entry in result.logs() if entry.level in ("WARNING", "ERROR")]
        raise NotTaken("; ".join(said) or "it was not taken")


@cache
def _asset() -> "AppriseAsset":
    """How Apprise speaks for us: in our name, no pictures from elsewhere, nothing kept, nothing repeated."""
    from apprise import AppriseAsset

    # what goes wrong is said by us, with the person's name and without an address
    its_own = logging.getLogger("apprise")
    its_own.propagate = False
    its_own.addHandler(logging.NullHandler())
    return AppriseAsset(
        app_id="Pollrise",
        app_desc="A county's election-day command board",
        app_url="",
        image_url_mask="",
        image_url_logo="",
        storage_mode="memory",
        async_mode=False,
        service_timeout=0,
        http_redirects=False,
        interpret_emojis=False,
    )


def within(seconds: float, work: Callable[[], None], name: str) -> None:
    """Do work that may hang; after so long it is left to itself. Raises NotTaken where it hangs or fails."""
    failed: list[NotTaken] = []

    def attempt() -> None:
        try:
            work()
        except NotTaken as error:
            failed.append(error)
        except Exception as error:  # noqa: BLE001  the thread's outermost level: whatever broke, it was not taken
            log.warning("%s: the channel broke: %s", name, type(error).__name__)
            failed.append(NotTaken(f"the channel broke: {type(error).__name__}"))

    thread = threading.Thread(target=attempt, name=name, daemon=True)
    thread.start()
    thread.join(seconds)
    if thread.is_alive():
        raise NotTaken(f"no answer within {seconds:g} s")
    if failed:
        raise failed[0]
