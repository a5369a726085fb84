"""What the officers of one place have to tell on a made-up day, in the order they write it down."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from county.rehearsal.sent import whole_minute


@dataclass(frozen=True, slots=True)
class Told:
    """One report before it is sent: its key, when it happened and when it was told (aware UTC), its other fields, and
    what it plays.
    """

    key: str
    happened_at: datetime
    told_at: datetime
    fields: Mapping[str, object]
    plays: str = ""


@dataclass(slots=True)
class Sheet:
    """One place's sheet; keys count up, so that the same day always has the same keys."""

    place: str
    run: str
    zone: ZoneInfo
    told: list[Told] = field(default_factory=list)

    def tell(
        self, happened_at: datetime, fields: Mapping[str, object], plays: str = "", told_at: datetime | None = None
    ) -> str:
        """Write down one report, to the minute, told at once unless said otherwise; returns its key."""
        key = f"{self.run}.{self.place}.{len(self.told):03d}"[-64:]
        happened_at = whole_minute(happened_at)
        self.told.append(Told(key, happened_at, told_at or happened_at, fields, plays))
        return key

    def wall(self, moment: datetime) -> str:
        """A moment as the place's own wall time, with its offset."""
        return moment.astimezone(self.zone).isoformat(timespec="seconds")
