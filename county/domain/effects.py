"""How a trouble bears on voting: the board's only measure of severity."""

from enum import StrEnum


class Effect(StrEnum):
    """Severity by effect on voting, worst first; never by how loud the caller is."""

    DANGER = "danger"
    STOPPED = "stopped"
    IMPAIRED = "impaired"
    AT_RISK = "at-risk"
    RECORD = "record"

    @property
    def rank(self) -> int:
        """0 is the worst."""
        return _RANKS[self]


_RANKS = {effect: rank for rank, effect in enumerate(Effect)}


def worst(*effects: Effect) -> Effect:
    """The most severe of the given effects."""
    return min(effects, key=_RANKS.__getitem__)


def effect_of(text: str, otherwise: Effect) -> Effect:
    """The effect with this name; another where there is none."""
    return Effect(text) if text in _RANKS else otherwise
