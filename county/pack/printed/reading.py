"""How to read the record: the two pages that lead the report."""

from collections.abc import Sequence

from county.pack.about import CAUTION, About
from county.pack.printed.glance import GLANCE
from county.pack.record import Record

Where = tuple[str, str, str]

_CLOCKS = (
    "*Happened* is when it was true, as the place or the desk said. *Known* is when the office had it, by the office's "
    "own clock; where it is empty, the two are the same. Where a sender told no time, or one that cannot be (ahead by "
    "more than two minutes, or far behind), the time of receipt stands for both and the record says so. All times are "
    "wall time in {zone}; a place in another zone has its own, named in the first line of its day. A time of another "
    "day than election day says so: 01:04 +1 d."
)
_CORRECTIONS = (
    "Nothing is deleted. A report that was put right is struck through and stays, with the entry that put it right "
    "named beside it. All figures are of what stands after every correction."
)
_MISSING = (
    "An empty field, a dash or “not told” means that nobody reported it: never 0, and never that all was well. The "
    "section *What is missing* lists what a reader may look for and will not find. A silent place is unknown, not good."
)
_TIMES = (
    "Times of response run from *raised*, the moment a trouble became true, which may be before the office knew. Cases "
    "still open are counted as still waiting and not dropped; “more than 35” means that fewer than that share had been "
    "reached within the longest wait seen. No published target exists for these times; targets are the county's own."
)
_LOST = (
    "Minutes lost are the late opening and every stop of the whole place together, overlaps counted once, cut at the "
    "place's own closing. They are computed and documented here; whether hours are extended a court or a board decides."
)


def reading(record: Record, about: About) -> dict[str, object]:
    """The texts of the two pages; `*words*` stand out."""
    return {
        "first": [_part("What is left out", *about.left_out)],
        "where": [{"asks": asks, "look": look, "at": at.replace(" ", "-")} for asks, look, at in _where(record)],
        "second": [
            _part("Two times, and whose clock", _CLOCKS.format(zone=about.zone)),
            _part("Corrections", _CORRECTIONS),
            _part("What is missing is said", _MISSING),
            _part("Response times", _TIMES),
            _part("Time lost", _LOST),
            _part("What can be checked, and what cannot", _checked(record)),
            _part("Keeping", _keeping(record, about)),
        ],
    }


def _where(record: Record) -> Sequence[Where]:
    """What a reader asks, where to look, and the section whose page is named beside it."""
    if not record.in_volumes:
        return (*_WHERE, _GLANCE, *_NOT_SAID)
    return (_IN_A_VOLUME, *_WHERE[1:], _OWN_FILE, *_NOT_SAID)


_WHERE: Sequence[Where] = (
    (
        "One place: when did it open, by whose clock, who knew when, what was done, how long did it take?",
        "Look the place up in the Index of places. Its day begins with these five answers, in this order.",
        "Index of places",
    ),
    (
        "The whole county, in a minute",
        "The county's day: sentences, the curve, the latest openings.",
        "The county's day",
    ),
    ("Which places opened late, and what was the matter?", "Late openings, the latest first.", "Late openings"),
    ("How much time was lost?", "Time lost, with every interruption behind it.", "Time lost"),
    ("How soon was help there?", "Response times: curves and tables.", "Response times"),
    (
        "Who was told of what, and when?",
        "In each place's day, minute by minute; whom no notice reached: Notices.",
        "Notices",
    ),
    ("Do the ballots balance?", "Ballot balance: net and absolute, and what was not told.", "Ballot balance"),
)
_ALL = "opened, known, closed, received, time lost."
_GLANCE: Where = ("All places in one table", f"Places at a glance: {_ALL}", "Places at a glance")
_OWN_FILE: Where = ("All places in one table", f"{GLANCE}: {_ALL}", "")
_IN_A_VOLUME: Where = (
    _WHERE[0][0],
    "Look the place up in the Index of places: it names a volume and a page. There the day begins with these five "
    "answers, in this order.",
    "Index of places",
)
_NOT_SAID: Sequence[Where] = (
    ("What does the record not say?", "What is missing.", "What is missing"),
    (
        "Every entry of one place",
        "csv/entries.csv, or the workbook's sheet “Every entry”: choose the place there.",
        "",
    ),
    ("The very words of an entry", "ledger.jsonl, the line of the entry's number.", ""),
)


def _part(head: str, *says: str) -> dict[str, str]:
    return {"head": head, "says": " ".join(says)}


def _checked(record: Record) -> str:
    always = (
        "The verifier proves that no entry was changed, removed or put in since the last digest was noted, and names "
        "the first that is wrong. It cannot prove that what people typed was true, nor who made this pack: for that "
        "the last digest has to be compared with one noted elsewhere at the time."
    )
    if not record.public:
        return always
    return (
        f"{always} In this public copy the digests are made from the copy. The county ledger's own are made from the "
        "names as well, and would let anyone who guesses a name find it confirmed, so they are left out, but for the "
        "last. Whoever has the full ledger can prove that this copy says the same: "
        "python verify.py --ledger with the full pack's ledger.jsonl."
    )


def _keeping(record: Record, about: About) -> str:
    months = max(22, record.plan.limits.keep_months)
    why = "52 U.S.C. 20701, twenty-two months" if months == 22 else f"the county's plan, {months} months"
    return (
        f"Keep this record through *{about.keep}* at least ({why} from election day). A state's own schedule, a "
        "contest or a court may ask for longer."
    )


def cautions() -> list[str]:
    """What the printed record always says."""
    return [
        CAUTION,
        "No field holds a vote for anyone, and no voter is named. Local law and county counsel decide.",
    ]
