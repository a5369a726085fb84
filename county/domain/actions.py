"""What a person did with a case becomes an entry, or every reason why it cannot."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from county.domain.cases import Action, Case
from county.domain.effects import Effect
from county.domain.entries import Entry, Kind, Shape
from county.domain.field_shapes import READ
from county.domain.intake import Hand, read_key, shown, when_happened
from county.domain.plan import Plan
from county.domain.roster import Roster
from county.domain.rover_cases import must_be_rovers
from county.errors import NotAllowed, Problem, Refused

_HEAD = ("key", "action", "happened_at")
_SHAPES: Mapping[str, Shape] = MappingProxyType(
    {
        "rover": Shape.WORD,
        "suggested": Shape.WORD,
        "expected_at": Shape.MOMENT,
        "effect": Shape.WORD,
        "note": Shape.TEXT,
    }
)
_NEEDS: Mapping[Action, str] = MappingProxyType(
    {
        Action.ASSIGN: "rover",
        Action.ACCEPT: "rover",
        Action.CANNOT: "note",
        Action.EFFECT: "effect",
        Action.NOTE: "note",
    },
)
_BELONGS: Mapping[str, tuple[Action, ...]] = MappingProxyType(
    {
        "rover": (Action.ASSIGN, Action.ACCEPT, Action.CANNOT, Action.UNDER_WAY, Action.ON_SITE),
        "suggested": (Action.ASSIGN,),
        "expected_at": (Action.ASSIGN, Action.ACCEPT, Action.UNDER_WAY),
        "effect": (Action.EFFECT,),
        "note": tuple(Action),
    }
)


def take_action(raw: object, hand: Hand, case: Case, roster: Roster, plan: Plan) -> Entry:
    """Turn one raw action on a case into an entry.

    What a rover's own key says is that rover's. Errors: Refused with every problem found, field by field; NotAllowed
    where the sender's key is another place's, or a rover's to whom the case is not assigned.
    """
    if hand.place_only is not None and hand.place_only != case.place:
        raise NotAllowed(f"this key reports for {hand.place_only}, not for {case.place}")
    if not isinstance(raw, Mapping) or not all(isinstance(name, str) for name in raw):
        raise Refused([Problem("", "an action is one object of named fields")])
    said = {name: value for name, value in raw.items() if value is not None and value != ""}
    if hand.rover_only is not None and said.get("action") in _BELONGS["rover"]:
        said = {"rover": hand.rover_only, **said}
    problems: list[Problem] = []
    key = read_key(said.get("key"), problems)
    action = _action(said.get("action"), problems)
    happened_at, stamp, told_at = when_happened(said.get("happened_at"), hand.received_at, plan, problems)
    fields = _fields(said, action, roster, problems)
    if problems or action is None:
        raise Refused(problems)
    if hand.rover_only is not None:
        must_be_rovers(case, hand.rover_only, action, happened_at)
        if fields.get("rover", hand.rover_only) != hand.rover_only:
            raise NotAllowed(f"this key speaks for rover {hand.rover_only} only")
    return Entry(
        key=key,
        kind=Kind.ACTION,
        place=case.place,
        happened_at=happened_at,
        received_at=hand.received_at,
        by=hand.by,
        door=hand.door,
        sender=hand.sender,
        fields=MappingProxyType({"case": case.case, "action": action.value, **fields}),
        stamp=stamp,
        told_at=told_at,
        clock=hand.clock,
    )


def _action(value: object, problems: list[Problem]) -> Action | None:
    if isinstance(value, str) and value in tuple(Action):
        return Action(value)
    problems.append(Problem("action", f"must be one of {', '.join(Action)}"))
    return None


def _fields(
    said: Mapping[str, object], action: Action | None, roster: Roster, problems: list[Problem]
) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in said.items():
        if name in _HEAD:
            continue
        if name not in _SHAPES:
            problems.append(Problem(name[:64], "no such field"))
        elif action and action not in _BELONGS[name]:
            problems.append(Problem(name, f"does not belong to the action {action}"))
        else:
            _read(name, value, roster, fields, problems)
    needed = _NEEDS.get(action) if action else None
    if needed and needed not in said:
        problems.append(Problem(needed, f"is needed to {action}" if needed == "rover" else "is needed"))
    return fields


def _read(name: str, value: object, roster: Roster, fields: dict[str, object], problems: list[Problem]) -> None:
    try:
        found = str(READ[_SHAPES[name]](value))
    except ValueError as error:
        problems.append(Problem(name, str(error)))
        return
    wrong = _KNOWN[name](found, roster) if name in _KNOWN else ""
    if wrong:
        problems.append(Problem(name, wrong))
    elif found:
        fields[name] = found


def _rover(found: str, roster: Roster) -> str:
    return "" if found in roster.rover_by_id else f"the roster has no rover {shown(found)}"


def _effect(found: str, roster: Roster) -> str:
    return "" if found in tuple(Effect) else f"must be one of {', '.join(Effect)}"


_KNOWN: Mapping[str, Callable[[str, Roster], str]] = MappingProxyType(
    {"rover": _rover, "suggested": _rover, "effect": _effect}
)
