"""How long the way takes: by great circle and road factor, or by the county's own matrix."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from county.domain.dispatch_settings import DispatchSettings

EARTH_RADIUS_KM = 6371.0088  # mean radius, (2a + b) / 3 of WGS 84


@dataclass(frozen=True, slots=True)
class Spot:
    """Somewhere a rover can be: the name of a place or rover (as the matrix calls it), and where it lies if known."""

    name: str
    latitude: float | None = None
    longitude: float | None = None


@dataclass(frozen=True, slots=True)
class Travel:
    """Expected minutes from spot to spot.

    A way is `start_minutes` for setting off and parking, then the great circle times `road_factor` at `km_per_hour`.
    A pair that stands in `matrix` (from name, to name → minutes, one way) takes what stands there. Where one of the
    two has no coordinates it takes `unknown_minutes`. Staying where one is takes nothing.
    """

    road_factor: float = 1.3
    km_per_hour: float = 45.0
    start_minutes: float = 4.0
    unknown_minutes: float = 30.0
    matrix: Mapping[tuple[str, str], float] = field(default_factory=lambda: MappingProxyType({}))

    @classmethod
    def by(cls, settings: DispatchSettings) -> "Travel":
        """Ways at the county's speed, or by its own matrix where that knows the pair."""
        return cls(
            settings.road_factor,
            settings.km_per_hour,
            settings.start_minutes,
            settings.unknown_minutes,
            settings.matrix,
        )

    def minutes(self, start: Spot, end: Spot) -> float:
        """Expected minutes for one way."""
        return float(self.table([start], [end])[0, 0])

    def table(self, starts: Sequence[Spot], ends: Sequence[Spot]) -> NDArray[np.float64]:
        """Expected minutes from each start (rows) to each end (columns)."""
        km = great_circle_km(_degrees(starts)[:, None, :], _degrees(ends)[None, :, :])
        minutes = self.start_minutes + km * self.road_factor * 60 / self.km_per_hour
        minutes[np.isnan(minutes)] = self.unknown_minutes
        for row, start in enumerate(starts):
            for column, end in enumerate(ends):
                if start.name == end.name:
                    minutes[row, column] = 0.0
                elif self.matrix:
                    minutes[row, column] = self.matrix.get((start.name, end.name), minutes[row, column])
        return minutes


def great_circle_km(start: NDArray[np.float64], end: NDArray[np.float64]) -> NDArray[np.float64]:
    """Kilometres along the great circle between points whose last axis is latitude, longitude in degrees.

    Haversine on a sphere of the mean radius: over a county within 0.3 % of the WGS 84 ellipsoid between latitudes 33
    and 47, within 0.56 % anywhere. NaN goes through.
    """
    first, second = np.radians(start), np.radians(end)
    half = np.sin((second - first) / 2) ** 2
    across = np.cos(first[..., 0]) * np.cos(second[..., 0]) * half[..., 1]
    km: NDArray[np.float64] = 2 * EARTH_RADIUS_KM * np.arcsin(np.sqrt(np.clip(half[..., 0] + across, 0.0, 1.0)))
    return km


def _degrees(spots: Sequence[Spot]) -> NDArray[np.float64]:
    where = [(np.nan, np.nan) if None in (s.latitude, s.longitude) else (s.latitude, s.longitude) for s in spots]
    return np.array(where, dtype=np.float64).reshape(-1, 2)
