"""When each step was done at an earlier election: the curve behind today's."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from county.domain.earlier_steps import EarlierStep


@dataclass(frozen=True)
class Earlier:
    """One earlier election: its name, and for each step the minutes from a place's own opening at which it was done."""

    election: str
    minutes: Mapping[str, Mapping[str, int]]

    @property
    def places(self) -> int:
        return len({place for done in self.minutes.values() for place in done})


def earlier_of(steps: Sequence[EarlierStep]) -> Earlier | None:
    """The earlier election of these steps; None where there are none."""
    minutes: dict[str, dict[str, int]] = {}
    for step in steps:
        minutes.setdefault(step.step, {})[step.place] = step.minutes
    return Earlier(steps[-1].election, minutes) if steps else None
