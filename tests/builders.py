"""Small builders that every test may use: a county of three places, entries of each kind, pinned times."""

import hashlib
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from types import MappingProxyType

from county.domain.entries import Entry, Kind, Stamp
from county.domain.expected import expected_at
from county.domain.intake import Hand
from county.domain.plan import Anchor, Election, Limits, Plan, Step
from county.domain.roster import Device, Place, Precinct, Roster, Rover, Seal

ELECTION = Election(
    "General Election", "Wrenfield County", date(2026, 11, 3), "America/Chicago", time(6), time(19), rehearsal=True
)
OPENS = datetime(2026, 11, 3, 12, tzinfo=UTC)
"""06:00 in Wrenfield County."""
CLOSES = datetime(2026, 11, 4, 1, tzinfo=UTC)
"""19:00 in Wrenfield County."""
LONG_AFTER = datetime(2026, 12, 31, tzinfo=UTC)


def after(minutes: float = 0, *, hours: float = 0) -> datetime:
    """So long after 06:00 on the day, the opening time."""
    return OPENS + timedelta(hours=hours, minutes=minutes)


def before(minutes: float = 0, *, hours: float = 0) -> datetime:
    """So long before 06:00 on the day."""
    return OPENS - timedelta(hours=hours, minutes=minutes)


def clock(text: str) -> datetime:
    """A wall time of the day in Wrenfield County, such as `07:04`, as aware UTC."""
    hours, minutes = map(int, text.split(":"))
    return after(minutes, hours=hours - 6)


def _a_step_of_the_sheet(key: str, due: int, types: tuple[str, ...] = (), anchor: Anchor = Anchor.OPENING) -> Step:
    says = key.replace("-", " ").capitalize()
    return Step(key, says, anchor, timedelta(minutes=due), timedelta(minutes=5), bool(types), types)


STEPS = (
    _a_step_of_the_sheet("staffed", -45),
    _a_step_of_the_sheet("site-ready", -30),
    _a_step_of_the_sheet("seals-checked", -25, ("scanner", "bmd")),
    _a_step_of_the_sheet("powered", -25),
    _a_step_of_the_sheet("setup-confirmed", -20, ("scanner",)),
    _a_step_of_the_sheet("zero-report", -15, ("scanner",)),
    _a_step_of_the_sheet("open", 0),
    _a_step_of_the_sheet("closed", 0, anchor=Anchor.CLOSING),
    _a_step_of_the_sheet("results-printed", 30, ("scanner",), Anchor.CLOSING),
    _a_step_of_the_sheet("balanced", 60, anchor=Anchor.CLOSING),
    _a_step_of_the_sheet("received", 120, anchor=Anchor.CLOSING),
)


def a_plan(steps: tuple[Step, ...] = STEPS, election: Election = ELECTION, **limits: object) -> Plan:
    """A plan with usual steps; limits by name."""
    return Plan(election, steps, replace(Limits(), **limits))  # type: ignore[arg-type]


def a_roster(**tables: tuple[object, ...]) -> Roster:
    """P014: two precincts, two scanners, one ballot-marking device. P015: one scanner. P016: a vote centre.

    P016 has hours of its own, 07:00 to 20:00, and no recorded seals. A table given by name stands instead.
    """
    usual = Roster(
        places=(
            Place("P014", "Mill Creek School", ballots_delivered=1_000),
            Place("P015", "Grange Hall"),
            Place("P016", "Court House", opens=time(7), closes=time(20), serves="all"),
        ),
        precincts=(
            Precinct("14A", "Mill Creek North", "P014"),
            Precinct("14B", "Mill Creek South", "P014"),
            Precinct("15", "Grange", "P015"),
        ),
        devices=(
            Device("SC-0141", "P014", "scanner", protective_counter=48_210),
            Device("SC-0142", "P014", "scanner", protective_counter=1_004),
            Device("BM-0141", "P014", "bmd"),
            Device("SC-0151", "P015", "scanner", protective_counter=100),
            Device("SC-0161", "P016", "scanner"),
        ),
        seals=(
            Seal("SC-0141", "front", "A100"),
            Seal("SC-0141", "auxiliary", "A101"),
            Seal("SC-0142", "front", "A200"),
            Seal("SC-0142", "auxiliary", "A201"),
            Seal("BM-0141", "case", "B100"),
            Seal("SC-0151", "front", "A300"),
        ),
        rovers=(Rover("R03", "Rover Three"), Rover("R04", "Rover Four")),
    )
    return replace(usual, **tables)  # type: ignore[arg-type]


