"""An entry in words, for people who read the record on paper."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from zoneinfo import ZoneInfo

from county.domain.entries import FIELDS, REPORT_KINDS, Entry, Kind, Stamp
from county.domain.moments import parse_moment
from county.domain.plan import Plan
from county.domain.wall import Wall

WHOSE_CLOCK: Mapping[Stamp, str] = MappingProxyType(
    {
        Stamp.TOLD: "the sender's",
        Stamp.RECEIVED: "the office's: no time was told",
        Stamp.CLOCK_AHEAD: "the office's: the sender's was ahead",
        Stamp.CLOCK_BEHIND: "the office's: the sender's was far behind",
    }
)
"""By whose clock a moment is known."""

DID: Mapping[str, str] = MappingProxyType(
    {
        "acknowledge": "acknowledged",
        "assign": "assigned",
        "accept": "accepted",
        "cannot": "cannot go",
        "under-way": "under way",
        "on-site": "on site",
        "clear": "cleared",
        "reopen": "opened again",
        "withdraw": "withdrawn",
        "note": "note",
        "effect": "effect changed",
    }
)
_FACTS = {"owed": "owed", "failed": "did not arrive", "arrived": "arrived", "nobody": "nobody on shift"}
_NAMES = {
    "check_ins": "check-ins",
    "in_line": "people in line",
    "seal_position": "seal at",
    "item": "on",
    "items_missing": "not there:",
    "roles": "by",
}
_SAID_OTHERWISE = frozenset(
    {"step", "exception", "effect", "ends", "note", "corrects", "reason", "withdraw", "since", "case", "action"}
    | {"rover", "expected_at", "cause", "says", "fact", "notice", "telling", "message", "text"}
)
_OF_A_FORECAST = frozenset({"expected", "found", "chance_late", "earliest_open_at", "likely_open_at", "latest_open_at"})
"""What a forecast says in words already."""
_MOST_LISTED = 10


def as_told(told: str, wall: Wall) -> str:
    """A time that a sender told, as wall time to the second; in the sender's own words where it is none."""
    try:
        return wall.second(parse_moment(told)) or told
    except ValueError:
        return told


def whose_clock(entry: Entry) -> str:
    """By whose clock an entry happened: for what the office itself wrote down, its own."""
    return WHOSE_CLOCK[entry.stamp] if entry.kind in REPORT_KINDS else "the office's"


def from_whom(entry: Entry) -> str:
    """From whom an entry came, and through which door."""
    by = "the place" if entry.by and entry.by == entry.place else entry.by
    return by if entry.door in ("board", "clock", "notices", "roster", "") else f"{by}, by {entry.door}"


def what(entry: Entry, plan: Plan, zone: ZoneInfo) -> str:
    """Everything an entry says, in a line; wall times in this zone."""
    about = _ABOUT.get(entry.kind, _anything)(entry, plan)
    more = [_since(entry, zone), *(_detail(name, value) for name, value in _more(entry))]
    note = entry.text("note")
    return "; ".join(part for part in (about, ", ".join(filter(None, more)), f"“{note}”" if note else "") if part)


def _more(entry: Entry) -> list[tuple[str, object]]:
    said = _SAID_OTHERWISE | _OF_A_FORECAST if "chance_late" in entry.fields else _SAID_OTHERWISE
    known = [name for name in FIELDS if name in entry.fields]
    others = sorted(entry.fields.keys() - set(known))
    return [(name, entry.fields[name]) for name in (*known, *others) if name not in said]


def _since(entry: Entry, zone: ZoneInfo) -> str:
    """Since when, and when a rover is expected, as wall time."""
    told = (("since", entry.text("since")), ("expected there", entry.text("expected_at")))
    return ", ".join(f"{says} {_wall(moment, zone)}" for says, moment in told if moment)


def _wall(told: str, zone: ZoneInfo) -> str:
    try:
        return Wall(zone).minute(parse_moment(told)) or told
    except ValueError:
        return told


def _detail(name: str, value: object) -> str:
    if name == "seal_intact":
        return "seal whole" if value else "seal not whole"
    if isinstance(value, bool):
        return f"{_named(name)} {'yes' if value else 'no'}"
    if isinstance(value, tuple):
        more = f" and {len(value) - _MOST_LISTED:,} more" if len(value) > _MOST_LISTED else ""
        return f"{_named(name)} {', '.join(map(str, value[:_MOST_LISTED]))}{more}"
    return f"{_named(name)} {value:,}" if isinstance(value, int) else f"{_named(name)} {value}"


def _named(name: str) -> str:
    return _NAMES.get(name, name.replace("_", " "))


def _anything(entry: Entry, plan: Plan) -> str:
    return entry.kind.value.replace("-", " ").capitalize()


def _step(entry: Entry, plan: Plan) -> str:
    step = plan.step(entry.text("step"))
    return step.says if step else entry.text("step")


def _trouble(entry: Entry, plan: Plan) -> str:
    said, effect = plan.kind(entry.text("exception") or "other").says, entry.text("effect")
    return f"{said} ({effect})" if effect else said


def _interruption(entry: Entry, plan: Plan) -> str:
    return f"Interruption {'over' if entry.fields.get('ends') else 'begun or going on'}: {_trouble(entry, plan)}"


def _correction(entry: Entry, plan: Plan) -> str:
    did = "Withdraws" if entry.fields.get("withdraw") else "Puts right"
    reason = entry.text("reason")
    step = f", {_step(entry, plan)}" if entry.text("step") else ""
    return f"{did} report {entry.text('corrects')}{step}{f': {reason}' if reason else ''}"


def _action(entry: Entry, plan: Plan) -> str:
    did = DID.get(entry.text("action"), entry.text("action"))
    rover = f" {entry.text('rover')}" if entry.text("rover") else ""
    effect = f" to {entry.text('effect')}" if entry.text("effect") else ""
    return f"Case {entry.text('case')}: {did}{rover}{effect}"


def _raised(entry: Entry, plan: Plan) -> str:
    return f"Noticed by the clock: {_trouble(entry, plan)}: {entry.text('says')}"


def _notice(entry: Entry, plan: Plan) -> str:
    fact = _FACTS.get(entry.text("fact"), entry.text("fact"))
    return f"Notice {entry.text('notice')} of case {entry.text('case')}: {fact}"


def _message(entry: Entry, plan: Plan) -> str:
    return f"Message {entry.text('message')}: “{entry.text('text')}”"


def _plan(entry: Entry, plan: Plan) -> str:
    return "The plan as it is from now on"


_ABOUT: Mapping[Kind, Callable[[Entry, Plan], str]] = MappingProxyType(
    {
        Kind.STEP: _step,
        Kind.EXCEPTION: _trouble,
        Kind.INTERRUPTION: _interruption,
        Kind.CORRECTION: _correction,
        Kind.ACTION: _action,
        Kind.RAISED: _raised,
        Kind.NOTICE: _notice,
        Kind.MESSAGE: _message,
        Kind.PLAN: _plan,
    }
)
