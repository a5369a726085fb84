"""What only the tables can say about readiness: who has signed in, what changed when, what a training left behind."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from sqlalchemy import Connection, func, select

from county.domain.entries import REPORT_KINDS, Kind
from county.domain.plan_versions import PlanVersion
from county.store.schema import ledger, sessions


def last_sign_ins(connection: Connection) -> Mapping[str, datetime]:
    """When each person last signed in."""
    query = select(sessions.c.person, func.max(sessions.c.begun_at, type_=sessions.c.begun_at.type))
    return dict(connection.execute(query.group_by(sessions.c.person)).all())


def last_change(connection: Connection) -> datetime | None:
    """When the roster or the plan last changed."""
    c = ledger.c
    query = select(func.max(c.received_at, type_=c.received_at.type))
    found: datetime | None = connection.execute(query.where(c.kind.in_([Kind.ROSTER, Kind.PLAN]))).scalar()
    return found


def received_in_training(connection: Connection, every: Sequence[PlanVersion]) -> int:
    """How many reports came while the plan said rehearsal; `every` are its versions, oldest first."""
    counted = 0
    for number, version in enumerate(every, 1):
        if version.rehearsal:
            query = select(func.count()).select_from(ledger).where(ledger.c.seq > version.seq)
            if number < len(every):
                query = query.where(ledger.c.seq < every[number].seq)
            kinds = [kind.value for kind in REPORT_KINDS]
            counted += connection.execute(query.where(ledger.c.kind.in_(kinds))).scalar_one()
    return counted
