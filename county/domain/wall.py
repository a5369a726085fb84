"""Wall time as people read it in a record: to the minute or second, and how many days it is from election day."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class Wall:
    """Wall time in a zone; a moment of another day than `day`, if any, says how many days apart: `01:04 +1 d`."""

    zone: ZoneInfo
    day: date | None = None

    def minute(self, moment: datetime | None) -> str:
        """To the minute; empty where there is none."""
        return self._written(moment, "%H:%M")

    def second(self, moment: datetime | None) -> str:
        """To the second; empty where there is none."""
        return self._written(moment, "%H:%M:%S")

    def days_apart(self, moment: datetime) -> int:
        """How many days after election day a moment is; negative before it."""
        return (moment.astimezone(self.zone).date() - self.day).days if self.day else 0

    def _written(self, moment: datetime | None, form: str) -> str:
        if moment is None:
            return ""
        local, apart = moment.astimezone(self.zone), self.days_apart(moment)
        # neither space breaks, so that a time stays in one piece
        return f"{local:{form}}\u00a0{apart:+}\u00a0d" if apart else f"{local:{form}}"
