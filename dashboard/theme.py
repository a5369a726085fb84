"""Colours, and how Streamlit is set up: nothing sent out, no stack trace to a person, light and dark.

The eight colours are the Okabe-Ito palette (Okabe and Ito, Color Universal Design, 2008), safe for colour-blind
readers. A status is always a word and a shape as well.
"""

from collections.abc import Mapping
from types import MappingProxyType

from county.settings import Settings
from dashboard.sign_in.guard import SESSION_HEADER
from dashboard.who import USER_KEY

BLACK, ORANGE, SKY, GREEN = "#000000", "#E69F00", "#56B4E9", "#009E73"
YELLOW, BLUE, VERMILLION, PURPLE = "#F0E442", "#0072B2", "#D55E00", "#CC79A7"
GREY = "#7A8794"

LIGHT: Mapping[str, str] = MappingProxyType(
    {
        "backgroundColor": "#FFFFFF",
        "secondaryBackgroundColor": "#F2F5F8",
        "textColor": "#17222D",
        "borderColor": "#D3DBE3",
        "linkColor": "#00609A",
        "primaryColor": BLUE,
    }
)
DARK: Mapping[str, str] = MappingProxyType(
    {
        "backgroundColor": "#11171E",
        "secondaryBackgroundColor": "#1B242E",
        "textColor": "#E8EEF4",
        "borderColor": "#3A4653",
        "linkColor": "#8ACDF2",
        "primaryColor": BLUE,
    }
)

_SHARED: Mapping[str, object] = MappingProxyType(
    {
        "theme.font": "sans-serif",
        "theme.baseFontSize": 15,
        "theme.baseRadius": "6px",
        "theme.paddingTop": "0.75rem",
        "theme.paddingBottom": "1.5rem",
        "theme.headingFontSizes": ["28px", "20px", "16px", "15px", "14px", "13px"],
        "theme.headingFontWeights": [650, 650, 650, 600, 600, 600],
        "theme.chartCategoricalColors": [BLUE, VERMILLION, GREEN, ORANGE, SKY, PURPLE, GREY],
        "browser.gatherUsageStats": False,
        # the collection after every run takes 60 to 75 ms with the lock held; gc.freeze() at the start does without
        "runner.postScriptGC": False,
        "runner.magicEnabled": False,
        "client.toolbarMode": "minimal",
        "client.showErrorDetails": "none",
        "client.showErrorLinks": False,
        "client.showSidebarNavigation": True,
        "logger.hideWelcomeMessage": True,
        "server.headless": True,
        "server.fileWatcherType": "none",
        "server.runOnSave": False,
        "server.enableAgentApi": False,
        "server.enableWebsocketCompression": True,
        "server.maxUploadSize": 20,
    }
)


def options(settings: Settings) -> dict[str, object]:
    """Every Streamlit option the board sets, by dotted name; they win over any config.toml lying about."""
    colours = {f"theme.light.{name}": value for name, value in LIGHT.items()} | {
        f"theme.dark.{name}": value for name, value in DARK.items()
    }
    served = {
        "server.address": settings.host,
        "server.port": settings.board_port,
        # the guard at the door has looked at the host already, and knows more of its names
        "server.allowedHosts": [],
        "server.trustedUserHeaders": {SESSION_HEADER: USER_KEY},
    }
    return {**_SHARED, **colours, **served}


MIDTONE = "#6A7B8C"
"""Seen as well on the light ground as on the dark: 4.3 and 4.2 to 1."""

MARKS: Mapping[str, tuple[str, str, bool]] = MappingProxyType(
    {
        "unheard": ("circle", MIDTONE, False),
        "preparing": ("circle", BLUE, False),
        "ready": ("circle", BLUE, True),
        "not-due": ("circle", MIDTONE, False),
        "held-up": ("square", VERMILLION, False),
        "late": ("triangle-right", VERMILLION, True),
        "expected-late": ("triangle-right", VERMILLION, False),
        "open": ("circle", GREEN, True),
        "impaired": ("triangle-up", ORANGE, True),
        "stopped": ("square", VERMILLION, True),
        "closed": ("stroke", MIDTONE, False),
        "received": ("stroke", MIDTONE, True),
        "danger": ("cross", VERMILLION, True),
        "at-risk": ("diamond", ORANGE, False),
        "record": ("square", MIDTONE, False),
    }
)
"""Shape, colour and whether it is filled, for a standing or an effect; look.css and places_map.js draw alike."""
