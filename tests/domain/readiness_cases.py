"""One case for each check: what is changed in a county that is ready, and what the check then names."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import Any

from county.domain.people import Role
from county.domain.plan import Rung
from county.domain.plan_file import parse_plan
from county.domain.readiness import Colleague, Facts, Rehearsed
from county.domain.roster import Roster
from county.errors import Problem
from county.rehearsal.roster import made_up_county
from county.setting_up import SAMPLE_PLAN

REHEARSED_AT = datetime(2026, 10, 28, 15, tzinfo=UTC)
HOUR = timedelta(hours=1)


@cache
def all_ready() -> Facts:
    """A made-up county a week before its day, with everything done."""
    plan = parse_plan(SAMPLE_PLAN.read_text(encoding="utf-8"), "plan.toml")
    roster = made_up_county(48)
    needs = [plan.dispatch.need(kind) for kind in plan.exception_kinds]
    skills, spares = (tuple({getattr(need, what) for need in needs} - {""}) for what in ("skill", "spare"))
    rovers = tuple(replace(rover, skills=skills, carries=spares) for rover in roster.rovers)
    places = tuple(replace(p, opens=None, closes=None, ballots_delivered=9_999) for p in roster.places)
    return Facts(
        roster=replace(roster, places=places, rovers=rovers),
        plan=replace(plan, election=replace(plan.election, rehearsal=False)),
        today=date(2026, 10, 29),
        keyed=frozenset(place.place for place in places),
        colleagues=tuple(Colleague(name, Role.LEAD, REHEARSED_AT) for name in ("Odessa Marl", "Teo Brannick")),
        rehearsals=(Rehearsed(REHEARSED_AT, len(places), "rough"),),
        changed_at=REHEARSED_AT - HOUR,
    )


def with_(**facts: object) -> Callable[[Facts], Facts]:
    return lambda ready: replace(ready, **facts)  # type: ignore[arg-type]


def roster(table: str, **columns: Any) -> Callable[[Facts], Facts]:
    """With these columns in the first row of a table."""

    def change(ready: Facts) -> Facts:
        first, *rest = getattr(ready.roster, table)
        return replace(ready, roster=replace(ready.roster, **{table: (replace(first, **columns), *rest)}))

    return change


def plan(**parts: object) -> Callable[[Facts], Facts]:
    return lambda ready: replace(ready, plan=replace(ready.plan, **parts))  # type: ignore[arg-type]


def election(**parts: Any) -> Callable[[Facts], Facts]:
    return lambda ready: plan(election=replace(ready.plan.election, **parts))(ready)


def limits(**parts: Any) -> Callable[[Facts], Facts]:
    return lambda ready: plan(limits=replace(ready.plan.limits, **parts))(ready)


def _serial_twice(ready: Facts) -> Facts:
    first, *rest = ready.roster.devices
    devices = tuple(replace(d, serial=serial) for d, serial in ((first, "SN 5"), (rest[-1], "sn-5")))
    return replace(ready, roster=replace(ready.roster, devices=(*devices, *rest[:-1])))


def _seal_twice(ready: Facts) -> Facts:
    first = ready.roster.seals[0]
    other = next(seal for seal in ready.roster.seals if seal.device != first.device)
    return roster("seals", number=other.number)(ready)


def _first_device_without(table: str) -> Callable[[Facts], Facts]:
    def change(ready: Facts) -> Facts:
        device = next(device for device in ready.roster.devices if device.type == "scanner")
        rows = getattr(ready.roster, table)
        kept = tuple(row for row in rows if (row.place if table == "devices" else row.device) != _of(device, table))
        return replace(ready, roster=replace(ready.roster, **{table: kept}))

    return change


def _of(device: Any, table: str) -> str:
    return str(device.place if table == "devices" else device.device)


def _counter_unknown(ready: Facts) -> Facts:
    device = next(device for device in ready.roster.devices if device.type == "scanner")
    rows = tuple(replace(d, protective_counter=None) if d is device else d for d in ready.roster.devices)
    return replace(ready, roster=replace(ready.roster, devices=rows))


def _off_shift(ready: Facts) -> Facts:
    people = tuple(replace(p, starts=time(12), ends=time(18)) if "lead" in p.roles else p for p in ready.plan.people)
    return plan(people=people)(ready)


def _no_instruction(ready: Facts) -> Facts:
    kept = {kind: text for kind, text in ready.plan.instructions.items() if kind != "silent"}
    return plan(instructions=kept)(ready)


def _unfit(ready: Facts) -> Facts:
    devices = tuple(replace(d, type="tabulator") if d.type == "bmd" else d for d in ready.roster.devices)
    return replace(ready, roster=replace(ready.roster, devices=devices))


LATER = REHEARSED_AT + HOUR
ALONE = (Colleague("Odessa Marl", Role.LEAD, REHEARSED_AT), Colleague("Bo", Role.VIEWER, REHEARSED_AT))
NEVER_IN = tuple(Colleague(name, Role.DESK, at) for name, at in (("Ann", None), ("Bo", LATER), ("Cy", LATER)))
TELL = (Rung(next(iter(all_ready().plan.targets)), timedelta(0), "cleared", ("sheriff",)),)

CASES: dict[str, tuple[Callable[[Facts], Facts], str]] = {
    "no-places": (with_(roster=Roster(), keyed=frozenset()), "the roster is empty"),
    "no-day": (roster("places", opens=time(20)), "opens 20:00, closes 19:00"),
    "device-at-two-places": (_serial_twice, " and "),
    "seal-on-two-devices": (_seal_twice, " and "),
    "day-past": (with_(today=date(2026, 11, 4)), "2026-11-03"),
    "still-a-rehearsal": (election(rehearsal=True), "rehearsal = true"),
    "made-up-here": (with_(made_up=True), "rehearse"),
    "clock-set": (with_(real_clock=False), "POLLRISE_NOW"),
    "no-key": (with_(keyed=frozenset(p.place for p in all_ready().roster.places[1:])), "P00001 Birchbrook Fire Hall"),
    "nobody-to-tell": (lambda ready: plan(ladder=ready.plan.ladder[2:])(ready), "danger"),
    "role-without-people": (lambda ready: plan(ladder=(*ready.plan.ladder, *TELL))(ready), "sheriff"),
    "role-off-shift": (_off_shift, "lead"),
    "unreachable": (with_(unreachable=(Problem("person Bo", "no such setting", warning=True),)), "Bo: no such setting"),
    "no-scanner": (_first_device_without("devices"), "P00001 Birchbrook Fire Hall"),
    "no-seals": (_first_device_without("seals"), " at P00001"),
    "no-protective-counter": (_counter_unknown, " at P00001"),
    "no-phone": (roster("places", phone=""), "P00001 Birchbrook Fire Hall"),
    "few-officers": (roster("places", officers=1), "P00001 Birchbrook Fire Hall: 1"),
    "no-rovers": (lambda ready: replace(ready, roster=replace(ready.roster, rovers=())), "no rovers"),
    "rover-without-phone": (roster("rovers", phone=""), "R0001"),
    "zone-without-rover": (roster("places", zone="Far End"), "Far End"),
    "does-not-fit": (_unfit, "bmd"),
    "no-instruction": (_no_instruction, "heard"),
    "no-telephone": (lambda ready: plan(reach=replace(ready.plan.reach, phone=""))(ready), "[reach] phone"),
    "password-in-plan": (with_(exposed=(Problem("person Bo", "its address may hold a password"),)), "Bo"),
    "file-differs": (with_(file_differs=True), "plan.toml"),
    "cards-lead-here": (with_(cards_lead_here=True), "POLLRISE_ADDRESS"),
    "few-at-the-desk": (with_(colleagues=ALONE), "fewer than two"),
    "never-signed-in": (with_(colleagues=NEVER_IN), "Ann, desk"),
    "never-rehearsed": (with_(rehearsals=()), "no rehearsal"),
    "changed-since-rehearsal": (with_(changed_at=LATER + 2 * HOUR), "3 hours after"),
    "rehearsed-with-few": (with_(rehearsals=(Rehearsed(REHEARSED_AT, 5, "normal"),)), "5 of 48 places"),
    "trained-here": (with_(trained=12), "12 reports"),
    "own-hours": (roster("places", opens=time(7)), "07:00 to 19:00"),
    "few-ballots": (roster("places", ballots_delivered=10), "10 of "),
    "supply-unknown": (limits(last_turnout=0), "last turnout"),
}
