"""Rules for what people report as trouble: exceptions, interruptions, jams past the standard."""

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from types import MappingProxyType

from county.domain.effects import effect_of
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.interruptions import began
from county.domain.rules.scene import Scene
from county.domain.rules.waiting import line_over

# what ends these is the same whether a person reported them or the clock raised them
_Ended = tuple[datetime | None, str]
_ENDED_BY: Mapping[str, Callable[[Scene, Entry], _Ended]] = MappingProxyType(
    {
        "late-opening": lambda scene, _: (scene.day.opened_at, "the place opened"),
        "expected-late": lambda scene, _: (scene.day.opened_at, "the place opened"),
        "not-closed": lambda scene, _: (scene.day.closed_at, "the place closed"),
        "not-received": lambda scene, _: (scene.day.received_at, "the place's material was received"),
        "long-line": lambda scene, entry: line_over(scene, entry.happened_at),
    }
)


def reported(scene: Scene) -> Iterator[Finding]:
    """Each exception a place reports, with the effect it reports or the kind's usual one."""
    for entry in scene.day.exceptions:
        exception = entry.text("exception")
        kind = scene.plan.kind(exception)
        since, note = began(entry), entry.text("note")
        ended_at, ended_says = _ENDED_BY.get(exception, _by_nothing)(scene, entry)
        yield scene.finding(
            exception,
            entry,
            f"{kind.says}: {note}" if note else kind.says,
            since=since,
            effect=effect_of(entry.text("effect"), kind.effect),
            clears_at=max(ended_at, since) if ended_at else None,
            clears_says=ended_says,
        )


def _by_nothing(scene: Scene, entry: Entry) -> _Ended:
    return None, ""


def interrupted(scene: Scene) -> Iterator[Finding]:
    """Each report that voting was stopped or impaired; the end of that trouble clears it.

    Where the effect changes it is the same trouble, and it has the effect reported last.
    """
    last = {interval.trouble: interval for interval in scene.day.interruptions}
    for interval in scene.day.interruptions:
        for entry in interval.reports:
            note = entry.text("note")
            says = f"{scene.plan.kind(interval.exception).says}: voting {interval.effect}"
            yield scene.finding(
                interval.exception,
                entry,
                f"{says} ({note})" if note else says,
                effect=last[interval.trouble].effect,
                since=max(began(entry), interval.begins),
                found=f"offered meanwhile: {interval.fallback}" if interval.fallback else "",
                clears_at=last[interval.trouble].ends,
                clears_says="the place reported that it is over",
            )


def jams_past_the_standard(scene: Scene) -> Iterator[Finding]:
    """A jam that makes a scanner's jams so far, times 500, exceed the ballots it had scanned by then.

    Only once there are as many jams as the plan asks, and only on the device that is named.
    """
    jams: dict[str, int] = {}
    for entry in scene.day.exceptions:
        device = entry.device
        if entry.text("exception") != "scanner-jam" or not device:
            continue
        jams[device] = jams.get(device, 0) + 1
        scanned = _scanned_by(scene, device, entry.happened_at)
        if jams[device] >= scene.plan.limits.jams and jams[device] * 500 > scanned:
            says = f"{device}: {jams[device]} jams in {scanned:,} ballots"
            yield scene.finding("scanner-fault", entry, says, expected="at most 1 jam in 500 ballots")


def _scanned_by(scene: Scene, device: str, moment: datetime) -> int:
    """The highest public counter told of a device up to a moment; 0 where none was."""
    read: Iterator[Entry] = (e for e in (*scene.day.counts, *scene.day.steps) if e.device == device)
    return max((e.number("public_counter") or 0 for e in read if e.happened_at <= moment), default=0)
