"""What files would do to the roster, in words and tables."""

from collections import Counter
from collections.abc import Iterator, Sequence

from county.domain.roster import IDS, Roster
from county.domain.roster_changes import Change, Did
from county.errors import Problem
from county.roster_files.columns import Guess
from county.roster_files.fields import FIELDS
from county.roster_loading import Looked
from dashboard import words
from dashboard.markup import Markup, mark, quiet, tag, text

MOST_ROWS = 200
_MOST_NAMED = 40


def counts(roster: Roster) -> str:
    """How large each table is: `48 places, 60 precincts, …`."""
    return ", ".join(words.counted(len(getattr(roster, table)), table.removesuffix("s"), table) for table in IDS)


def would(looked: Looked) -> str:
    """What loading would do, or what stands in its way."""
    if looked.wrong:
        stand = "stands" if len(looked.wrong) == 1 else "stand"
        more = f" {len(looked.warnings):,} more to look at." if looked.warnings else ""
        return f"Not yet: {words.counted(len(looked.wrong), 'problem')} {stand} in the way.{more}"
    if not looked.loading or not looked.loading.changes:
        return "These files say what stands already: nothing would change."
    look = f" {words.counted(len(looked.warnings), 'thing')} to look at." if looked.warnings else ""
    return f"Loading these would bring {_counted(looked.loading.changes)}.{look}"


def did(looked: Looked) -> str:
    """What was done."""
    loading = looked.loading
    if loading is None or not loading.changes:
        return "Nothing changed."
    stay = f" {words.listed(loading.stay)} not given but heard from, so kept." if loading.stay else ""
    return f"{words.begun(_counted(loading.changes))}.{stay}"


def problems(found: Sequence[Problem]) -> Markup:
    """Each problem with where it is, worst first."""
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("Where", "What")))
    rows = [_problem(each) for each in found[:MOST_ROWS]]
    if len(found) > MOST_ROWS:
        rows.append(tag("tr", tag("td", text("…")), tag("td", text(f"and {len(found) - MOST_ROWS:,} more"))))
    return tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries pr-plain")


def _problem(problem: Problem) -> Markup:
    shape = mark("at-risk" if problem.warning else "stopped")
    weight = quiet(" to look at" if problem.warning else " must be put right")
    return tag("tr", tag("td", shape, text(problem.field)), tag("td", text(words.sentence(problem.says)), weight))


def changes(every: Sequence[Change]) -> Markup:
    """What is added, changed and removed, by table."""
    return tag("dl", *_named(every), cls="pr-facts")


def _named(every: Sequence[Change]) -> Iterator[Markup]:
    for did_ in Did:
        for table in IDS:
            found = [str(change) for change in every if (change.did, change.table) == (did_, table)]
            if found:
                more = f" and {len(found) - _MOST_NAMED:,} more" if len(found) > _MOST_NAMED else ""
                yield tag("dt", text(f"{words.begun(did_)} {table}, {len(found):,}"))
                yield tag("dd", text(", ".join(found[:_MOST_NAMED]) + more))


def guessed(guess: Guess) -> Markup:
    """How a list's columns are read: what each means, which header says so, its first values; and every doubt."""
    sheet = f", sheet {guess.sheet}" if guess.sheet else ""
    title = tag("h3", text(f"How {guess.file}{sheet} is read"), cls="pr-section")
    head = tag("tr", *(tag("th", text(name), scope="col") for name in ("It says", "By the column", "First values")))
    rows = [
        tag(
            "tr",
            tag("td", text(words.begun(FIELDS.get(field, field)))),
            tag("td", text(" + ".join(headers))),
            tag("td", quiet("; ".join(guess.sample.get(field, ())))),
        )
        for field, headers in guess.columns.items()
    ]
    doubts = [tag("p", text(words.sentence(doubt)), cls="pr-warn") for doubt in guess.doubts if not guess.confirmed]
    unused = tag("p", quiet(f"Not used: {', '.join(guess.left_out)}."), cls="pr-note") if guess.left_out else ""
    table = tag("table", tag("thead", head), tag("tbody", *rows), cls="pr-entries pr-plain")
    return title + "".join(doubts) + table + unused


def _counted(every: Sequence[Change]) -> str:
    counted = Counter((change.did, change.table) for change in every)
    said = []
    for did_ in Did:
        tables = [
            words.counted(counted[did_, table], table.removesuffix("s"), table) for table in IDS if counted[did_, table]
        ]
        if tables:
            said.append(f"{words.listed(tables)} {did_}")
    return "; ".join(said)
