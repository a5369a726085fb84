"""Rules for what people report as trouble: exceptions, interruptions, jams past the standard."""

from collections.abc import Iterator

from county.domain.effects import Effect
from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.interruptions import began
from county.domain.rules.scene import Scene


def _in_words(scene: Scene, exception: str, entry: Entry | None = None) -> str:
    says = scene.plan.exception_kinds[exception].says
    note = entry.text("note") if entry else ""
    return f"{says}: {note}" if note else says


def reported(scene: Scene) -> Iterator[Finding]:
    """Each exception a place reports, with the effect it reports or the kind's usual one."""
    for entry in scene.day.exceptions:
        exception = entry.text("exception")
        more: dict[str, object] = {"since": began(entry)}
        if "effect" in entry.fields:
            more["effect"] = Effect(entry.text("effect"))
        yield scene.finding(exception, entry, _in_words(scene, exception, entry), **more)


def interrupted(scene: Scene) -> Iterator[Finding]:
    """Each interval in which voting was stopped or impaired; its own end clears it."""
    for interval in scene.day.interruptions:
        yield Finding(
            exception=interval.exception,
            effect=interval.effect,
            since=interval.begins,
            learned_at=interval.learned_at,
            cause=interval.key,
            by=interval.by,
            device=interval.device,
            says=f"{_in_words(scene, interval.exception)}: voting {interval.effect}",
            found=f"offered meanwhile: {interval.fallback}" if interval.fallback else "",
            clears_at=interval.ends,
            clears_says="the place reported that it is over",
        )


def jams_past_the_standard(scene: Scene) -> Iterator[Finding]:
    """A scanner whose jams, times 500, exceed the ballots it scanned, once there are as many as the plan asks."""
    jams: dict[str, list[Entry]] = {}
    for entry in scene.day.exceptions:
        if entry.fields.get("exception") == "scanner-jam" and entry.device:
            jams.setdefault(entry.device, []).append(entry)
    for device, seen in jams.items():
        scanned = max(
            (e.number("public_counter") or 0 for e in (*scene.day.counts, *scene.day.steps) if e.device == device),
            default=0,
        )
        if len(seen) >= scene.plan.limits.jams and len(seen) * 500 > scanned:
            says = f"{device}: {len(seen)} jams in {scanned:,} ballots"
            yield scene.finding(
                "scanner-fault", seen[-1], says, cause=f"jams:{device}", expected="at most 1 jam in 500 ballots"
            )
