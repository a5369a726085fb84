"""What the scanners of a made-up day wrote down of themselves: mostly as reported, with what a reviewer has to find."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

from county.domain.device_log import DeviceLog, LogDevice, LogDocumentation, LogEvent
from county.domain.expected import expected_of
from county.domain.log_milestones import Milestone
from county.domain.moments import parse_moment, write_moment
from county.domain.plan import Plan
from county.domain.roster import Device, Roster
from county.rehearsal.log_writing import documentation_as_xml, log_as_xml
from county.rehearsal.luck import WHOLE_DAY, draw
from county.rehearsal.officers import officers_day
from county.rehearsal.regimes import REGIMES
from county.rehearsal.sent import chance, some
from county.rehearsal.sheet import Sheet

MAKER = "Harrow"
HOUR = timedelta(hours=1)
_STEPS = {
    "powered": Milestone.POWERED,
    "zero-report": Milestone.ZERO_REPORT,
    "open": Milestone.OPENED,
    "closed": Milestone.CLOSED,
    "results-printed": Milestone.RESULTS_PRINTED,
}
Told = tuple[datetime, Milestone]


def made_up_logs(roster: Roster, plan: Plan, regime: str, seed: int) -> tuple[DeviceLog, LogDocumentation] | None:
    """The log of every scanner whose model the plan has a map for, and the maker's documentation; None without any.

    One clock is an hour off, one log has no zero-check, one has a gap in its numbers: each at a device of its own.
    """
    run = f"{regime[:1]}{seed}"
    scanners = [each for each in roster.devices if each.type == "scanner" and each.model in plan.logs.by_model]
    if not scanners:
        return None
    luck = draw(roster, REGIMES[regime], run, WHOLE_DAY)
    sheets = {
        place: officers_day(expected, plan, luck, run, WHOLE_DAY)
        for place, expected in expected_of(roster, plan).items()
    }
    odd = sorted(some([each.device for each in scanners], 3 / len(scanners), chance(run, "odd logs")))
    logs = []
    for device in scanners:
        rng = chance(run, device.device, "log")
        oddity = odd.index(device.device) if device.device in odd else -1
        logs.append(_log(device, sheets[device.place], plan, oddity, rng))
    generated = max(log.events[-1].at for log in logs) + 12 * HOUR
    return DeviceLog(plan.election.name, write_moment(generated), tuple(logs)), _documentation(plan, scanners[0].model)


def drop_logs(folder: Path, roster: Roster, plan: Plan, regime: str, seed: int) -> None:
    """Write log and documentation to the folder they are taken from, as if the devices had come back."""
    made = made_up_logs(roster, plan, regime, seed)
    if made is None:
        return
    log, documentation = made
    generated = plan.election.date.isoformat()
    folder.mkdir(parents=True, exist_ok=True)
    name = f"rehearsal-{regime}-{seed}"
    for ending, content in (
        ("log", log_as_xml(log)),
        ("documentation", documentation_as_xml(documentation, generated)),
    ):
        unfinished = folder / f".{name}-{ending}.xml.part"
        unfinished.write_bytes(content)
        unfinished.replace(folder / f"{name}-{ending}.xml")


def _log(device: Device, sheet: Sheet, plan: Plan, oddity: int, rng: Random) -> LogDevice:
    ids = {milestone: each for each, milestone in plan.logs.of(device.model).items()}
    told = [(at, what) for at, what in sorted(_told(sheet, device.device)) if what in ids]
    if oddity == 1:
        told = [each for each in told if each[1] is not Milestone.ZERO_REPORT]
    off = HOUR if oddity == 0 else timedelta()
    events = [
        LogEvent(
            line=number,
            id=ids[what],
            type="status",
            sequence=str(number + 4 * (oddity == 2 and number > len(told) // 2)),
            at=at + off + timedelta(seconds=rng.randint(-50, 50)),
            disposition="success",
            details="",
        )
        for number, (at, what) in enumerate(told, start=1)
    ]
    return LogDevice(device.serial or device.device, device.model, MAKER, "scan-single", "1.4", tuple(events))


def _told(sheet: Sheet, device: str) -> Iterator[Told]:
    """What truly happened at a device, as the officers wrote it down at the time; nothing where they wrote nothing."""
    put_right = {str(each.fields["corrects"]): each.happened_at for each in sheet.told if "corrects" in each.fields}
    for each in sheet.told:
        at, about = put_right.get(each.key, each.happened_at), each.fields.get("device", "")
        step = _STEPS.get(str(each.fields.get("step", "")))
        if step is not None and about in ("", device):
            yield at, step
        elif each.fields.get("kind") == "interruption" and each.fields.get("exception") == "no-power":
            if each.fields.get("ends"):
                yield at, Milestone.POWER_RESTORED
            else:
                yield _since(str(each.fields.get("since", "")), at), Milestone.POWER_LOST


def _since(text: str, at: datetime) -> datetime:
    return (parse_moment(text) if text else None) or at.astimezone(UTC)


def _documentation(plan: Plan, model: str) -> LogDocumentation:
    return LogDocumentation(MAKER, model, {each: str(what).capitalize() for each, what in plan.logs.of(model).items()})
