"""What the county decides about sending rovers: weights, what each kind of trouble needs, speeds, patience."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from county.domain.effects import Effect


@dataclass(frozen=True, slots=True)
class Need:
    """What a kind of trouble needs: minutes on site, a skill, something carried (used up there or not), a rover at all.

    `rover` is false for what is not mended by going there.
    """

    minutes: float = 20.0
    skill: str = ""
    spare: str = ""
    used_up: bool = False
    rover: bool = True


_NOBODY = Need(rover=False)
_SCANNER = Need(30, skill="scanner")

NEEDS: Mapping[str, Need] = MappingProxyType(
    {
        "threat": _NOBODY,
        "medical": _NOBODY,
        "fire": _NOBODY,
        "evacuation": _NOBODY,
        "late-opening": Need(20),
        "expected-late": _NOBODY,
        "step-overdue": _NOBODY,
        "silent": Need(10),
        "message-unseen": _NOBODY,
        "nonzero-start-count": _SCANNER,
        "seal-mismatch": Need(20, spare="seals"),
        "seal-broken": Need(20, spare="seals"),
        "protective-counter-mismatch": _SCANNER,
        "wrong-election": _SCANNER,
        "wrong-precinct": _SCANNER,
        "zero-report-short": _NOBODY,
        "opened-early": _NOBODY,
        "closed-early": _NOBODY,
        "no-power": Need(30, skill="power"),
        "on-battery": Need(20, skill="power"),
        "pollbook-outage": Need(25, skill="pollbook", spare="pollbook", used_up=True),
        "paper-list-missing": Need(10, spare="paper list", used_up=True),
        "scanner-fault": Need(30, skill="scanner", spare="scanner", used_up=True),
        "scanner-jam": Need(15, skill="scanner"),
        "auxiliary-in-use": Need(20, skill="scanner"),
        "accessible-device-down": Need(30, skill="bmd", spare="bmd", used_up=True),
        "accessibility-barrier": Need(20, skill="access"),
        "wrong-ballots": Need(15, spare="ballots"),
        "ballots-short": Need(10, spare="ballots"),
        "ballots-out": Need(10, spare="ballots"),
        "counter-backwards": _NOBODY,
        "counter-jump": _NOBODY,
        "drift": _NOBODY,
        "officers-short": _NOBODY,
        "out-of-balance": _NOBODY,
        "not-closed": _NOBODY,
        "not-received": _NOBODY,
        "item-missing": _NOBODY,
        "custody-gap": _NOBODY,
        "clock-not-changed": _NOBODY,
        "clock-ahead": _NOBODY,
        "same-trouble": _NOBODY,
    }
)
"""The usual needs by kind of exception: starting points without a published source, for the county to set."""

WEIGHTS: Mapping[Effect, float] = MappingProxyType(
    {Effect.DANGER: 27.0, Effect.STOPPED: 9.0, Effect.IMPAIRED: 3.0, Effect.AT_RISK: 1.0, Effect.RECORD: 0.3}
)
"""How much a minute's wait counts by effect: each step about three of the next. A judgement, for the county to set."""


@dataclass(frozen=True)
class DispatchSettings:
    """The county's settings for suggesting rovers; every one has a usual value.

    `needs` holds only what differs from NEEDS. A rover under way is turned only where the whole plan gains more than
    `turn_minutes` at a stopped place. Somebody on site longer than planned is reckoned to need `least_minutes` more.
    Where people are at risk nobody is suggested unless `into_danger` says so: 911 first, and a person decides. `steps`
    of search are done, no more and no fewer, from `seed`. `matrix` is the county's own (from, to → minutes, one way, by
    place id or rover id), read from the file of the plan's `matrix` key, if any.
    """

    needs: Mapping[str, Need] = field(default_factory=lambda: MappingProxyType({}))
    usual: Need = Need()
    weights: Mapping[Effect, float] = field(default_factory=lambda: WEIGHTS)
    keep_zones: bool = False
    into_danger: bool = False
    turn_minutes: float = 10.0
    least_minutes: float = 5.0
    road_factor: float = 1.3
    km_per_hour: float = 45.0
    start_minutes: float = 4.0
    unknown_minutes: float = 30.0
    steps: int = 400_000
    seed: int = 1
    matrix_file: str = ""
    matrix: Mapping[tuple[str, str], float] = field(default_factory=lambda: MappingProxyType({}), repr=False)

    def need(self, kind: str) -> Need:
        """What a kind of exception needs: the county's own word, else the usual one for the kind, else `usual`."""
        return self.needs.get(kind) or NEEDS.get(kind) or self.usual
