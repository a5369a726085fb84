"""Which kind of trouble a few words speak of, by the plan's own words for its kinds."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType

from county.domain.effects import Effect
from county.domain.plan import Plan
from county.domain.text_line.words import closest

OTHER = "other"

# what people write beside the kind's own words; only what means one thing
_ALSO: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "threat": ("gun", "weapon", "fight", "threatening", "threatened", "bomb"),
        "medical": ("ambulance", "hurt", "collapsed", "unconscious", "injured", "chest"),
        "fire": ("smoke", "burning"),
        "no-power": ("power", "electricity", "blackout", "outage"),
        "on-battery": ("batteries",),
        "scanner-jam": ("jammed", "jamming", "stuck"),
        "scanner-fault": ("scanner", "broken", "error", "tabulator"),
        "pollbook-outage": ("pollbook", "epollbook", "tablet", "tablets"),
        "long-line": ("queue", "lines"),
        "officers-short": ("staff", "noshow", "shorthanded"),
        "accessibility-barrier": ("wheelchair", "ramp", "blocked"),
        "paper-list-missing": ("list",),
        "seal-broken": ("seal",),
    }
)
# left to the clock and the rules, or too unlike what somebody texts
_NOT_TEXTED = frozenset(
    {
        "late-opening",
        "expected-late",
        "step-overdue",
        "silent",
        "message-unseen",
        "not-closed",
        "not-received",
        "same-trouble",
        "clock-ahead",
        "clock-not-changed",
        "opened-early",
        "closed-early",
        "nonzero-start-count",
        "seal-mismatch",
        "protective-counter-mismatch",
        "zero-report-short",
        "counter-backwards",
        "counter-jump",
        "drift",
        "out-of-balance",
        OTHER,
    }
)
_SMALL = frozenset(
    {"down", "no", "not", "or", "a", "an", "the", "in", "at", "to", "of", "its", "is", "on", "will", "run", "by"}
)


def trouble_in(words: Sequence[str], plan: Plan, *, as_written: bool = False) -> str:
    """The key of the kind that these words speak of: a danger before all else, else the likeliest, else `other`.

    `as_written`: words count only where they have no slip in them.
    """
    kinds = {key: frozenset(_words(key, plan)) for key in plan.exception_kinds if key not in _NOT_TEXTED}
    rarity = Counter(word for own in kinds.values() for word in own)
    joined = frozenset(_joined(words))
    said = joined & rarity.keys() if as_written else {meant for word in joined if (meant := closest(word, rarity))}
    if not said:
        return OTHER
    scores = {key: sum(1 / rarity[word] for word in said & own) for key, own in kinds.items()}
    dangers = [key for key in kinds if scores[key] and plan.exception_kinds[key].effect is Effect.DANGER]
    ranked = sorted(dangers or kinds, key=lambda key: (-scores[key], len(kinds[key]), key))
    best, *rest = ranked
    tied = bool(rest) and (scores[rest[0]], len(kinds[rest[0]])) == (scores[best], len(kinds[best]))
    return best if scores[best] and (dangers or not tied) else OTHER


def _words(key: str, plan: Plan) -> Iterable[str]:
    """The words of a kind: of its key, of what the county calls it, and what people write beside them."""
    own = (*key.split("-"), *plan.exception_kinds[key].says.casefold().split(), *_ALSO.get(key, ()))
    for word in own:
        if word not in _SMALL:
            yield word
            called = plan.words.get(word)
            yield from called.casefold().split() if called else ()


def _joined(words: Sequence[str]) -> Iterable[str]:
    """Each word, and each two neighbours as one: `poll book`, `no show`."""
    plain = [word.casefold() for word in words]
    yield from plain
    yield from (one + other for one, other in pairwise(plain))
