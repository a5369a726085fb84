"""ASKS, the table of what the sheet asks for at each step, and PAIR, who of the two officers does what."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from county.domain.plan import Plan


@dataclass(frozen=True, slots=True)
class Check:
    """What a number must be, from the plan alone: `least` or `exactly`, and the kind of trouble where it is not.

    Only what is no secret is here: what was recorded at final testing stays at the office.
    """

    exception: str
    least: str = ""
    exactly: int | None = None

    def limit(self, plan: Plan) -> int | None:
        """The least that is enough by this plan, or None where the number must be exactly something."""
        return int(getattr(plan.limits, self.least)) if self.least else None


@dataclass(frozen=True, slots=True)
class Ask:
    """One field of a step's form. `mode` is a key of the fields.html template; `of_device` asks of a device only."""

    name: str
    label: str
    mode: str = "number"
    hint: str = ""
    required: bool = True
    of_device: bool = False
    check: Check | None = None


_PUBLIC = Ask("public_counter", "Public counter", hint="Ballots counted in this election.")
_PROTECTIVE = Ask("protective_counter", "Protective counter", hint="The device's lifetime count.", of_device=True)
_IN_LINE = Ask("in_line", "People in line now", required=False, hint="A count, no names.")
_TIME = Ask("clock_time", "Time, if not just now", "time", required=False)
_WHOSE = Ask("by_clock", "By which clock?", "clock", required=False, hint="Use the same one to open and to close.")


def _may(name: str, label: str) -> Ask:
    return Ask(name, label, required=False)


ASKS: Mapping[str, tuple[Ask, ...]] = MappingProxyType(
    {
        "staffed": (Ask("officers_present", "How many of you are here?", check=Check("officers-short", "officers")),),
        "site-ready": (
            Ask(
                "route_inches",
                "Narrowest point of the route, in inches",
                check=Check("accessibility-barrier", "route_inches"),
            ),
            Ask(
                "door_inches",
                "Narrowest door on it, in inches",
                check=Check("accessibility-barrier", "door_inches"),
            ),
        ),
        "seals-checked": (
            Ask("seal_number", "Number on the seal", "seal", required=False, of_device=True),
            Ask("seal_intact", "Is the seal whole?", "seal-whole", of_device=True),
        ),
        "boxes-empty": (Ask("note", "Shown empty to whom?", "short", "Such as: two officers, an observer.", False),),
        "pollbooks-ready": (Ask("check_ins", "Check-ins shown on the pollbooks"),),
        "setup-confirmed": (
            Ask("shown_date", "Election date, as printed", "short"),
            Ask("shown_precincts", "Precincts, as printed", "short", "A comma between two.", False),
        ),
        "zero-report": (
            Ask(
                "public_counter",
                "Public counter at the start",
                hint="Ballots counted in this election.",
                check=Check("nonzero-start-count", exactly=0),
            ),
            _PROTECTIVE,
            Ask("copies", "Copies printed", check=Check("zero-report-short", "copies")),
            Ask("signers", "Officers who signed", check=Check("zero-report-short", "signers")),
        ),
        "open": (
            _TIME,
            _WHOSE,
            Ask("in_line", "Voters waiting at the door", hint="A count, no names.", required=False),
        ),
        "closed": (_TIME, _WHOSE, _IN_LINE),
        "last-voter": (_TIME,),
        "results-printed": (_PUBLIC, _PROTECTIVE),
        "balanced": (
            _may("ballots_delivered", "Ballots delivered"),
            Ask("ballots_left", "Ballots left, unused"),
            _may("public_counter", "Ballots scanned, all scanners"),
            _may("spoiled", "Spoiled"),
            _may("provisional", "Provisional"),
            _may("challenged", "Challenged"),
            _may("auxiliary", "Not scanned, in the auxiliary compartment"),
        ),
        "departed": (
            Ask("items", "What you carry: tick each", "items", required=False),
            Ask("roles", "Who carries it: two people, by role", "two-people", required=False),
            Ask("note", "What you carry that is not named here", "lines", "Two people go together.", required=False),
        ),
    }
)

COUNT: tuple[Ask, ...] = (
    _may("check_ins", "Check-ins so far"),
    _may("in_line", "People in line now"),
    _may("ballots_left", "Ballots left"),
    _may("spoiled", "Spoiled"),
    _may("provisional", "Provisional"),
    _may("auxiliary", "Waiting in the auxiliary compartment"),
)
"""What a count through the day asks of the place; of each scanner it asks the public counter."""

SEALED_ANEW, NEW_SEAL = "departed", "seal."
"""The step at which new seals are put on, and how a form names one: this, the device or item, `~`, the position."""

CARRIED, ROLE = "item.", "role."
"""How its form names an item that is ticked, and the role of each of the two who carry it."""

PAIR: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "seals-checked": (
            "finds the seal and reads its number aloud, slowly",
            "types what was heard. Do not copy it from a paper",
        ),
        "boxes-empty": ("opens every compartment and shows it", "looks in, then watches it locked and sealed"),
        "setup-confirmed": ("reads the date and the precincts off the report", "types what was read"),
        "zero-report": ("reads each number off the printed report", "types it. Then both sign"),
        "results-printed": ("reads each number off the printed report", "types it. Then both sign"),
        "site-ready": ("measures the route and the door", "types, and looks that every sign is out"),
        "balanced": ("counts and says the number", "counts again, then types it"),
        "departed": ("reads each new seal's number aloud", "types it, then both carry"),
        "open": ("looks at the clock and declares the polls open", "types the time"),
        "closed": ("looks at the clock and declares the polls closed", "types the time and counts the line"),
    }
)
EACH = ("reads the step aloud and looks", "does it, then taps")
"""What the one does and what the other does, where a step says nothing of its own."""


def asks_of(step: str, device: str) -> tuple[Ask, ...]:
    """What this step asks for, of a device or (where `device` is empty) of the place."""
    return tuple(ask for ask in ASKS.get(step, ()) if device or not ask.of_device)
