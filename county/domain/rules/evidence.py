"""Rules for what two officers read off a device before the polls open: seals, counters, what it shows."""

from collections.abc import Iterator
from datetime import date
from functools import lru_cache

from county.domain.entries import Entry
from county.domain.findings import Finding
from county.domain.rules.scene import Scene
from county.domain.seals import position_of, same_number


def _recorded(scene: Scene, entry: Entry) -> tuple[str, str]:
    """The position a seal report speaks of, and the number recorded there; both may be empty."""
    recorded = scene.expected.seals.get(entry.device, {})
    position = position_of(entry, recorded)
    return position, recorded.get(position, "")


def seal_mismatch(scene: Scene) -> Iterator[Finding]:
    """A seal number found that is not the one recorded at final testing for that device and position.

    Seals put on at the end of the day are new, so only steps before opening are compared.
    """
    for entry in scene.steps_that_say("seal_number"):
        found = entry.text("seal_number")
        if not found or not entry.device or not _before_opening(scene, entry):
            continue
        position, recorded = _recorded(scene, entry)
        if recorded and same_number(found, recorded):
            continue
        # where no position fits, the recorded numbers stay unsaid: they are to be read, not copied
        any_recorded = bool(scene.expected.seals.get(entry.device))
        expected = recorded or ("a number recorded for it" if any_recorded else "none recorded")
        where = f"{position} seal of {entry.device}" if position else f"seal of {entry.device}"
        known = f"recorded {recorded}" if recorded else "not recorded for it" if any_recorded else "none recorded"
        says = f"{where}: found {found}, {known}"
        yield scene.finding("seal-mismatch", entry, says, expected=expected, found=found)


def _before_opening(scene: Scene, entry: Entry) -> bool:
    step = scene.plan.step(entry.text("step"))
    return step is not None and step.before_opening


def seal_broken(scene: Scene) -> Iterator[Finding]:
    """A seal reported as not whole, or not there."""
    for entry in scene.steps_that_say("seal_intact"):
        if entry.fields.get("seal_intact") is False:
            # after the opening another seal is there than the one recorded at final testing
            before = _before_opening(scene, entry)
            position, recorded = _recorded(scene, entry) if before else (entry.text("seal_position"), "")
            found = "not whole" if entry.text("seal_number") else "not whole, or not there"
            on = entry.device or entry.text("item")
            says = f"{f'{position} seal' if position else 'seal'} of {on} is {found}"
            yield scene.finding("seal-broken", entry, says, expected=f"whole, {recorded}".rstrip(", "), found=found)


def nonzero_start_count(scene: Scene) -> Iterator[Finding]:
    """A zero report whose public counter is not zero."""
    for entry in scene.steps("zero-report"):
        found = entry.number("public_counter")
        if found:
            says = f"{entry.device or 'a scanner'} started at {found:,}, not 0"
            yield scene.finding("nonzero-start-count", entry, says, expected="0", found=str(found))


def protective_counter_mismatch(scene: Scene) -> Iterator[Finding]:
    """A protective counter, read before opening, that is not the one recorded at final testing. It is not zero."""
    for entry in scene.steps_that_say("protective_counter"):
        found, recorded = entry.number("protective_counter"), scene.expected.protective.get(entry.device)
        if found is None or recorded is None or found == recorded:
            continue
        if _before_opening(scene, entry):
            says = f"{entry.device}: protective counter {found:,}, recorded {recorded:,}"
            yield scene.finding("protective-counter-mismatch", entry, says, expected=str(recorded), found=str(found))


def wrong_election(scene: Scene) -> Iterator[Finding]:
    """An election date, as printed, that is not this election's."""
    wanted = scene.plan.election.date
    for entry in scene.steps_that_say("shown_date"):
        shown = entry.text("shown_date")
        if shown and not _same_day(shown, wanted):
            says = f"{entry.device or 'a device'} shows {shown}, not {wanted:%Y-%m-%d}"
            yield scene.finding("wrong-election", entry, says, expected=f"{wanted:%Y-%m-%d}", found=shown)


def _same_day(shown: str, wanted: date) -> bool:
    """Whether a date as printed means the day wanted, in the ways American devices print one."""
    return " ".join(shown.replace(",", " ").split()).casefold() in _ways_to_print(wanted)


@lru_cache(maxsize=8)
def _ways_to_print(wanted: date) -> frozenset[str]:
    month, day, year = wanted.month, wanted.day, wanted.year
    ways = {
        f"{year}-{month:02}-{day:02}",
        *(
            f"{m}{s}{d}{s}{y}"
            for s in "/-."
            for m in (month, f"{month:02}")
            for d in (day, f"{day:02}")
            for y in (year, f"{year % 100:02}")
        ),
        *(f"{name} {d} {year}" for name in (f"{wanted:%B}", f"{wanted:%b}") for d in (day, f"{day:02}")),
    }
    return frozenset(way.casefold() for way in ways)


def wrong_precinct(scene: Scene) -> Iterator[Finding]:
    """Precincts, as printed, that do not vote here, or precincts of the place that the device does not show.

    At a vote centre, which serves all, only a precinct unknown to the county is wrong.
    """
    expected = scene.expected
    for entry in scene.steps_that_say("shown_precincts"):
        shown = entry.fields.get("shown_precincts")
        if not isinstance(shown, tuple) or not expected.precincts:
            continue
        known = {expected.precinct_names.get(name.strip().casefold(), name) for name in shown}
        strange = known - expected.precincts
        missing = frozenset() if expected.place.serves == "all" else expected.precincts - known
        if strange or missing:
            said = [f"shows {', '.join(sorted(strange))}"] * bool(strange)
            said += [f"does not show {', '.join(sorted(missing))}"] * bool(missing)
            yield scene.finding(
                "wrong-precinct",
                entry,
                f"{entry.device or 'a device'} {' and '.join(said)}",
                expected=", ".join(sorted(expected.precincts)),
                found=", ".join(shown),
            )


def zero_report_short(scene: Scene) -> Iterator[Finding]:
    """A zero report with fewer copies or signers than the plan asks; a later full one clears it."""
    limits = scene.plan.limits
    for entry in scene.steps("zero-report"):
        short = _short(entry, limits.copies, limits.signers)
        if short:
            later = (e.happened_at for e in scene.steps("zero-report") if _makes_good(entry, e, scene))
            yield scene.finding(
                "zero-report-short",
                entry,
                f"zero report of {entry.device or 'a scanner'}: {short}",
                expected=f"{limits.copies} copies, {limits.signers} signers",
                found=short,
                clears_at=min(later, default=None),
                clears_says="a full zero report followed",
            )


def _short(entry: Entry, copies: int, signers: int) -> str:
    printed, signed = entry.number("copies"), entry.number("signers")
    said = [f"{printed} of {copies} copies"] * (printed is not None and printed < copies)
    said += [f"{signed} of {signers} signers"] * (signed is not None and signed < signers)
    return ", ".join(said)


def _makes_good(short: Entry, later: Entry, scene: Scene) -> bool:
    limits = scene.plan.limits
    full = (later.number("copies") or 0) >= limits.copies and (later.number("signers") or 0) >= limits.signers
    return full and later.device == short.device and later.happened_at > short.happened_at
