"""What a text line is answered: one short message, in which the most useful part is never cut."""

from county.domain.plan import Plan
from county.domain.roster import Place
from county.domain.text_line import Speaker, Unclear, Understood, example

LONGEST_ANSWER = 160


def kept_answer(place: Place, understood: Understood, plan: Plan) -> str:
    """What was understood, and that the office has it; in a rehearsal, that it is one."""
    has = f"The {plan.word('office')} has it."
    only = ("Rehearsal only.",) if plan.election.rehearsal else ()
    return _short(f"{place.place} {place.name}: {understood.says}.", has, *_danger(understood), *only)


def _danger(understood: Understood) -> tuple[str, ...]:
    told = any(raw.get("kind") == "exception" for raw in understood.raws)
    return ("Danger to anyone? Call 911.",) if told else ()


def unclear_answer(error: Unclear, speaker: Speaker, plan: Plan) -> str:
    """What is wrong with a line, and one that could be understood."""
    place = speaker.places[0] if speaker.places else "P014"
    return _short(
        f"Not understood: {error}.",
        f"Text like: {error.example or example('text_open', plan, place)}.",
        _call(plan),
        "Danger? Call 911.",
    )


def stranger_answer(plan: Plan) -> str:
    county = plan.election.county
    return _short(
        f"This number is not on {county}'s list, so nothing was taken down.", _call(plan), "Danger? Call 911."
    )


def _call(plan: Plan) -> str:
    phone = plan.reach.phone
    return f"Or call {phone}." if phone else f"Or call the {plan.word('office')}."


def _short(first: str, *rest: str) -> str:
    """As much as fits into one message; the first part is cut where it has to be, the last ones stay."""
    tail = " ".join(rest)
    room = LONGEST_ANSWER - len(tail) - 1
    return f"{first if len(first) <= room else f'{first[: room - 4]}...'} {tail}".strip()
