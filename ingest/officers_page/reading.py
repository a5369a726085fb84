"""Forms of the sheet, read one after another into what is kept: entries, or what is set aside of them."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from county.domain.entries import Entry
from county.domain.intake import Hand, take
from county.domain.picture import Picture, PlaceState
from county.domain.place_day import fold
from county.domain.receipts import Outcome, Receipt
from county.errors import NotAllowed, Problem, Refused
from ingest.aside import NOT_ALLOWED, REFUSED, set_aside
from ingest.officers_page.forms import Typed, raw_reports
from ingest.phone.forms import Form
from ingest.waiting import Item

# of the receipts of one form's reports, the first of these that was given is the form's
_GRAVEST = (Outcome.REFUSED, Outcome.CONFLICT, Outcome.KEPT, Outcome.ALREADY_HELD)


@dataclass(frozen=True, slots=True)
class ReadForm:
    """One form: its key, what is to be kept of it, and what was wrong with it."""

    key: str
    items: tuple[Item, ...]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class FormReceipt:
    """What became of one form as a whole."""

    key: str
    outcome: Outcome
    says: str


def read_forms(forms: Iterable[Form], picture: Picture, place: str, hand: Hand) -> list[ReadForm]:
    """Read forms in order, each in the light of those before it: trouble told after the opening is an interruption."""
    state = picture.places[place]
    read: list[ReadForm] = []
    for form in forms:
        read.append(_read(form, state, picture, hand))
        new = [item for item in read[-1].items if isinstance(item, Entry)]
        state = replace(state, day=fold(state.expected, (*state.day.told, *new)))
    return read


def receipts_of(read: Sequence[ReadForm], receipts: Sequence[Receipt]) -> list[FormReceipt]:
    """One receipt for each form from those of its reports, which stand in the same order."""
    left = iter(receipts)
    return [_together(form, [next(left) for _ in form.items]) for form in read]


def _read(form: Form, state: PlaceState, picture: Picture, hand: Hand) -> ReadForm:
    key = form.get("key", "").strip()
    try:
        raws = raw_reports(Typed(form, state, picture.plan, hand.received_at))
    except Refused as error:
        item = set_aside(hand, REFUSED, error.problems, _as_text(form), key=key, source=f"sheet of {hand.place_only}")
        return ReadForm(key, (item,), error.problems)
    items: list[Item] = []
    problems: list[Problem] = []
    for raw in raws:
        try:
            items.append(take(raw, hand, picture.roster, picture.plan))
        except Refused as error:
            problems.extend(error.problems)
            items.append(set_aside(hand, REFUSED, error.problems, _as_text(raw), key=raw.get("key")))
        except NotAllowed as error:
            problems.append(Problem("place", str(error)))
            items.append(set_aside(hand, NOT_ALLOWED, problems[-1:], _as_text(raw), key=raw.get("key")))
    return ReadForm(key, tuple(items), tuple(problems))


def _as_text(said: Mapping[str, object]) -> str:
    return json.dumps({name: value for name, value in said.items() if value not in (None, "")}, ensure_ascii=False)


def _together(form: ReadForm, receipts: Sequence[Receipt]) -> FormReceipt:
    outcomes = [receipt.outcome for receipt in receipts]
    gravest = next(outcome for outcome in _GRAVEST if outcome in outcomes)
    says = "; ".join(dict.fromkeys(receipt.says for receipt in receipts if receipt.outcome is gravest and receipt.says))
    return FormReceipt(form.key, gravest, says)
