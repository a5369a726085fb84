"""One table of a plan file read value by value, each fault said with its line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import time, timedelta
from typing import NoReturn

from county.domain.moments import parse_clock, parse_duration
from county.domain.plan_lines import PlanLines
from county.errors import BadPlan


@dataclass(frozen=True, slots=True)
class PlanTable:
    """A table at `path` of the file, called `what` in messages. Every reader raises BadPlan where it cannot read."""

    file: str
    lines: PlanLines
    path: tuple[str | int, ...]
    what: str
    values: Mapping[str, object]

    def refuse(self, key: str, reason: str) -> NoReturn:
        """Refuse the plan, pointing at this key, or at the table where the key is not there."""
        line = self.lines.line(*self.path, key) if key else self.lines.line(*self.path)
        raise BadPlan(self.file, line, f"{self.what}: {reason}" if self.what else reason)

    def only(self, *known: str) -> None:
        """Refuse names that mean nothing here, so that a typing mistake is not silently lost."""
        for key in self.values:
            if key not in known:
                self.refuse(key, f"unknown name {key!r}".replace("'", '"'))

    def has(self, key: str) -> bool:
        """Whether this name is given."""
        return key in self.values

    def get(self, key: str) -> object:
        """The value as it stands; refused where it is missing."""
        if key not in self.values:
            self.refuse(key, f'"{key}" is missing')
        return self.values[key]

    def text(self, key: str) -> str:
        """A text that is not blank."""
        value = self.get(key)
        if not isinstance(value, str) or not value.strip():
            self.refuse(key, f"{key} {shown(value)} is not a text")
        return value.strip()

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of one or more different texts."""
        value = self.get(key)
        if not isinstance(value, list) or not value or not all(isinstance(one, str) and one.strip() for one in value):
            self.refuse(key, f'{key} {shown(value)} is not a list like ["one", "two"]')
        if len(set(value)) < len(value):
            self.refuse(key, f"{key} names the same thing twice")
        return tuple(one.strip() for one in value)

    def one_of(self, key: str, known: tuple[str, ...]) -> str:
        """One of the known words."""
        value = self.get(key)
        if not isinstance(value, str) or value not in known:
            self.refuse(key, f"{key} {shown(value)} is not one of {', '.join(known)}")
        return value

    def yes_no(self, key: str) -> bool:
        """true or false."""
        value = self.get(key)
        if not isinstance(value, bool):
            self.refuse(key, f"{key} {shown(value)} is not true or false")
        return value

    def whole(self, key: str) -> int:
        """A whole number from 0 to 999,999,999."""
        value = self.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= 999_999_999:
            self.refuse(key, f"{key} {shown(value)} is not a whole number of 0 or more")
        return value

    def number(self, key: str, least: float, most: float) -> float:
        """A number, whole or not, within these limits."""
        value = self.get(key)
        if not isinstance(value, int | float) or isinstance(value, bool) or not least <= value <= most:
            self.refuse(key, f"{key} {shown(value)} is not a number from {least:,g} to {most:,g}")
        return float(value)

    def length(self, key: str) -> timedelta:
        """A length of time such as 45m; never negative."""
        value = self.get(key)
        try:
            length = parse_duration(value) if isinstance(value, str) else None
        except ValueError:
            length = None
        if length is None or length < timedelta(0):
            self.refuse(key, f"{key} {shown(value)} is not a length of time like 45m")
        return length

    def clock(self, key: str) -> time:
        """A wall time such as 06:00."""
        value = self.get(key)
        if isinstance(value, time) and value.tzinfo is None:
            return value
        try:
            return parse_clock(value if isinstance(value, str) else "")
        except ValueError:
            self.refuse(key, f"{key} {shown(value)} is not a time of day like 06:00")

    def table(self, key: str) -> "PlanTable":
        """A table of this table."""
        value = self.values.get(key, {})
        if not isinstance(value, dict):
            self.refuse(key, f"{key} must be a table: [{'.'.join((*map(str, self.path), key))}]")
        return PlanTable(self.file, self.lines, (*self.path, key), f"{self.what}.{key}".lstrip("."), value)

    def items(self, key: str) -> "Iterator[PlanTable]":
        """The tables of a list of tables, in order."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.refuse(key, f"{key} must be tables: [[{key}]]")
        for number, item in enumerate(value):
            named = item.get("key")
            what = f'{key} "{named}"' if isinstance(named, str) else f"{key} {number + 1}"
            yield PlanTable(self.file, self.lines, (*self.path, key, number), what, item)


def shown(value: object) -> str:
    """A value as the file writes it, cut where it is long."""
    if isinstance(value, bool):
        return str(value).lower()
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
