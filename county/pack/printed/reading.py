"""How to read the record: the two pages that lead the report."""

from collections.abc import Sequence

from county.pack.about import CAUTION, About
from county.pack.record import Record

_CLOCKS = (
    "*Happened* is when it was true, as the place or the desk said. *Known* is when the office had it, by the office's "
    "own clock. The two are never mixed. Where a sender told no time, or one that cannot be (ahead by more than two "
    "minutes, or far behind), the time of receipt stands for both and the record says so."
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
        "first": [
            _part("What is left out", *about.left_out),
            _part("Two times, and whose clock", _CLOCKS),
            _part("Corrections", _CORRECTIONS),
            _part("What is missing is said", _MISSING),
        ],
        "where": [{"asks": asks, "look": look} for asks, look in _WHERE],
        "second": [
            _part("Response times", _TIMES),
            _part("Time lost", _LOST),
            _part("What can be checked, and what cannot", _checked(record)),
            _part("Keeping", _keeping(record, about)),
        ],
    }


_WHERE: Sequence[tuple[str, str]] = (
    (
        "When did a place open, and by whose clock?",
        "Each place's day: the first lines under its name. All places: Places at a glance.",
    ),
    (
        "Who knew when?",
        "Beside each entry: happened, known, from whom. Who was told: Notices, and in each place's day.",
    ),
    ("What was done, and how long did it take?", "Each place's day: the table of its cases, with minutes from raised."),
    (
        "Which places opened late, and what was the matter?",
        "Late openings, the latest first; those never reported open lead.",
    ),
    ("How much time was lost?", "Time lost, with every interruption behind it in csv/interruptions.csv."),
    ("How soon was help there?", "Response times: curves and tables."),
    ("Do the ballots balance?", "Ballot balance: net and absolute, and what was not told."),
    (
        "A place whose day is not printed here",
        "csv/entries.csv and the workbook's sheet “Every entry”: choose the place there.",
    ),
    ("The very words of an entry", "ledger.jsonl, the line of the entry's number."),
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
