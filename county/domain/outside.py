"""What of a case may be told outside the office: never what was recorded at final testing."""

from collections.abc import Mapping
from types import MappingProxyType

from county.domain.cases import Case

# what was recorded is not told to the place, neither before nor after the found number is known
_KEPT_BACK: Mapping[str, str] = MappingProxyType(
    {
        "seal-mismatch": "The number typed is not the number on record for this seal.",
        "seal-broken": "The seal was reported as not whole.",
        "custody-gap": "The office is looking into how the material came back.",
        "protective-counter-mismatch": "The protective counter typed is not the number on record for this device.",
    }
)


def says_outside(case: Case) -> str:
    """What was found, in words that give nothing away."""
    return _KEPT_BACK.get(case.exception, case.says)
