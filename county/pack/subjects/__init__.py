"""SUBJECTS: what the pack tells, a table a subject. To add one: a function from record to table, and a row here."""

from collections.abc import Callable

from county.pack.record import Record
from county.pack.subjects.activity import activity
from county.pack.subjects.aside import aside
from county.pack.subjects.ballots import ballots
from county.pack.subjects.cases import cases, kinds
from county.pack.subjects.corrections import corrections
from county.pack.subjects.custody import chain_of_custody
from county.pack.subjects.device_logs import device_log_faults, device_logs
from county.pack.subjects.entries import entries
from county.pack.subjects.forecast_scores import scores
from county.pack.subjects.forecasts import forecasts
from county.pack.subjects.lost import interruptions, lost
from county.pack.subjects.missing import missing
from county.pack.subjects.openings import openings
from county.pack.subjects.places import places
from county.pack.subjects.quiet import quiet, rovers
from county.pack.subjects.told import notices
from county.pack.subjects.waits import waits
from county.pack.table import Table

SUBJECTS: tuple[Callable[[Record], Table], ...] = (
    places,
    openings,
    forecasts,
    scores,
    lost,
    interruptions,
    cases,
    kinds,
    waits,
    quiet,
    rovers,
    ballots,
    chain_of_custody,
    notices,
    corrections,
    aside,
    device_logs,
    device_log_faults,
    missing,
    activity,
    entries,
)
