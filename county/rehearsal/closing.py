"""How one place closes on a made-up day: the last voter, the results report, the ballots balanced, the way back."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random
from types import MappingProxyType

from county.domain.expected import Expected, ExpectedStep
from county.domain.plan import Anchor
from county.rehearsal.carrying import CARRYING, Material
from county.rehearsal.luck import Luck
from county.rehearsal.sent import lognormal, minutes
from county.rehearsal.sheet import Sheet

LONG_WAY = 0.03
Fields = dict[str, object]


@dataclass(frozen=True, slots=True)
class Papers:
    """What there is to count at the close: per scanner the public and the protective counter, and the place's paper.

    `left` is None where the roster does not say what was delivered, `brought` is all that was delivered where more was
    brought through the day. `off` is by how much the paper is miscounted.
    """

    public: Mapping[str, int]
    protective: Mapping[str, int]
    check_ins: int
    spoiled: int
    provisional: int
    left: int | None
    off: int
    brought: int | None = None


def closing(sheet: Sheet, expected: Expected, luck: Luck, carried: Material, rng: Random) -> None:
    """Write down the closing steps of the plan, each around the time it is due; `carried` is what leaves at the end."""
    off = rng.choice((-1, 1, 2))
    papers = _papers(sheet, expected, off if sheet.place in luck.out_of_balance else 0, rng)
    steps = [each for each in expected.steps if each.step.anchor is Anchor.CLOSING]
    in_line = _last(sheet, "in_line", "") or min(30, round(rng.expovariate(0.15)))
    at = expected.closes_at
    for step in sorted(steps, key=lambda each: each.due_at):
        if step.key == "received" and sheet.place in luck.not_back:
            return
        at = max(at, _done_at(step, expected.closes_at, in_line, rng))
        if step.key in CARRYING:
            CARRYING[step.key](sheet, at, carried, luck)
            continue
        for number, device in enumerate(step.devices or ("",)):
            where: Fields = {"device": device} if device else {}
            found = _FOUND.get(step.key, _nothing)(papers, device, rng)
            if step.key == "closed":
                found |= {"in_line": in_line}
            sheet.tell(at + minutes(2 * number), {"kind": "step", "step": step.key, **where, **found})


def _done_at(step: ExpectedStep, closes_at: datetime, in_line: int, rng: Random) -> datetime:
    """Closing is to the minute; the last voter comes after the line; the rest takes about as long as planned."""
    if step.key == "closed":
        return closes_at
    if step.key == "last-voter":
        return closes_at + minutes(in_line * rng.uniform(0.6, 1.4))
    planned = max(1.0, (step.due_at - closes_at) / timedelta(minutes=1))
    slow = 2.5 if step.key == "received" and rng.random() < LONG_WAY else 1.0
    return closes_at + minutes(lognormal(rng, planned * 0.85 * slow, 0.18))


def _papers(sheet: Sheet, expected: Expected, off: int, rng: Random) -> Papers:
    """The numbers of the day as its own last counts leave them, with a few more voters until the close.

    A count that a scanner began with is on no paper, so there it will not balance.
    """
    public = {device: _last(sheet, "public_counter", device) + rng.randint(0, 9) for device in expected.scanners}
    started = {device: _first(sheet, "protective_counter", device) for device in expected.scanners}
    began = {device: _first(sheet, "public_counter", device) for device in expected.scanners}
    scanned = sum(public.values()) - sum(began.values())
    spoiled, provisional = _last(sheet, "spoiled", ""), rng.randint(0, 4)
    brought = _last(sheet, "ballots_delivered", "") or None
    delivered = brought or expected.place.ballots_delivered
    return Papers(
        public=MappingProxyType(public),
        protective=MappingProxyType({device: started[device] + public[device] - began[device] for device in public}),
        check_ins=scanned + provisional,
        spoiled=spoiled,
        provisional=provisional,
        brought=brought,
        left=None if delivered is None else max(0, delivered - scanned - spoiled - provisional),
        off=off,
    )


def _last(sheet: Sheet, name: str, device: str) -> int:
    return next((number for number in _numbers(sheet, name, device)[::-1]), 0)


def _first(sheet: Sheet, name: str, device: str) -> int:
    return next(iter(_numbers(sheet, name, device)), 0)


def _numbers(sheet: Sheet, name: str, device: str) -> list[int]:
    """Every number told under this name of a device, in order; `device` empty takes it from any report."""
    told = [each.fields for each in sheet.told if not device or each.fields.get("device") == device]
    return [int(str(fields[name])) for fields in told if name in fields]


def _nothing(papers: Papers, device: str, rng: Random) -> Fields:
    return {}


def _results(papers: Papers, device: str, rng: Random) -> Fields:
    if device not in papers.public:
        return {}
    found: Fields = {"public_counter": papers.public[device]}
    return found | ({"protective_counter": papers.protective[device]} if papers.protective[device] else {})


def _balanced(papers: Papers, device: str, rng: Random) -> Fields:
    found: Fields = {"spoiled": papers.spoiled, "provisional": papers.provisional, "check_ins": papers.check_ins}
    if papers.left is not None:
        found["ballots_left"] = max(0, papers.left + papers.off)
    found |= {} if papers.brought is None else {"ballots_delivered": papers.brought}
    return found | ({"note": "Counted twice, the same both times. Reason not found yet."} if papers.off else {})


_FOUND: Mapping[str, Callable[[Papers, str, Random], Fields]] = MappingProxyType(
    {"results-printed": _results, "balanced": _balanced}
)
