"""What is missing from the record, said as missing."""

from collections import Counter
from collections.abc import Iterator

from county.domain.entries import REPORT_KINDS, Stamp
from county.domain.expected import ExpectedStep
from county.domain.milestones import Milestone
from county.domain.notices import Fact
from county.domain.picture import PlaceNow
from county.domain.response import times
from county.pack.record import Record
from county.pack.table import Cell, Table, number, table, text

COLUMNS = (
    text("place", "Place (empty: the county)", 10),
    text("missing", wide=30),
    text("says", wide=70),
    number("how_many"),
)
NEVER_HEARD = "never heard from"
Gap = list[Cell]


def missing(record: Record) -> Table:
    """One row a gap: the county's first, then place by place in the roster's order."""
    rows = [*_of_the_county(record), *(gap for now in record.places for gap in _of_a_place(record, now))]
    says = "What a reader may look for and the record does not say. Nothing here was guessed at or filled in."
    return table("missing", "What is missing", says, COLUMNS, rows)


def _of_the_county(record: Record) -> Iterator[Gap]:
    places = record.places
    for count, what, says in (
        (sum(not now.day.heard for now in places), NEVER_HEARD, "places of which nothing was reported that day"),
        (sum(now.day.opened_at is None for now in places), "no opening", "places not reported open"),
        (sum(now.day.closed_at is None for now in places), "no closing", "places not reported closed"),
        (
            sum(now.day.received_at is None for now in places),
            "not received",
            "places whose material is not reported back",
        ),
    ):
        if count:
            yield [None, what, says, count]
    cases = record.picture.cases()
    for milestone in Milestone:
        untimed = times(cases, milestone, record.as_of).untimed
        if untimed:
            yield [None, "time of a response", f"cases that passed “{milestone.value}” without a time for it", untimed]
    if still := sum(case.state.open for case in cases):
        yield [None, "end of a case", "cases still open when the record ends", still]
    yield from _of_reports(record)


def _of_reports(record: Record) -> Iterator[Gap]:
    stamps = Counter(entry.stamp for entry in record.entries if entry.kind in REPORT_KINDS)
    for stamp, says in (
        (Stamp.RECEIVED, "reports that told no time: the time of receipt stands"),
        (Stamp.CLOCK_AHEAD, "reports whose sender's clock was ahead: the time of receipt stands"),
        (Stamp.CLOCK_BEHIND, "reports whose sender's clock was far behind: the time of receipt stands"),
    ):
        if stamps[stamp]:
            yield [None, "sender's time", says, stamps[stamp]]
    facts = Counter(notice.fact for state in record.picture.places.values() for notice in state.notices)
    if facts[Fact.OWED]:
        yield [None, "word of a notice", "notices of which it is not known whether they arrived", facts[Fact.OWED]]
    if facts[Fact.FAILED]:
        yield [None, "notice", "notices that did not arrive", facts[Fact.FAILED]]
    if facts[Fact.NOBODY]:
        yield [None, "somebody on shift", "times nobody was on shift for a role to be told", facts[Fact.NOBODY]]


def _of_a_place(record: Record, now: PlaceNow) -> Iterator[Gap]:
    place, day = now.place.place, now.day
    if not day.heard:
        yield [place, NEVER_HEARD, "nothing was reported that day", None]
        return
    without = [step for step in now.expected.steps if step.key not in day.done and step.due_at <= record.as_of]
    for step in without:
        yield [place, f"step: {step.step.says}", _how_far(now, step), None]
    if now.place.latitude is None or now.place.longitude is None:
        yield [place, "position", "not on the roster, so not on the map", None]


def _how_far(now: PlaceNow, step: ExpectedStep) -> str:
    """Which devices are missing, where some were reported."""
    done = [device for device in step.devices if (step.key, device) in now.day.device_done]
    if not done:
        return "not reported"
    left = [device for device in step.devices if device not in done]
    return f"not reported for {', '.join(left)}; reported for {', '.join(done)}"
