"""Who may report: a place with its own key, or a named desk at the office."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sender:
    """Who authenticated. `place` is the one place it may report for; None is a desk, which may report for any."""

    name: str
    shown: str
    place: str | None = None

    @classmethod
    def at_place(cls, place: str) -> "Sender":
        return cls(f"place:{place}", place, place)

    @classmethod
    def at_desk(cls, name: str) -> "Sender":
        return cls(f"desk:{name}", name)

    @classmethod
    def named(cls, name: str) -> "Sender":
        """The sender with this full name, such as `place:P014` or `desk:Front`."""
        kind, _, rest = name.partition(":")
        return cls.at_place(rest) if kind == "place" else cls.at_desk(rest)