def _key(*of: object) -> str:
    return hashlib.sha256(repr(of).encode()).hexdigest()[:12]


def an_entry(
    kind: Kind,
    at: datetime = OPENS,
    *,
    key: str = "",
    place: str = "P014",
    received_at: datetime | None = None,
    by: str = "",
    sender: str = "",
    stamp: Stamp = Stamp.TOLD,
    told_at: str = "",
    **fields: object,
) -> Entry:
    """An entry received three seconds after it happened; the same words always make the same entry."""
    return Entry(
        key=key or f"{kind}-{_key(kind, at, place, received_at, sorted(fields.items()))}",
        kind=kind,
        place=place,
        happened_at=at,
        received_at=received_at or at + timedelta(seconds=3),
        by=by or place,
        door="endpoint",
        sender=sender or f"place:{place}",
        fields=MappingProxyType(fields),
        stamp=stamp,
        told_at=told_at,
    )


def a_step(step: str = "open", at: datetime = OPENS, /, **more: object) -> Entry:
    """A step done at a moment, with evidence by name."""
    return an_entry(Kind.STEP, at, step=step, **more)  # type: ignore[arg-type]


def a_count(at: datetime = OPENS, /, **more: object) -> Entry:
    """A count at a moment, with its numbers by name."""
    return an_entry(Kind.COUNT, at, **more)  # type: ignore[arg-type]


def an_exception(exception: str = "scanner-jam", at: datetime = OPENS, /, **more: object) -> Entry:
    """A trouble reported."""
    return an_entry(Kind.EXCEPTION, at, exception=exception, **more)  # type: ignore[arg-type]


def an_interruption(effect: str = "stopped", at: datetime = OPENS, /, **more: object) -> Entry:
    """Voting stopped or impaired from a moment on."""
    return an_entry(Kind.INTERRUPTION, at, effect=effect, **more)  # type: ignore[arg-type]


def the_end(at: datetime = OPENS, /, **more: object) -> Entry:
    """An interruption over."""
    return an_entry(Kind.INTERRUPTION, at, ends=True, **more)  # type: ignore[arg-type]


def a_note(at: datetime = OPENS, note: str = "chairs are short", **more: object) -> Entry:
    """A note."""
    return an_entry(Kind.NOTE, at, note=note, **more)  # type: ignore[arg-type]


def a_message(
    at: datetime = OPENS, text: str = "Polls stay open until 19:30.", message: str = "m-1", **more: object
) -> Entry:
    """A message from the office to one place."""
    place = str(more.setdefault("place", "P014"))
    more.setdefault("key", f"message/{message}/{place}")
    fields = {"message": message, "text": text, "to": "every place"}
    return an_entry(Kind.MESSAGE, at, by="Ann Lee", sender="board:Ann Lee", stamp=Stamp.RECEIVED, **fields, **more)  # type: ignore[arg-type]


def a_seen(at: datetime = OPENS, message: str = "m-1", **more: object) -> Entry:
    """A message acknowledged at a place."""
    more.setdefault("role", "officer")
    return an_entry(Kind.MESSAGE_SEEN, at, message=message, **more)  # type: ignore[arg-type]


