"""Made-up small days for hypothesis: entries of every kind at few moments, so that many are equal or out of order."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial

from hypothesis import strategies as st

from county.domain.entries import Entry, Kind, Stamp
from tests.builders import after, an_entry

PLACES = ("P014", "P015")
MOMENTS = (-60, -30, -30, -16, 0, 0, 20, 60, 65, 120, 600, 790)
DEVICES = ("", "SC-0141", "SC-0142", "BM-0141", "SC-0151", "GONE-1")
STEPS = (
    "staffed",
    "seals-checked",
    "zero-report",
    "open",
    "open",
    "closed",
    "results-printed",
    "balanced",
    "gone-step",
)
TROUBLES = ("scanner-jam", "no-power", "on-battery", "late-opening", "long-line", "threat", "other", "gone-kind")
EFFECTS = ("danger", "stopped", "impaired", "at-risk", "record", "gone-effect")
DEEDS = (
    *("acknowledge", "assign", "accept", "cannot", "under-way", "on-site", "clear", "reopen", "withdraw"),
    *("note", "effect", "gone-deed"),
)
CASES = (
    *("scanner-jam", "scanner-jam.SC-0141", "scanner-jam.SC-0141.2", "no-power", "no-power.2", "late-opening"),
    *("same-trouble.no-power", "same-trouble.scanner-jam", "same-trouble.no-power.2"),
    *(
        "seal-mismatch.SC-0141",
        "nonzero-start-count.SC-0141",
        "gone-kind",
        "counter-backwards.SC-0141",
        "silent",
        "",
        ".",
    ),
)
CLOCKED = (
    *("late-opening", "expected-late", "step-overdue", "silent", "message-unseen", "not-closed", "not-received"),
    "no-power",
    "gone-kind",
)
SMALL = (0, 1, 3, 40, 900)

moments = st.sampled_from(MOMENTS).map(after)
delays = st.sampled_from(
    [timedelta(0), timedelta(seconds=3), timedelta(seconds=3), timedelta(minutes=60), timedelta(hours=4)]
)
devices = st.sampled_from(DEVICES)
numbers = st.sampled_from(SMALL)


def _some(**fields: st.SearchStrategy[object]) -> st.SearchStrategy[dict[str, object]]:
    """Some of these fields."""
    return st.fixed_dictionaries({}, optional=fields)


_EVIDENCE = _some(
    device=devices,
    seal_position=st.sampled_from(["front", "FRONT", "auxiliary", "lid"]),
    seal_number=st.sampled_from(["A100", "A101", "WRONG"]),
    seal_intact=st.booleans(),
    public_counter=numbers,
    protective_counter=st.sampled_from([48_210, 48_250, 1_004]),
    copies=numbers,
    signers=numbers,
    officers_present=numbers,
    route_inches=st.sampled_from([30, 36]),
    door_inches=st.sampled_from([30, 32]),
    shown_date=st.sampled_from(["11/03/2026", "11/02/2026", "??"]),
    shown_precincts=st.sampled_from([("14A", "14B"), ("15",), ()]),
    ballots_left=numbers,
    ballots_delivered=numbers,
)
_NUMBERS = _some(
    device=devices,
    public_counter=numbers,
    check_ins=numbers,
    in_line=numbers,
    ballots_left=numbers,
    auxiliary=numbers,
)
_SAID_OF_TROUBLE = _some(
    device=devices,
    exception=st.sampled_from(TROUBLES),
    since=st.sampled_from(["2026-11-03T11:00:00Z", "2026-11-03T12:00:00Z", "2027-11-03T12:00:00Z", "gone"]),
    voters_left=numbers,
    fallback=st.just("paper"),
)
_steps = st.builds(lambda step, more: {"step": step, **more}, st.sampled_from(STEPS), _EVIDENCE)
_exceptions = st.builds(
    lambda exception, more, effect: {**more, "exception": exception, **effect},
    st.sampled_from(TROUBLES),
    _SAID_OF_TROUBLE,
    _some(effect=st.sampled_from(EFFECTS)),
)
_interruptions = st.builds(
    lambda more, effect, ends: {**more, **({"ends": True} if ends else {"effect": effect})},
    _SAID_OF_TROUBLE,
    st.sampled_from(EFFECTS[:3]),
    st.booleans(),
)
MESSAGES = st.sampled_from(["m-1", "m-2", "gone"])
_notes: st.SearchStrategy[dict[str, object]] = st.just({"note": "x"})
_REPORTS = {
    Kind.STEP: _steps,
    Kind.COUNT: _NUMBERS,
    Kind.EXCEPTION: _exceptions,
    Kind.INTERRUPTION: _interruptions,
    Kind.NOTE: _notes,
    Kind.MESSAGE_SEEN: st.fixed_dictionaries({"message": MESSAGES, "role": st.just("officer")}),
}


def _new_fields() -> st.SearchStrategy[dict[str, object]]:
    right = st.one_of(_EVIDENCE, _NUMBERS, _SAID_OF_TROUBLE)
    return st.one_of(right, st.just({"withdraw": True}), st.just({"withdraw": True}))


@st.composite
def _dated(draw: st.DrawFn, /, make: Callable[..., Entry], place: str, **fields: object) -> Entry:
    """An entry at some moment, received some time later, its time told or not."""
    at: datetime = draw(moments)
    received_at = at + draw(delays)
    stamp = draw(st.sampled_from([Stamp.TOLD, Stamp.TOLD, Stamp.RECEIVED, Stamp.CLOCK_AHEAD]))
    if stamp is Stamp.TOLD:
        return make(at, place=place, received_at=received_at, **fields)
    told_at = "2026-11-04T12:00:00Z" if stamp is Stamp.CLOCK_AHEAD else ""
    return make(received_at, place=place, received_at=received_at, stamp=stamp, told_at=told_at, **fields)


@st.composite
def reports(draw: st.DrawFn) -> Entry:
    """A report of any kind but a correction."""
    kind = draw(st.sampled_from(sorted(_REPORTS)))
    return draw(_dated(partial(an_entry, kind), draw(st.sampled_from(PLACES)), **draw(_REPORTS[kind])))


@st.composite
def corrections(draw: st.DrawFn, keys: list[str], place: str = "P014") -> Entry:
    """A correction of one of these keys."""
    corrects = draw(st.sampled_from(keys))
    return draw(_dated(partial(an_entry, Kind.CORRECTION), place, corrects=corrects, **draw(_new_fields())))


@st.composite
def _actions(draw: st.DrawFn) -> Entry:
    place = draw(st.sampled_from(PLACES))
    fields = {"case": f"{place}.{draw(st.sampled_from(CASES))}", "action": draw(st.sampled_from(DEEDS))}
    more = draw(
        _some(
            rover=st.sampled_from(["R03", "R04"]),
            suggested=st.sampled_from(["R03", "R04", "GONE"]),
            expected_at=st.sampled_from(["2026-11-03T12:40:00Z", "gone"]),
            effect=st.sampled_from(EFFECTS),
        )
    )
    made = draw(_dated(partial(an_entry, Kind.ACTION), place, **fields, **more))
    return replace(made, sender="desk:Front desk", by="Front desk")


@st.composite
def _messages(draw: st.DrawFn) -> Entry:
    """A message from the office, or once more the same."""
    place, message = draw(st.sampled_from(PLACES)), draw(st.sampled_from(["m-1", "m-2"]))
    fields = {"message": message, "text": f"Text of {message}", "to": "every place"}
    made = draw(_dated(partial(an_entry, Kind.MESSAGE), place, **fields))
    return replace(made, sender="board:Ann Lee", by="Ann Lee", stamp=Stamp.RECEIVED)


_PATTERN = st.fixed_dictionaries(
    {"of": st.sampled_from(["scanner-jam", "no-power"]), "cause": st.sampled_from(["no-power.P014.no-power", "x/2"])},
    optional={
        "cases": st.lists(st.sampled_from(["P014.no-power", "P015.no-power", "gone"]), max_size=3).map(tuple),
        "ends": st.just(value=True),
    },
)


@st.composite
def _raised(draw: st.DrawFn) -> Entry:
    fields: dict[str, object] = {"exception": draw(st.sampled_from(CLOCKED)), "says": "x"}
    fields |= {"effect": draw(st.sampled_from(EFFECTS)), "device": draw(devices)}
    fields |= {"cause": draw(st.sampled_from([*STEPS, "20261103T120000Z", "m-1"]))}
    if draw(st.booleans()):
        fields = {"exception": "same-trouble", "says": "x", "effect": draw(st.sampled_from(EFFECTS)), **draw(_PATTERN)}
    made = draw(_dated(partial(an_entry, Kind.RAISED), draw(st.sampled_from(PLACES)), **fields))
    return replace(made, sender="clock", by="clock", stamp=Stamp.TOLD)


@st.composite
def days(draw: st.DrawFn, most: int = 12) -> list[Entry]:
    """A small day: each entry has a key of its own; corrections speak of any of them, of each other, or of nothing."""
    of_any_kind = st.one_of(reports(), reports(), reports(), _actions(), _messages(), _raised())
    entries = draw(st.lists(of_any_kind, max_size=most))
    entries = [replace(entry, key=f"e{number}") for number, entry in enumerate(entries)]
    many = draw(st.integers(0, 5))
    keys = [entry.key for entry in entries] + [f"c{number}" for number in range(many)] + ["nothing"]
    entries += [replace(draw(corrections(keys)), key=f"c{number}") for number in range(many)]
    return entries


def last_received(entries: list[Entry]) -> datetime:
    """When the last of these was received, or the opening."""
    return max((entry.received_at for entry in entries), default=after())
