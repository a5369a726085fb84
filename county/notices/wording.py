"""The words of a notice: what is wrong, where, why you are told, what the county says to do; and of a burst of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from zoneinfo import ZoneInfo

from county.domain.cases import Case
from county.domain.effects import Effect
from county.domain.escalation import Telling
from county.domain.messages import Waiting
from county.domain.plan import Plan
from county.domain.roster import Place
from county.domain.to_tell import Owed

REHEARSAL = "REHEARSAL"
CALL_911 = "Danger to anyone? Call 911 first. This board does not call 911."
EFFECT: Mapping[Effect, str] = MappingProxyType(
    {
        Effect.DANGER: "People in danger",
        Effect.STOPPED: "Voting stopped",
        Effect.IMPAIRED: "Voting impaired",
        Effect.AT_RISK: "At risk",
        Effect.RECORD: "For the record",
    }
)
_MARK = f"{REHEARSAL}. Nothing of this is real."
_MOST_LINES = 40
_LONGEST = 400


@dataclass(frozen=True, slots=True)
class Words:
    """A notice in words: `title` and `body` where it is sent alone, `line` where it is one of a burst."""

    title: str
    body: str
    line: str


def marked(title: str, rehearsal: bool) -> str:
    """A title, saying first that it is only a rehearsal where it is."""
    return f"{REHEARSAL}: {title}" if rehearsal else title


def words(owed: Owed, case: Case, place: Place, plan: Plan, now: datetime, *, rehearsal: bool) -> Words:
    """One notice as of `now` (aware UTC), times in the county's zone."""
    zone = ZoneInfo(plan.election.zone)
    where = f"{'begun at ' if case.is_pattern else ''}{place.place} {place.name}"
    what = plan.kind(case.exception).says + (f", {case.device}" if case.device else "")
    weighs = f"Weighs like: {EFFECT[case.effect].lower()}" if case.is_pattern else EFFECT[case.effect]
    raised = _clock(case.raised_at, zone)
    lines = (
        _MARK if rehearsal else "",
        CALL_911 if case.effect is Effect.DANGER else "",
        _begun(", ".join(part for part in (where, place.address, place.city, place.phone) if part)),
        _said(case, plan, what),
        f"{weighs}. Since {raised}, known at the office since {_clock(case.learned_at, zone)}.",
        f"You are told{f' as {owed.role}' if owed.role != owed.person.name else ''}: {_why(owed, now)}.",
        _late(owed.telling, now, zone),
        f"The county's instruction: {plan.instruction(case.exception)}",
        "Local law and county counsel decide. Operational reports, not results.",
        _name(owed.notice),
    )
    return Words(
        title=marked(f"{what}: {case.says}" if case.is_pattern else f"{weighs}: {what}, {where}", rehearsal),
        body="\n".join(line for line in lines if line),
        line=" ".join(
            part
            for part in (
                f"{where}{f', {case.device}' if case.device else ''}: {_short(case.says)}. Since {raised}.",
                f"{_why(owed, now)}.",
                _late(owed.telling, now, zone),
            )
            if part
        ),
    )


def digest(message: str, gathered: Sequence[Waiting], plan: Plan, *, rehearsal: bool) -> tuple[str, str]:
    """The title and body of a message that carries several notices about one kind of trouble."""
    lines = list({each.case: each.line for each in gathered}.values())
    places = len({each.place for each in gathered})
    what = f"{plan.kind(gathered[0].kind).says}: {_counted(len(lines), 'case')} at {_counted(places, 'place')}"
    more = len(lines) - _MOST_LINES
    body = (
        _MARK if rehearsal else "",
        CALL_911 if any(each.danger for each in gathered) else "",
        f"{what}.",
        *lines[:_MOST_LINES],
        f"… and {_counted(more, 'more case', 'more cases')}; the board has them all." if more > 0 else "",
        f"The county's instruction: {plan.instruction(gathered[0].kind)}",
        "Local law and county counsel decide. Operational reports, not results.",
        _name(message),
    )
    return marked(what, rehearsal), "\n".join(line for line in body if line)


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def _why(owed: Owed, now: datetime) -> str:
    if owed.vacant:
        return f"nobody is on shift for {' or '.join(owed.vacant)}, so you are told at once"
    return owed.telling.says(now)


def _late(telling: Telling, now: datetime, zone: ZoneInfo) -> str:
    return f"Told late: due {_clock(telling.due_at, zone)}." if telling.late_by(now) else ""


def _name(message: str) -> str:
    return f"Notice {message}. The same number twice is the same notice."


def _said(case: Case, plan: Plan, what: str) -> str:
    """What was found; what only repeats the kind of trouble is not said twice."""
    kind, says = plan.kind(case.exception).says, _short(case.says)
    return f"{what}{says.removeprefix(kind)}" if says.startswith(kind) else f"{what}: {says}"


def _short(text: str) -> str:
    flat = " ".join(text.split())
    return flat if len(flat) <= _LONGEST else f"{flat[:_LONGEST]} …"


def _clock(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone):%H:%M %Z}"


def _counted(number: int, one: str, many: str = "") -> str:
    return f"{number} {one}" if number == 1 else f"{number} {many or f'{one}s'}"
