"""What a rehearsal needs before its first report: a plan that says it is one, a county, a clock, and a key."""

from dataclasses import replace
from datetime import datetime, timedelta
from shutil import copyfile

from county import desk, upkeep
from county.clock import clock_from
from county.domain.expected import expected_of
from county.domain.moments import write_moment
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.errors import BadPlan, PollriseError
from county.plans import MADE_UP
from county.rehearsal.children import run_to_end
from county.rehearsal.roster import made_up_county
from county.setting_up import SAMPLE_PLAN, set_up
from county.settings import Settings
from county.wiring import Office, open_office, plan_in_force

SAMPLE_PLACES = 48
TABLES = ("places", "precincts", "devices", "seals", "rovers")
EARLIER = "earlier_steps.csv"
BEFORE_OPENING = timedelta(minutes=80)
REHEARSER = MADE_UP


class CannotRehearse(PollriseError):
    """What is there is not to be rehearsed with."""


def must_be_rehearsal(settings: Settings) -> None:
    """Refuse before anything is written. Raises CannotRehearse where the plan is the day's own, or BadPlan."""
    try:
        plan = plan_in_force(settings)
    except BadPlan:
        if settings.plan.exists():
            raise
        return
    if not plan.election.rehearsal:
        raise CannotRehearse(
            f"{settings.plan}: not marked `rehearsal = true`, so no made-up report goes into its ledger"
        )


def begins_at(plan: Plan, roster: Roster) -> datetime:
    """When the made-up day's clock starts: 80 minutes before the county's earliest opening."""
    return min(expected.opens_at for expected in expected_of(roster, plan).values()) - BEFORE_OPENING


def with_clock(settings: Settings, starts: datetime, speed: float) -> Settings:
    """The same settings with a clock that starts now, at `starts`, for this and every other process."""
    at = replace(settings, now=f"{write_moment(starts)}x{speed:g}", now_since=None)
    return replace(at, now_since=clock_from(at).since)


def open_with_county(settings: Settings, places: int) -> tuple[Office, Roster]:
    """Open the office, set up where it is not, with a county of so many places where there is none yet."""
    set_up(settings)
    office = open_office(settings)
    if not desk.roster(office).places:
        if places == SAMPLE_PLACES:
            _load_sample(settings)
        else:
            upkeep.load_roster(office, made_up_county(places))
    return office, desk.roster(office)


def _load_sample(settings: Settings) -> None:
    """Load the sample county as a person would, by the command, and lay its earlier election beside it."""
    files = [str(SAMPLE_PLAN.with_name(f"{table}.csv")) for table in TABLES]
    code, says = run_to_end(["county", "roster", "load", *files], settings)
    if code:
        raise CannotRehearse(f"the sample county cannot be loaded: {says}")
    copyfile(SAMPLE_PLAN.parent / "earlier_election" / EARLIER, settings.data / EARLIER)
