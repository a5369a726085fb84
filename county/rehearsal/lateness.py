"""Which places open late on a made-up day, by how much, and why."""

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from county.domain.effects import Effect
from county.domain.roster import Place, Roster
from county.rehearsal.regimes import Regime
from county.rehearsal.sent import chance, lognormal

MEDIAN_MINUTES, SIGMA = 20.0, 0.7
LONGEST_MINUTES = 170.0


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a place opens late: the step that cannot be done, and what is told about it.

    `lasts` is true where it is told as an interruption, which ends; `on` is the device type it concerns, or empty.
    """

    step: str
    exception: str
    effect: Effect
    says: str
    on: str = ""
    lasts: bool = False


@dataclass(frozen=True, slots=True)
class Delay:
    """One place's late opening: whole minutes after its own opening time, and the cause."""

    minutes: int
    cause: Cause


DELIVERY = Cause(
    "seals-checked", "other", Effect.AT_RISK, "The delivery van has not come: no scanner and no ballots here yet."
)
OWN_CAUSES: tuple[tuple[int, Cause], ...] = (
    (3, Cause("staffed", "officers-short", Effect.AT_RISK, "Two officers have not come and do not pick up the phone.")),
    (3, Cause("site-ready", "other", Effect.AT_RISK, "The inner door is locked; the caretaker is on the way.")),
    (2, Cause("powered", "no-power", Effect.STOPPED, "No light on the strip and none in the room.", lasts=True)),
    (2, Cause("zero-report", "scanner-fault", Effect.IMPAIRED, "Prints half a tape and stops.", on="scanner")),
    (1, Cause("pollbooks-ready", "pollbook-outage", Effect.IMPAIRED, "Pollbooks ask for an update.", lasts=True)),
    (1, DELIVERY),
)


def delays(roster: Roster, regime: Regime, seed: str) -> dict[str, Delay]:
    """The places that open late. Each place's luck is its own, except along a delayed route."""
    routes = _delayed_routes(roster, regime.on_delayed_routes, chance(seed, "routes"))
    found: dict[str, Delay] = {}
    for place in roster.places:
        rng = chance(seed, place.place, "late")
        if rng.random() < (regime.late_on_route if _route(place) in routes else regime.late):
            on_route = routes.get(_route(place))
            found[place.place] = _own_delay(rng) if on_route is None else Delay(_along(on_route, rng), DELIVERY)
    return found


def _own_delay(rng: Random) -> Delay:
    weights, causes = zip(*OWN_CAUSES, strict=True)
    return Delay(_whole(lognormal(rng, MEDIAN_MINUTES, SIGMA)), rng.choices(causes, weights)[0])


def _along(route_minutes: float, rng: Random) -> int:
    """A place's share of its route's delay: much the same all along it."""
    return _whole(route_minutes * lognormal(rng, 1.0, 0.25))


def _whole(minutes: float) -> int:
    return max(1, round(min(minutes, LONGEST_MINUTES)))


def _route(place: Place) -> str:
    return place.route or place.zone or place.place


def _delayed_routes(roster: Roster, share: float, rng: Random) -> Mapping[str, float]:
    """One route or a few that come as near as they can to this share of the places, and each one's delay in minutes."""
    sizes: dict[str, int] = {}
    for place in roster.places:
        sizes[_route(place)] = sizes.get(_route(place), 0) + 1
    wanted, so_far, chosen = share * len(roster.places), 0, []
    for route in rng.sample(sorted(sizes), len(sizes)):
        if abs(so_far + sizes[route] - wanted) < abs(so_far - wanted):
            chosen.append(route)
            so_far += sizes[route]
    return {route: max(8.0, lognormal(rng, MEDIAN_MINUTES, SIGMA)) for route in chosen}
