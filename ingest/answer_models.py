"""The answers described for programs; what is really sent is made in shapes.py, and a test holds the two together."""

from datetime import datetime
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from county.domain.cases import State
from county.domain.effects import Effect
from county.domain.receipts import Outcome
from county.domain.standing import Standing


class FieldProblem(BaseModel):
    """One thing wrong, and with which field."""

    field: str
    says: str


class ProblemDetails(BaseModel):
    """Why a request was refused (RFC 9457)."""

    model_config = ConfigDict(extra="allow")
    type: str
    title: str
    status: int
    detail: str
    errors: list[FieldProblem]


class ReceiptAnswer(BaseModel):
    """The answer to one report; `seq` and `received_at` are those of the entry that stands, where one does."""

    key: str
    outcome: Outcome
    seq: int | None = None
    received_at: datetime | None = None
    says: str | None = None
    errors: list[FieldProblem] | None = None


class ReceiptsAnswer(BaseModel):
    """One receipt for each report of a batch, in order."""

    receipts: list[ReceiptAnswer]


class PlaceAnswer(BaseModel):
    """One place of the picture; minutes are whole, `open_cases` is how many.

    `chance_late` is the forecast chance, 0 to 1, of opening later than its own time and the plan's grace, and
    `likely_open_at` the middle of the forecast: of places heard from and not open, as known now; null otherwise.
    """

    place: str
    name: str
    standing: Standing
    last_step: str | None
    opened_at: datetime | None
    minutes_late: int
    lost_minutes: int
    last_heard_at: datetime | None
    open_cases: int
    chance_late: float | None
    likely_open_at: datetime | None


class PictureAnswer(BaseModel):
    """The county at a moment."""

    as_of: datetime
    election: str
    county: str
    date: str
    rehearsal: bool
    clock: str
    view: str
    totals: dict[Standing, int]
    places: list[PlaceAnswer]


class CaseAnswer(BaseModel):
    """One case; a milestone not reached is null."""

    case: str
    place: str
    device: str | None
    exception: str
    effect: Effect
    raised_at: datetime
    learned_at: datetime
    raised_by: str
    state: State
    rover: str | None
    told: list[str]
    acknowledged_at: datetime | None
    assigned_at: datetime | None
    accepted_at: datetime | None
    under_way_at: datetime | None
    expected_at: datetime | None
    on_site_at: datetime | None
    cleared_at: datetime | None
    cleared_says: str | None
    needs_person: bool
    says: str
    pattern_of: str | None
    links: list[str]


class LedgerEntryAnswer(BaseModel):
    """One entry; the fields of its kind stand beside these."""

    model_config = ConfigDict(extra="allow")
    seq: int
    key: str
    kind: str
    place: str
    happened_at: datetime
    received_at: datetime
    by: str
    door: str
    sender: str
    stamp: str
    told_at: str | None = None
    clock: str
    previous: str
    digest: str = Field(description="SHA-256, in hex, of `previous` and the RFC 8785 form of the entry without it.")


class HealthAnswer(BaseModel):
    """How the endpoint works; `seq` is the number of the last entry.

    `status` is `ok`, or `stalled` (with 503) where a loop has not come round when it should; `loops` says how many
    seconds ago each did, and `stalled` names those that stand still.
    """

    status: Literal["ok", "stalled"]
    seq: int
    loops: dict[str, float]
    stalled: list[str]
