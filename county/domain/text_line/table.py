"""TEXT_LINES, the grammar of the text line: short lines from the places' telephones, read into raw reports.

Strict where a wrong guess would do harm (another place, a step that was not done), forgiving of how it is typed.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from county.domain.broadcasts import Broadcast
from county.domain.expected import Expected
from county.domain.plan import Plan
from county.domain.text_line.counted import count, in_line, zero
from county.domain.text_line.line import FILLERS, Line, Reads, Unclear, Understood
from county.domain.text_line.place import named
from county.domain.text_line.seen import seen
from county.domain.text_line.steps import step
from county.domain.text_line.trouble import OTHER, trouble_in
from county.domain.text_line.words import closest


@dataclass(frozen=True, slots=True)
class TextLine:
    """One kind of line: the key of the plan's word it begins with, other ways to write that, how the rest is read.

    `exact`: its word counts without a slip only, because a letter beside it stands another word (`send`, `been`).
    """

    word: str
    also: tuple[str, ...]
    reads: Reads
    example: str = ""
    exact: bool = False


# a line that begins so does not say that something is done; "not" would else pass for "note"
_NEGATIONS = frozenset(
    ("no", "not", "cant", "cannot", "wont", "isnt", "arent", "havent", "never", "will", "if", "when")
)


def _help(line: Line) -> Understood:
    kind = line.plan.exception_kinds[trouble_in(line.words, line.plan)]
    device = next((name for at in range(len(line.words)) if (name := _device_at(line, at))), "")
    where = {"device": device} if device else {}
    note = {"note": line.typed} if line.typed else {}
    return Understood(({"kind": "exception", "exception": kind.key, **where, **note},), f"help: {kind.says}")


def _device_at(line: Line, at: int) -> str:
    return named(line.words[at:], line.expected.device_types)[0]


def _note(line: Line) -> Understood:
    if not line.typed:
        raise Unclear("the note is empty")
    return Understood(({"kind": "note", "note": line.typed},), "a note")


_OWN: Mapping[str, Reads] = MappingProxyType({"zero-report": zero})
"""Steps of the plan that a line of their own tells."""

TEXT_LINES: tuple[TextLine, ...] = (
    TextLine("text_open", ("opened", "opening", "opn"), step("open"), "{place} {open} 0601"),
    TextLine("text_closed", ("close", "closing", "clsd"), step("closed"), "{place} {closed} 1900"),
    TextLine("text_zero", ("zeros", "zeroed"), zero, "{place} {zero} {device}0"),
    TextLine("text_count", ("counts", "counted", "cnt"), count, "{place} {count} 412 {line} 18"),
    TextLine("text_line", ("lines", "queue"), in_line, "{place} {line} 18"),
    TextLine("text_help", ("sos", "problem", "trouble", "emergency", "urgent"), _help, "{place} {help} scanner jam"),
    TextLine("text_note", ("msg", "fyi"), _note, "{place} {note} road closed"),
    TextLine("text_seen", ("acknowledged", "acknowledge"), seen, "{place} {seen}", exact=True),
)


def lines_of(plan: Plan) -> Mapping[str, TextLine]:
    """Every word a line may begin with in this county: its own words, other ways to write them, the plan's steps."""
    lines = {each.key: TextLine(each.key, (), _OWN.get(each.key) or step(each.key)) for each in plan.steps}
    for line in TEXT_LINES:
        lines |= dict.fromkeys(line.also, line)
    return lines | {plan.word(line.word).casefold(): line for line in TEXT_LINES}


def understand(
    words: list[str],
    typed: str,
    expected: Expected,
    plan: Plan,
    now: datetime,
    messages: tuple[Broadcast, ...] = (),
) -> Understood:
    """Read a line without its place. `typed` is the line as it was written. Raises Unclear.

    `messages` are those from the office that the place may acknowledge.
    """
    lines = lines_of(plan)
    at = next((n for n, word in enumerate(words) if word.casefold() not in FILLERS), len(words))
    negated = at < len(words) and _bare(words[at]) in _NEGATIONS
    for took, name in [] if negated else _beginnings(words[at:], lines):
        line = lines[name]
        if "?" in typed and line.reads not in (_help, _note):
            raise Unclear("it asks, it does not say")
        try:
            left, said = words[at + took :], _after(typed, words[at + took - 1])
            return line.reads(Line(left, said, expected, plan, now, messages))
        except Unclear as error:
            at_place = (plan, expected.place.place, expected.scanners)
            raise Unclear(str(error), example(line.word, *at_place) if line.example else "") from None
    return _trouble_without_its_word(Line(words[at:], typed, expected, plan, now), negated)


def _trouble_without_its_word(line: Line, negated: bool) -> Understood:
    """Trouble told without the word for help, where no other kind can be meant: `scanner jam`, `no power`."""
    kind = trouble_in(line.words, line.plan, as_written=True)
    if kind == OTHER or (negated and not kind.startswith("no-")):
        raise Unclear("no word of the text line is in it")
    return _help(line)


def _bare(word: str) -> str:
    return word.casefold().replace("'", "").replace("’", "")


def _beginnings(words: list[str], lines: Mapping[str, TextLine]) -> Iterator[tuple[int, str]]:
    """Which line these words begin, by the first two of them or by the first alone, and how many that is."""
    two = [name for name in lines if "-" in name]
    if len(words) > 1 and (name := closest(f"{words[0]}-{words[1]}", two)):
        yield 2, name
    if words and (name := closest(words[0], lines)) and (not lines[name].exact or words[0].casefold() == name):
        yield 1, name


def _after(typed: str, word: str) -> str:
    """What was written behind a word."""
    _, _, rest = typed.partition(word)
    return rest.strip(" ,;:.-")


def example(word: str, plan: Plan, place: str, scanners: Sequence[str] = ()) -> str:
    """The line that begins with this word of the plan, as this place would send it, naming one of several scanners."""
    line = next(each for each in TEXT_LINES if each.word == word)
    words = {each.word.removeprefix("text_"): plan.word(each.word) for each in TEXT_LINES}
    device = f"{scanners[0]} " if len(scanners) > 1 else ""
    return line.example.format(place=place, device=device, **words)
