"""Who may report: a place with its own key, a rover with its own, or a named desk at the office."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sender:
    """Who authenticated. `place` is the one place it may report for, `rover` the one rover whose cases it may act on.

    Where both are None it is a desk, which may report for any place and act on any case.
    """

    name: str
    shown: str
    place: str | None = None
    rover: str | None = None

    @classmethod
    def at_place(cls, place: str) -> "Sender":
        return cls(f"place:{place}", place, place)

    @classmethod
    def on_the_road(cls, rover: str) -> "Sender":
        return cls(f"rover:{rover}", rover, rover=rover)

    @classmethod
    def at_desk(cls, name: str) -> "Sender":
        return cls(f"desk:{name}", name)

    @classmethod
    def named(cls, name: str) -> "Sender":
        """The sender with this full name, such as `place:P014`, `rover:R03` or `desk:Front`."""
        kind, _, rest = name.partition(":")
        made = {"place": cls.at_place, "rover": cls.on_the_road}.get(kind, cls.at_desk)
        return made(rest)

    @property
    def desk(self) -> bool:
        return self.place is None and self.rover is None

    @property
    def whose(self) -> str:
        """Of what this key speaks, in words: `P014`, `rover R03`, `a desk`."""
        return self.place or (f"rover {self.rover}" if self.rover else "a desk")
