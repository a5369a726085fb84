"""A roster's fingerprint: the same for the same rows, whatever their order."""

import hashlib
from dataclasses import asdict, fields
from datetime import time

from county.domain.entry_form import canonical
from county.domain.roster import Roster


def roster_digest(roster: Roster) -> str:
    """SHA-256, in hex, of every table's rows in RFC 8785, sorted."""
    tables = {field.name: sorted(_written(row) for row in getattr(roster, field.name)) for field in fields(roster)}
    return hashlib.sha256(canonical(tables).encode()).hexdigest()


def _written(row: object) -> str:
    values = asdict(row)  # type: ignore[call-overload]
    return canonical({name: v.isoformat() if isinstance(v, time) else v for name, v in values.items()})
