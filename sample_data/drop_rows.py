"""What the two drop files say: one as an office would send it, one with eight different mistakes."""

from collections.abc import Mapping

REPORT_COLUMNS = (
    "key", "place", "kind", "happened_at", "step", "device", "seal_position", "seal_number", "seal_intact",
    "public_counter", "protective_counter", "copies", "signers", "officers_present", "route_inches", "check_ins",
    "in_line", "ballots_left", "exception", "effect", "since", "voters_left", "fallback", "ends", "corrects", "reason",
    "note",
)  # fmt: skip
"""The fields of a report, in an order of our own."""


def _at(clock: str) -> str:
    """This minute of election day, in the county's zone; a longer text as it is."""
    return f"2026-11-03T{clock}:00-06:00" if len(clock) == 5 else clock


def _row(key: str, place: str, kind: str, clock: str, **said: object) -> Mapping[str, object]:
    return {"key": key, "place": place, "kind": kind, "happened_at": _at(clock), **said}


def _zero(key: str, place: str, clock: str, device: str, **said: object) -> Mapping[str, object]:
    evidence = {"public_counter": 0, "protective_counter": "recorded", "copies": 3, "signers": 3}
    return _row(key, place, "step", clock, step="zero-report", device=device, **(evidence | said))


def _seal(key: str, place: str, clock: str, device: str, position: str, **said: object) -> Mapping[str, object]:
    evidence = {"seal_position": position, "seal_number": "recorded", "seal_intact": "true"}
    return _row(key, place, "step", clock, step="seals-checked", device=device, **(evidence | said))


CLEAN = (
    _row("c-01", "P002", "step", "05:02", step="staffed", officers_present=5),
    _row("c-02", "P002", "step", "05:24", step="site-ready", route_inches=44),
    _seal("c-03", "P002", "05:28", "SC-0021", "front"),
    _seal("c-04", "P002", "05:29", "SC-0021", "auxiliary"),
    _seal("c-05", "P002", "05:30", "BM-0021", "front"),
    _row("c-06", "P002", "step", "05:31", step="powered"),
    _row("c-07", "P002", "step", "05:36", step="boxes-empty", device="SC-0021"),
    _row("c-08", "P002", "step", "05:39", step="pollbooks-ready", note="Paper list on the table"),
    _row("c-09", "P002", "step", "05:41", step="setup-confirmed", device="SC-0021"),
    _zero("c-10", "P002", "05:44", "SC-0021", signers=4),
    _row("c-11", "P002", "step", "06:00", step="open", in_line=14),
    _row("c-12", "P023", "step", "06:05", step="staffed", officers_present=4, note="Own hours: opens at 7"),
    _row("c-13", "203", "step", "05:12", step="staffed", officers_present=4, note="Sent with the precinct's number"),
    _row("c-14", "P002", "count", "07:00", device="SC-0021", public_counter=61, in_line=9),
    _row("c-15", "P002", "count", "07:00", check_ins=63, ballots_left=1_012),
    _row("c-16", "P030", "exception", "06:20", exception="scanner-jam", device="SC-0301", effect="impaired",
         fallback="Ballots go into the auxiliary compartment", note="Two officers opened the hood"),
    _row("c-17", "P044", "interruption", "06:40", exception="pollbook-outage", effect="impaired", since=_at("06:35"),
         voters_left=2, fallback="Paper list"),
    _row("c-18", "P044", "interruption", "06:58", exception="pollbook-outage", effect="impaired", ends="true"),
    _row("c-19", "P011", "note", "06:10", note="Parking on the north side only, signs moved"),
    _row("c-20", "P002", "correction", "07:10", corrects="c-14", reason="Read again by two officers", device="SC-0021",
         public_counter=64),
)  # fmt: skip

MISTAKES = (
    _row("m-01", "P006", "step", "05:03", step="staffed", officers_present=5),
    _row("m-02", "P006", "count", "07:00", check_ins=48, copies=3, note="Mistake: a count has no copies"),
    _row("m-03", "P099", "step", "05:05", step="staffed", note="Mistake: no such place"),
    _row("m-04", "P006", "step", "05:44", step="zero-raport", device="SC-0061", note="Mistake: no such step"),
    _row("m-05", "P006", "count", "07:00", check_ins=-3, note="Mistake: a number below zero"),
    _zero("m-06", "P006", "05:45", "SC-0071", note="Mistake: another place's scanner"),
    _row("m-07", "P006", "step", "2026-11-03T25:10:00-06:00", step="powered", note="Mistake: no such time"),
    _row("m-08", "P006", "step", "05:30", step="seals-checked", seal_position="front", seal_number="414141",
         note="Mistake: a seal without its device"),
    _row("m-09", "P006", "exception", "06:15", exception="scaner-jam", note="Mistake: no such kind of exception"),
    _zero("m-10", "P006", "05:46", "SC-0061"),
    _row("m-11", "P006", "step", "2026-11-03T05:33:00", step="powered",
         note="No offset: taken, with the time it was received"),
    _row("", "P006", "step", "06:00", step="open", note="No key: it gets one from its content"),
)  # fmt: skip
