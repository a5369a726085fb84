"""A small county's day as a pack is made of it: late openings, a stop, corrections, cases seen to, notices, names."""

from collections.abc import Sequence
from dataclasses import replace

from county.domain.entries import Entry, Kind, Stamp
from county.domain.entry_form import canonical, written
from county.domain.plan import Contact, Plan
from county.domain.receipts import SetAside
from county.domain.roster import Place, Roster, Rover
from county.errors import Problem
from county.pack.record import Choice, Kept, Record, make_record
from county.store.ledger import FIRST_PREVIOUS, digest_of
from tests.builders import (
    a_correction,
    a_count,
    a_note,
    a_plan,
    a_roster,
    a_step,
    a_withdrawal,
    after,
    an_action,
    an_entry,
    an_exception,
    an_interruption,
    before,
    raised,
    the_end,
)

ADA, BO = "Ada Rill", "Bo Tarn"
PHONE = "(608) 555-0143"


def the_roster() -> Roster:
    """P014 to P016 with positions and telephones, and one rover with a name."""
    places = tuple(
        replace(place, latitude=43.1 + n / 100, longitude=-89.4 - n / 100, phone=f"555-010{n}", zone="north")
        for n, place in enumerate(a_roster().places)
    )
    unplaced = Place("P017", "Old Mill", zone="north")
    return a_roster(places=(*places, unplaced), rovers=(Rover("R03", "Odessa Marl", "north", PHONE),))


def the_plan() -> Plan:
    return replace(a_plan(), people=(Contact(BO, ("lead",), "mailto://bo@example.org"),))


def a_day() -> tuple[Entry, ...]:
    """P014 opens 34 minutes late and is stopped for a while, P015 opens in time, P016 is not heard from at its "
    "opening."""
    late = raised("late-opening", "open", after(0), effect="stopped")
    case = "P014.late-opening"
    hers = {"by": ADA, "sender": f"board:{ADA}"}
    count = a_count(after(180), device="SC-0141", public_counter=211, check_ins=215, in_line=12)
    jam = an_exception("scanner-jam", after(100), device="SC-0142", note=f"=HYPERLINK(1) ask {ADA}, {PHONE}")
    entries = (
        a_step("staffed", before(50), officers_present=4),
        a_step("zero-report", before(9), device="SC-0141", public_counter=0, protective_counter=48_210, copies=3),
        a_step("open", before(1), place="P015"),
        late,
        _notice("b49699ceef68", "owed", after(0), person=BO, role="lead", channel="e-mail"),
        _notice("b49699ceef68", "arrived", after(1)),
        _done(an_action(case, "acknowledge", after(3), **hers)),
        _done(an_action(case, "assign", after(4), rover="R03", **hers)),
        _done(an_action(case, "under-way", after(6), rover="R03", **hers)),
        _done(an_action(case, "on-site", after(21), rover="R03", **hers)),
        a_step("open", after(34), received_at=after(35.5)),
        a_note(after(40), f"Marl has gone; call {ADA.upper()} at 608-555-0143 or ada@example.org"),
        a_step("staffed", after(41), place="P016", stamp=Stamp.RECEIVED, key="row-" + "c" * 32, by="p16.csv"),
        jam,
        an_interruption("stopped", after(100), exception="no-power", voters_left=7, fallback="emergency ballots"),
        the_end(after(130), exception="no-power"),
        count,
        a_correction(
            count, after(186), public_counter=221, reason="read again by two officers", key="text-" + "f" * 32
        ),
        a_withdrawal(jam, after(190), reason="told of the wrong place", by=ADA, sender=f"desk:{ADA}"),
        _done(an_entry(Kind.HAND_OVER, after(200), place="", note="all calm", by=ADA, sender=f"board:{ADA}")),
    )
    return tuple(replace(entry, seq=n) for n, entry in enumerate(entries, 1))


def kept(entries: Sequence[Entry], plan: Plan | None = None, roster: Roster | None = None) -> Kept:
    """What an office keeps whose ledger these entries are, numbered and chained as the ledger does it."""
    previous, digests = FIRST_PREVIOUS, []
    for entry in entries:
        previous = digest_of(previous, canonical(written(entry, entry.seq, previous)))
        digests.append(previous)
    aside = SetAside("k", "place:P014", "endpoint", after(5), "refused", (Problem("kind", "is needed"),), '{"a": 1}')
    text = f'[election]\nname = "x"\n\n[[person]]\nname = "{BO}"\n\n[limits]\ncopies = 3  # as {ADA} asked\n'
    plan, roster = plan or the_plan(), roster or the_roster()
    return Kept(plan, text, roster, tuple(entries), (replace(aside, number=1),), tuple(digests))


def a_record(choice: Choice | None = None, entries: Sequence[Entry] | None = None) -> Record:
    """The record of the small day."""
    return make_record(kept(a_day() if entries is None else entries), choice or Choice())


def _done(entry: Entry) -> Entry:
    return replace(entry, door="board")


def _notice(notice: str, fact: str, at: object, **more: object) -> Entry:
    told = {"fact": fact, "notice": notice, "case": "P014.late-opening", "message": notice, **more}
    telling = {"telling": "tell-1"} if fact == "owed" else {}
    made = an_entry(
        Kind.NOTICE,
        at,  # type: ignore[arg-type]
        key=f"notice/{notice}/{fact}",
        by="notices",
        sender="notices",
        **told,  # type: ignore[arg-type]
        **telling,  # type: ignore[arg-type]
    )
    return replace(made, door="notices")
