"""One row of a list to choose from: what it is called, what it says, and how long it has waited."""

from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True)
class Bar:
    """Time gone by against a target: both as shares of the bar, the target None where the county set none."""

    share: float
    mark: float | None
    over: bool


@dataclass(frozen=True, slots=True)
class ListRow:
    """A row known by its id; `mark` is the shape before its title, `state` stands at the right, loud when `alarm`."""

    id: str
    mark: str
    title: str
    says: str
    beside: str = ""
    state: str = ""
    alarm: bool = False
    chosen: bool = False
    bar: Bar | None = None
    who: str | None = None

    def data(self) -> dict[str, object]:
        """As the element in the browser takes it."""
        return asdict(self)
