"""Under whose name things are written down: the person signed in (see who)."""

from dashboard import who


def name() -> str:
    """The name of the person signed in."""
    return who.name()


def ask() -> None:
    """Nobody is asked: whoever sees a page is signed in."""


def show() -> None:
    """Under whose name what is done here is written down."""
    who.written_under()