def a_correction(of: Entry | str, at: datetime | None = None, *, told: bool = False, **more: object) -> Entry:
    """A correction of a report, learned at `at`; only where `told` does it say that the report happened then.

    Without `at` it comes ten minutes after what it corrects was received.
    """
    if at is None:
        at = of.received_at + timedelta(minutes=10) if isinstance(of, Entry) else after(10)
    if isinstance(of, Entry):
        more.setdefault("place", of.place)
    more.setdefault("received_at", at)
    more.setdefault("stamp", Stamp.TOLD if told else Stamp.RECEIVED)
    corrects = of.key if isinstance(of, Entry) else of
    return an_entry(Kind.CORRECTION, at, corrects=corrects, **more)  # type: ignore[arg-type]


def a_withdrawal(of: Entry | str, at: datetime | None = None, **more: object) -> Entry:
    """A report, or a correction, taken back."""
    return a_correction(of, at, withdraw=True, **more)  # type: ignore[arg-type]


def an_action(case: str, action: str, at: datetime = OPENS, /, **more: object) -> Entry:
    """What a person at the desk did with a case."""
    more.setdefault("place", case.split(".")[0])
    more.setdefault("by", "Front desk")
    more.setdefault("sender", "desk:Front desk")
    return an_entry(Kind.ACTION, at, case=case, action=action, **more)  # type: ignore[arg-type]


def raised(
    exception: str, cause: str, at: datetime = OPENS, *, effect: str = "at-risk", device: str = "", **more: object
) -> Entry:
    """What the clock wrote down, ten seconds after it became true."""
    place = str(more.setdefault("place", "P014"))
    more.setdefault("key", "/".join(part for part in ("clock", exception, place, device, cause) if part))
    more.setdefault("received_at", at + timedelta(seconds=10))
    told = {"exception": exception, "effect": effect, "cause": cause, "says": f"{exception}: {cause}"}
    told |= {"device": device} if device else {}
    return an_entry(Kind.RAISED, at, by="clock", sender="clock", **told, **more)  # type: ignore[arg-type]


def a_full_opening(place: str = "P014", opened_at: datetime | None = None) -> tuple[Entry, ...]:
    """Every step up to the opening, nothing amiss, at its own opening time or another."""
    roster = a_roster()
    opens = opened_at or expected_at(roster.place_by_id[place], roster, a_plan()).opens_at
    devices = roster.devices_at[place]
    scanners = [device.device for device in devices if device.type == "scanner"]
    precincts = tuple(precinct.precinct for precinct in roster.precincts_at[place])
    seals = [(device.device, *seal) for device in devices for seal in roster.seals_on.get(device.device, {}).items()]
    bare = [device.device for device in devices if device.device not in roster.seals_on]

    def at(minutes: int) -> datetime:
        return opens - timedelta(minutes=minutes)

    def step(key: str, minutes: int, **more: object) -> Entry:
        return a_step(key, at(minutes), place=place, **more)

    return (
        step("staffed", 50, officers_present=4),
        step("site-ready", 35, route_inches=40, door_inches=34),
        *(step("seals-checked", 30, device=d, seal_position=p, seal_number=n, seal_intact=True) for d, p, n in seals),
        *(step("seals-checked", 30, device=d) for d in bare),
        step("powered", 28),
        *(step("setup-confirmed", 22, device=d, shown_date="2026-11-03", shown_precincts=precincts) for d in scanners),
        *(step("zero-report", 16, device=d, public_counter=0, copies=3, signers=3) for d in scanners),
        step("open", 0),
    )


def a_hand(received_at: datetime = OPENS, place_only: str | None = None, **more: str) -> Hand:
    """A sender's hand at the endpoint: a desk's, or a place's."""
    sender = f"place:{place_only}" if place_only else "desk:Front desk"
    by = place_only or "Front desk"
    return Hand(sender, by, more.get("door", "endpoint"), received_at, more.get("clock", "real"), place_only)


def raw(kind: str = "note", **fields: object) -> dict[str, object]:
    """A report as it is sent, with a key and a place; None leaves a field out."""
    usual: dict[str, object] = {"key": "k-1", "place": "P014", "kind": kind}
    return {name: value for name, value in (usual | fields).items() if value is not None}
