"""What the office does with reports: keep them, answer for them, read them back. One function, one transaction."""

import json
from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime

from sqlalchemy import Connection

from county import telling
from county.allowed import must_be_allowed
from county.domain.actions import take_action
from county.domain.entries import Entry, Kind
from county.domain.entry_form import as_sent
from county.domain.intake import Hand
from county.domain.messages import Undelivered
from county.domain.pattern_facts import pattern_facts
from county.domain.picture import Picture
from county.domain.receipts import Outcome, Receipt, SetAside
from county.domain.roster import Roster
from county.domain.rules import clock_findings
from county.domain.rules.scene import ClockRule, Due, Scene
from county.domain.senders import Sender
from county.errors import NotFound, Overtaken, Problem, UnknownKey
from county.forecasting import forecasts_near_opening
from county.store import keys, ledger, outbox, set_aside
from county.store import roster as stored_roster
from county.store.engine import reading, writing
from county.wiring import Office

__all__ = [
    "Outcome",
    "Receipt",
    "Sender",
    "SetAside",
    "act",
    "failed_notices",
    "find_sender",
    "keep",
    "last_seq",
    "ledger_pages",
    "raise_by_clock",
    "read_action",
    "roster",
    "set_aside_list",
]


def keep(office: Office, items: Sequence[Entry | SetAside]) -> list[Receipt]:
    """Keep what is new and set the rest aside, all in one transaction; durable when this returns.

    One receipt for each item, in order. A report under a key that stands with other content is set aside too.
    Raises NotAllowed where a person at the board may not write it down, and then nothing is.
    """
    with writing(office.engine) as connection:
        return _keep(connection, items)


def _keep(connection: Connection, items: Sequence[Entry | SetAside]) -> list[Receipt]:
    entries = [item for item in items if isinstance(item, Entry)]
    refused = [item for item in items if isinstance(item, SetAside)]
    must_be_allowed(connection, entries)
    receipts = ledger.append(connection, entries)
    conflicts = [_conflict(e, r) for e, r in zip(entries, receipts, strict=True) if r.outcome is Outcome.CONFLICT]
    set_aside.put(connection, [*conflicts, *refused])
    kept = iter(receipts)
    return [next(kept) if isinstance(item, Entry) else _refused(item) for item in items]


def act(
    office: Office,
    picture: Picture,
    case: str,
    raw: object,
    sender: str,
    by: str,
    door: str,
    place_only: str | None = None,
    seen: Collection[str] | None = None,
) -> Receipt:
    """Keep what a person did with a case. Raises NotFound, NotAllowed, or Refused with every problem.

    Where `seen` names the keys of what the person saw done with the case, nothing is written over anybody's head:
    Overtaken is raised where others have done more meanwhile, however close they were.
    """
    hand = Hand(sender, by, door, office.clock.now(), office.clock.word, place_only)
    entry = read_action(picture, case, raw, hand)
    with writing(office.engine) as connection:
        if seen is not None:
            done = ledger.acted_on(connection, entry.place, entry.text("case"))
            others = [each for each in done if each.key not in seen and each.key != entry.key]
            if others:
                raise Overtaken(others)
        return _keep(connection, [entry])[0]


def read_action(picture: Picture, case: str, raw: object, hand: Hand) -> Entry:
    """Read an action on a case of this picture, without keeping it. Raises NotFound, NotAllowed or Refused."""
    found = picture.case(case)
    if found is None:
        raise NotFound(f"there is no case {case[:200]}")
    return take_action(raw, hand, found, picture.roster, picture.plan)


def raise_by_clock(office: Office, picture: Picture, now: datetime) -> int:
    """Write down what time alone has made true at each place, and what the same trouble at many places amounts to.

    Each is written once, whoever else does the same; how many were new.

    An entry happened when it became true and was received `now` (aware UTC). Whoever is to be told of it at once is
    owed the notice in the same transaction.
    """
    likely = forecasts_near_opening(office, picture, now)
    due = [
        _raised(place, rule, found, picture, now, office.clock.word)
        for place, state in picture.places.items()
        for rule, found in clock_findings(
            Scene(state.day, state.expected, picture.plan, state.cases, likely.get(place)), now
        )
    ]
    due += pattern_facts(picture, now, office.clock.word)
    new = [entry for entry in due if all(entry.key != held.key for held in picture.places[entry.place].day.raised)]
    if not new:
        return 0
    dues = telling.due_at(replace(office, plan=picture.plan), picture.with_more(new).values(), now)
    # another clock may have put the same fact in other words; that is no conflict for a person to look at
    with writing(office.engine) as connection:
        kept = sum(receipt.outcome is Outcome.KEPT for receipt in ledger.append(connection, new))
        telling.write_down(connection, dues)
    return kept


def find_sender(office: Office, token: str) -> Sender:
    """Whose live reporting key this is. Raises UnknownKey where it is nobody's, or was revoked."""
    with reading(office.engine) as connection:
        holder = keys.holder_of(connection, token)
    if holder is None:
        raise UnknownKey("no such reporting key, or it was revoked")
    return Sender.named(holder)


def roster(office: Office) -> Roster:
    """The roster as it stands."""
    with reading(office.engine) as connection:
        return stored_roster.load(connection)


def ledger_pages(office: Office, after: int = 0, limit: int = 1_000) -> list[dict[str, object]]:
    """Entries after a number as /ledger gives them, in order, with `previous` and `digest`."""
    with reading(office.engine) as connection:
        return ledger.pages(connection, after, limit)


def last_seq(office: Office) -> int:
    """The number of the last entry; 0 where there is none."""
    with reading(office.engine) as connection:
        return ledger.head(connection)[0]


def set_aside_list(office: Office, limit: int | None = None) -> list[SetAside]:
    """What was set aside, newest first."""
    with reading(office.engine) as connection:
        return set_aside.latest(connection, limit)


def failed_notices(office: Office) -> list[Undelivered]:
    """The notices that did not reach anybody for good, latest first, with why: for the desk to tell by telephone."""
    with reading(office.engine) as connection:
        return outbox.failed(connection)


def _conflict(entry: Entry, receipt: Receipt) -> SetAside:
    return SetAside(
        key=entry.key,
        sender=entry.sender,
        door=entry.door,
        received_at=entry.received_at,
        reason="conflict",
        problems=(Problem("key", receipt.says),),
        raw=json.dumps(as_sent(entry), ensure_ascii=False),
    )


def _refused(item: SetAside) -> Receipt:
    return Receipt(item.key, Outcome.REFUSED, 0, item.received_at, item.problems, item.says)


def _raised(place: str, rule: ClockRule, due: Due, picture: Picture, now: datetime, clock: str) -> Entry:
    kind = picture.plan.exception_kinds[rule.exception]
    told: dict[str, object] = {"exception": kind.key, "effect": kind.effect.value, "says": due.says, "cause": due.cause}
    return Entry(
        # the same fact always has the same key, so two clocks write it once; no sender's key can hold a stroke
        key="/".join(part for part in ("clock", kind.key, place, due.device, due.cause) if part),
        kind=Kind.RAISED,
        place=place,
        happened_at=due.since,
        received_at=now,
        by="clock",
        door="clock",
        sender="clock",
        fields=told | ({"device": due.device} if due.device else {}) | dict(due.fields),
        clock=clock,
    )
