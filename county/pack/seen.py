"""When a person had seen a case; what reports alone ended, nobody had to have seen."""

from datetime import datetime

from county.domain.cases import Case
from county.domain.milestones import Milestone, first_time


def seen_at(case: Case | None) -> datetime | None:
    """When somebody first did anything with a case (aware UTC); None where nobody did, or there is none."""
    return first_time(case, Milestone.ACKNOWLEDGED) if case else None
