"""CHECKS: what is looked at before the day. To add one: a row here, a case in tests/domain/readiness_cases.py."""

from county.domain.readiness import of_people, of_the_plan, of_the_roster
from county.domain.readiness.check import Check, Thing, Weight, Where
from county.domain.readiness.facts import Colleague, Facts, Rehearsed

__all__ = ["CHECKS", "Check", "Colleague", "Facts", "Rehearsed", "Thing", "Weight", "Where", "sentence", "to_do"]

STOPS, LOOK, HINT = Weight.STOPS, Weight.LOOK, Weight.HINT

CHECKS = (
    Check(
        "no-places", STOPS, Where.ROSTER,
        "No place is in the roster", "No place is in the roster",
        "Drop the county's own lists, or places.csv, and load them.",
        of_the_roster.no_places,
    ),
    Check(
        "no-day", STOPS, Where.ROSTER,
        "1 place has hours that make no day", "{n} places have hours that make no day",
        "Give the place both hours in places.csv, or none.",
        of_the_roster.no_hours,
    ),
    Check(
        "device-at-two-places", STOPS, Where.ROSTER,
        "1 device is recorded at two places", "{n} devices are recorded at two places",
        "Look which place has it, and correct devices.csv.",
        of_the_roster.one_device_at_two_places,
    ),
    Check(
        "seal-on-two-devices", STOPS, Where.ROSTER,
        "1 seal number is recorded on two devices", "{n} seal numbers are recorded on two devices",
        "Read both seals again, two people, and correct seals.csv: one of them will not match on the day.",
        of_the_roster.one_seal_twice,
        "RCW 29A.44.310",
    ),
    Check(
        "day-past", STOPS, Where.PLAN,
        "The plan's election day is past", "The plan's election day is past",
        "Set [election] date.",
        of_the_plan.day_is_past,
    ),
    Check(
        "still-a-rehearsal", STOPS, Where.PLAN,
        "The plan still says that this is a rehearsal", "The plan still says that this is a rehearsal",
        "Set rehearsal = false for the day itself; a rehearsal from this page has a ledger of its own.",
        of_the_plan.still_a_rehearsal,
    ),
    Check(
        "made-up-here", STOPS, Where.REHEARSAL,
        "This ledger holds made-up reports and can never be the day's",
        "This ledger holds made-up reports and can never be the day's",
        "Begin the day's own data folder: init --like FOLDER carries over plan, roster, people and keys.",
        of_people.made_up_in_this_ledger,
    ),
    Check(
        "clock-set", STOPS, Where.SETTINGS,
        "The clock is not the real one", "The clock is not the real one",
        "Start the programs without POLLRISE_NOW.",
        of_the_plan.clock_set,
    ),
    Check(
        "no-key", STOPS, Where.KEYS,
        "1 place has no reporting key", "{n} places have no reporting key",
        "Issue keys and print the cards.",
        of_people.no_key,
    ),
    Check(
        "nobody-to-tell", LOOK, Where.PLAN,
        "Nobody is told of one of the worst effects", "Nobody is told of danger, nor where nobody can vote",
        "Add a [[ladder]] rung for it.",
        of_the_plan.nobody_to_tell,
    ),
    Check(
        "role-without-people", LOOK, Where.PLAN,
        "1 role of the ladder has nobody", "{n} roles of the ladder have nobody",
        "Add a [[person]] with that role.",
        of_the_plan.role_without_people,
    ),
    Check(
        "role-off-shift", LOOK, Where.PLAN,
        "1 role of the ladder has nobody on shift while places open",
        "{n} roles of the ladder have nobody on shift while places open",
        "Change the shifts of the [[person]] tables.",
        of_the_plan.role_off_shift,
    ),
    Check(
        "unreachable", LOOK, Where.PLAN,
        "1 person cannot be reached by a notice", "{n} people cannot be reached by a notice",
        "Give them an address that works, or the setting that the plan names.",
        of_the_plan.unreachable,
    ),
    Check(
        "no-scanner", LOOK, Where.ROSTER,
        "1 place has no device on which anything is done before opening",
        "{n} places have no device on which anything is done before opening",
        "Add its devices to devices.csv.",
        of_the_roster.no_scanner,
    ),
    Check(
        "no-seals", LOOK, Where.ROSTER,
        "1 device has no recorded seal", "{n} devices have no recorded seal",
        "Add the numbers recorded at final testing to seals.csv: a mismatch cannot be seen without them.",
        of_the_roster.no_seals,
        "RCW 29A.44.310; A.R.S. 16-561",
    ),
    Check(
        "no-protective-counter", LOOK, Where.ROSTER,
        "1 device has no recorded protective counter", "{n} devices have no recorded protective counter",
        "Add the counter read at final testing to devices.csv.",
        of_the_roster.no_protective_counter,
        "VVSG 2.0 1.1.2-H",
    ),
    Check(
        "no-phone", LOOK, Where.ROSTER,
        "1 place has no telephone", "{n} places have no telephone",
        "Add it to places.csv: a silent place cannot be called, and its text lines are not heard.",
        of_the_roster.no_phone,
    ),
    Check(
        "few-officers", LOOK, Where.ROSTER,
        "1 place has fewer officers than the plan asks", "{n} places have fewer officers than the plan asks",
        "Find officers and put their number into places.csv, or look at [limits] officers.",
        of_the_roster.few_officers,
    ),
    Check(
        "no-rovers", LOOK, Where.ROSTER,
        "No rover is in the roster", "No rover is in the roster",
        "Add rovers.csv.",
        of_the_roster.no_rovers,
    ),
    Check(
        "rover-without-phone", LOOK, Where.ROSTER,
        "1 rover has no telephone", "{n} rovers have no telephone",
        "Add it to rovers.csv.",
        of_the_roster.rover_without_phone,
    ),
    Check(
        "zone-without-rover", LOOK, Where.ROSTER,
        "1 zone has no rover", "{n} zones have no rover",
        "Give a rover that zone in rovers.csv.",
        of_the_roster.zone_without_rover,
    ),
    Check(
        "does-not-fit", LOOK, Where.ROSTER,
        "Roster and plan do not fit each other in 1 point", "Roster and plan do not fit each other in {n} points",
        "Correct whichever is wrong.",
        of_the_roster.does_not_fit,
    ),
    Check(
        "no-instruction", LOOK, Where.PLAN,
        "1 kind of trouble has no instruction of the county's own",
        "{n} kinds of trouble have no instruction of the county's own",
        "Write it into [instructions]; until then the general text is shown, which names no remedy.",
        of_the_plan.no_instruction,
    ),
    Check(
        "no-telephone", LOOK, Where.PLAN,
        "The plan does not say how places reach the office", "The plan does not say how places reach the office",
        "Set [reach] phone; it stands on the sheet and on the cards.",
        of_the_plan.no_telephone,
    ),
    Check(
        "password-in-plan", LOOK, Where.PLAN,
        "The address of 1 person in the plan may hold a password",
        "The addresses of {n} people in the plan may hold a password",
        'Write notice = "setting:NAME" and put the address into POLLRISE_NOTICE_TO_NAME.',
        of_the_plan.password_in_plan,
    ),
    Check(
        "file-differs", LOOK, Where.PLAN,
        "The plan file says something else than the plan in force",
        "The plan file says something else than the plan in force",
        "Load it as a new version (plan load), or leave it: the version in force is the truth.",
        of_the_plan.file_differs,
    ),
    Check(
        "cards-lead-here", LOOK, Where.SETTINGS,
        "The cards lead to an address that no phone reaches", "The cards lead to an address that no phone reaches",
        "Set POLLRISE_ADDRESS before you print.",
        of_people.cards_lead_here,
    ),
    Check(
        "few-at-the-desk", LOOK, Where.PEOPLE,
        "Fewer than two people can take the desk", "Fewer than two people can take the desk",
        "Add people with the role desk or lead.",
        of_people.nobody_at_the_desk,
    ),
    Check(
        "never-signed-in", LOOK, Where.PEOPLE,
        "1 person has never signed in", "{n} people have never signed in",
        "Have them sign in once and change their first password.",
        of_people.never_signed_in,
    ),
    Check(
        "never-rehearsed", LOOK, Where.REHEARSAL,
        "It was never rehearsed", "It was never rehearsed",
        "Run a rehearsal with every place.",
        of_people.never_rehearsed,
    ),
    Check(
        "changed-since-rehearsal", LOOK, Where.REHEARSAL,
        "Roster or plan have changed since the last rehearsal", "Roster or plan have changed since the last rehearsal",
        "Run another.",
        of_people.rehearsed_before_a_change,
    ),
    Check(
        "rehearsed-with-few", HINT, Where.REHEARSAL,
        "The last rehearsal was with a part of the places", "The last rehearsal was with a part of the places",
        "Run one with every place.",
        of_people.rehearsed_with_few,
    ),
    Check(
        "trained-here", HINT, Where.REHEARSAL,
        "Reports of a training stand in this ledger", "Reports of a training stand in this ledger",
        "They stay readable and never count for the day. For an empty ledger: init --like FOLDER.",
        of_people.trained_in_this_ledger,
    ),
    Check(
        "own-hours", HINT, Where.ROSTER,
        "1 place has hours of its own", "{n} places have hours of their own",
        "Look whether each is meant.",
        of_the_roster.own_hours,
    ),
    Check(
        "few-ballots", HINT, Where.ROSTER,
        "1 place has fewer ballots than last turnout and a quarter of it",
        "{n} places have fewer ballots than last turnout and a quarter of it",
        "Look at ballots_delivered; another state's rule may ask for more or less.",
        of_the_roster.too_few_ballots,
        "Tex. Elec. Code 51.005",
    ),
    Check(
        "supply-unknown", HINT, Where.ROSTER,
        "Ballots supplied cannot be looked at", "Ballots supplied cannot be looked at at {n} places",
        "Set [limits] last_turnout; give registered and ballots_delivered in places.csv.",
        of_the_roster.supply_unknown,
        "Tex. Elec. Code 51.005",
    ),
)  # fmt: skip
"""Every check, the worst first; within one weight in the order in which they are best worked down."""


def to_do(facts: Facts) -> tuple[Thing, ...]:
    """Everything that is still to be done, worst first."""
    things = (Thing(check, tuple(check.finds(facts))) for check in CHECKS)
    return tuple(thing for thing in things if thing.found)


def sentence(things: tuple[Thing, ...]) -> str:
    """Whether the county is ready, in words: `Not ready: 3 things stop the day, 11 to look at.`"""
    stops, look, hints = (sum(thing.check.weight is weight for thing in things) for weight in Weight)
    rest = _counted([(look, "to look at"), (hints, "hint" if hints == 1 else "hints")])
    if stops:
        first = f"{stops} thing{'' if stops == 1 else 's'} stop{'s' if stops == 1 else ''} the day"
        return f"Not ready: {', '.join([first, *rest])}."
    return f"Ready, with {' and '.join(rest)}." if rest else "Ready: nothing is left to do."


def _counted(parts: list[tuple[int, str]]) -> list[str]:
    return [f"{count} {what}" for count, what in parts if count]
