"""A tap on the rover's page becomes an action on its case, or what is set aside of it."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from county import desk
from county.domain.cases import Action
from county.domain.intake import Hand
from county.domain.moments import parse_moment, write_moment
from county.domain.picture import Picture
from county.domain.receipts import Outcome, Receipt
from county.domain.rover_cases import ROVERS_ACTIONS
from county.errors import NotAllowed, NotFound, Problem, Refused
from ingest.aside import NOT_ALLOWED, REFUSED, set_aside
from ingest.phone.forms import Form
from ingest.waiting import Item

LONGEST_WAY = 600


@dataclass(frozen=True, slots=True)
class ReadTap:
    """One tap: its key, what is to be kept of it, and what was wrong with it."""

    key: str
    item: Item
    problems: tuple[Problem, ...] = ()

    @property
    def lacks(self) -> bool:
        """Whether it only lacks words, so that they are asked for and nothing is set aside."""
        return bool(self.problems) and all(problem.field == "note" for problem in self.problems)


@dataclass(frozen=True, slots=True)
class TapReceipt:
    """What became of one tap."""

    key: str
    outcome: Outcome
    says: str


def read_taps(forms: Sequence[Form], picture: Picture, hand: Hand) -> list[ReadTap]:
    """Read taps in order, each as an action on the case it names."""
    return [_read(form, picture, hand) for form in forms]


def receipts_of(read: Sequence[ReadTap], receipts: Sequence[Receipt]) -> list[TapReceipt]:
    """A receipt for each tap, in order."""
    return [
        TapReceipt(tap.key, receipt.outcome, in_words(tap.problems) or receipt.says)
        for tap, receipt in zip(read, receipts, strict=True)
    ]


def _read(form: Form, picture: Picture, hand: Hand) -> ReadTap:
    key, case = form.get("key", "").strip(), form.get("case", "")
    try:
        return ReadTap(key, desk.read_action(picture, case, _raw(form), hand))
    except Refused as error:
        reason, problems = REFUSED, error.problems
    except NotAllowed as error:
        reason, problems = NOT_ALLOWED, (Problem("case", str(error)),)
    except NotFound as error:
        reason, problems = REFUSED, (Problem("case", str(error)),)
    item = set_aside(hand, reason, problems, _as_text(form), key=key, source=f"action on {case[:200]}")
    return ReadTap(key, item, tuple(problems))


def _raw(form: Form) -> dict[str, object]:
    """The action as any door gives it. When the rover is expected follows from the form alone, so that a tap sent twice
    says the same.
    """
    action = form.get("action", "")
    if action not in ROVERS_ACTIONS:
        raise Refused([Problem("action", "is none of a rover's")])
    raw: dict[str, object] = {name: form.get(name, "").strip() for name in ("key", "action", "note", "happened_at")}
    if action == Action.UNDER_WAY:
        raw["expected_at"] = _expected(form)
    return raw


def _expected(form: Form) -> str:
    minutes = form.get("minutes", "")
    try:
        tapped: datetime | None = parse_moment(form.get("happened_at", ""))
    except ValueError:
        tapped = None
    if tapped is None or not minutes.isdecimal() or not 0 < int(minutes[:4]) <= LONGEST_WAY:
        return ""
    return write_moment(tapped + timedelta(minutes=int(minutes[:4])))


def _as_text(said: Mapping[str, str]) -> str:
    return json.dumps({name: value for name, value in said.items() if value}, ensure_ascii=False)


def in_words(problems: Sequence[Problem]) -> str:
    """What was wrong with a tap, for a person."""
    return "; ".join("a few words are needed" if problem.field == "note" else problem.says for problem in problems)
