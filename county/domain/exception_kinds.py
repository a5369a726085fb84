"""Every kind of exception the board knows, with its usual effect on voting. A county adds its own in plan.toml."""

from dataclasses import dataclass

from county.domain.effects import Effect

SAME_TROUBLE = "same-trouble"
"""The kind of a pattern: not a trouble of one place, but the same trouble at many."""


@dataclass(frozen=True, slots=True)
class ExceptionKind:
    """One kind of trouble: its key, what people call it, its usual effect on voting.

    `needs_person`: facts alone never clear it, not even a correction; a person must.
    """

    key: str
    says: str
    effect: Effect
    needs_person: bool = False


def _kind(key: str, says: str, effect: Effect, *, needs_person: bool = False) -> tuple[str, ExceptionKind]:
    return key, ExceptionKind(key, says, effect, needs_person)


EXCEPTION_KINDS: dict[str, ExceptionKind] = dict(
    (
        _kind("threat", "Threat to people", Effect.DANGER, needs_person=True),
        _kind("medical", "Medical emergency", Effect.DANGER, needs_person=True),
        _kind("fire", "Fire or alarm", Effect.DANGER, needs_person=True),
        _kind("evacuation", "Evacuation", Effect.DANGER, needs_person=True),
        _kind("late-opening", "Not open at its opening time", Effect.STOPPED),
        _kind("expected-late", "Expected to open late", Effect.AT_RISK),
        _kind("step-overdue", "A step is overdue", Effect.AT_RISK),
        _kind("silent", "Not heard from", Effect.AT_RISK),
        _kind("message-unseen", "Message from the office not acknowledged", Effect.AT_RISK),
        _kind("nonzero-start-count", "Start count is not zero", Effect.STOPPED, needs_person=True),
        _kind("seal-mismatch", "Seal number is not the one recorded", Effect.STOPPED, needs_person=True),
        _kind("seal-broken", "Seal broken or missing", Effect.STOPPED, needs_person=True),
        _kind(
            "protective-counter-mismatch",
            "Protective counter is not the one recorded",
            Effect.STOPPED,
            needs_person=True,
        ),
        _kind("wrong-election", "Wrong election shown", Effect.STOPPED, needs_person=True),
        _kind("wrong-precinct", "Wrong precinct shown", Effect.STOPPED, needs_person=True),
        _kind("zero-report-short", "Zero report short of copies or signers", Effect.RECORD),
        _kind("opened-early", "Opened before its hours", Effect.STOPPED, needs_person=True),
        _kind("closed-early", "Closed before its hours", Effect.RECORD),
        _kind("no-power", "No power", Effect.STOPPED),
        _kind("on-battery", "On battery", Effect.IMPAIRED),
        _kind("pollbook-outage", "Pollbooks out", Effect.IMPAIRED),
        _kind("paper-list-missing", "No paper list to fall back on", Effect.STOPPED),
        _kind("scanner-fault", "Scanner fault", Effect.IMPAIRED),
        _kind("scanner-jam", "Scanner jam", Effect.IMPAIRED),
        _kind("auxiliary-in-use", "Ballots in the auxiliary compartment", Effect.IMPAIRED),
        _kind("accessible-device-down", "Accessible device down", Effect.IMPAIRED),
        _kind("accessibility-barrier", "Accessibility barrier", Effect.IMPAIRED),
        _kind("wrong-ballots", "Wrong ballots or ballot style", Effect.STOPPED, needs_person=True),
        _kind("ballots-short", "Ballots will run short", Effect.AT_RISK),
        _kind("ballots-out", "No ballots left", Effect.STOPPED),
        _kind("long-line", "Long line", Effect.IMPAIRED),
        _kind("counter-backwards", "Counter went backwards", Effect.AT_RISK),
        _kind("counter-jump", "Counter rose faster than the scanner can count", Effect.AT_RISK),
        _kind("drift", "Check-ins and ballots drift apart", Effect.AT_RISK),
        _kind("officers-short", "Short of officers", Effect.AT_RISK),
        _kind("out-of-balance", "Ballots do not balance", Effect.RECORD),
        _kind("not-closed", "Not reported closed", Effect.AT_RISK),
        _kind("not-received", "Not received at the office by the cut-off", Effect.STOPPED),
        _kind("item-missing", "Item missing at return", Effect.STOPPED, needs_person=True),
        _kind("custody-gap", "Gap in custody", Effect.STOPPED, needs_person=True),
        _kind("clock-not-changed", "Clock an hour off: not changed?", Effect.RECORD),
        _kind("clock-ahead", "Sender's clock is ahead", Effect.RECORD),
        _kind(SAME_TROUBLE, "Same trouble at many places", Effect.AT_RISK),
        _kind("other", "Other trouble", Effect.IMPAIRED),
    )
)
