"""Whether the county is ready: everything that the checks look at, gathered at one moment."""

from collections.abc import Mapping
from datetime import datetime
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from county.delivery import unreachable
from county.domain.plan_secrets import exposed
from county.domain.readiness import Colleague, Facts, Rehearsed, Thing, to_do
from county.domain.roster import Roster
from county.domain.senders import Sender
from county.plans import MADE_UP, standing
from county.rehearsed import results
from county.settings import Settings
from county.store import keys, people, plans, readiness
from county.store import roster as stored_roster
from county.store.engine import reading
from county.wiring import Office

THIS_MACHINE = ("127.0.0.1", "localhost", "::1")


def things_to_do(office: Office, roster: Roster | None = None) -> tuple[Thing, ...]:
    """Everything that is still to be done before the day, worst first; `roster` where it was read already."""
    return to_do(facts(office, office.clock.now(), roster))


def facts(office: Office, now: datetime, roster: Roster | None = None) -> Facts:
    """What is known at `now` (aware UTC) of roster, plan, keys, people and rehearsals; `roster` where it was read."""
    plan, settings = office.plan, office.settings
    versions = standing(office)
    with reading(office.engine) as connection:
        signed_in = readiness.last_sign_ins(connection)
        training = readiness.received_in_training(connection, versions.versions)
        return Facts(
            roster=roster or stored_roster.load(connection),
            plan=plan,
            today=now.astimezone(ZoneInfo(plan.election.zone)).date(),
            keyed=frozenset(place for holder in keys.live(connection) if (place := Sender.named(holder).place)),
            colleagues=tuple(
                Colleague(each.name, each.role, signed_in.get(each.name)) for each in people.everyone(connection)
            ),
            rehearsals=tuple(Rehearsed(one.begun_at, one.places, one.regime) for one in results(settings) if one.whole),
            changed_at=readiness.last_change(connection),
            unreachable=tuple(unreachable(plan, settings.sending)),
            exposed=exposed(plan),
            file_differs=versions.file_differs,
            trained=0 if plan.election.rehearsal else training,
            made_up=plans.holds_from(connection, MADE_UP.name),
            real_clock=office.clock.real,
            cards_lead_here=cards_lead_here(settings),
        )


def signed_in_at(office: Office) -> Mapping[str, datetime]:
    """When each person last signed in (aware UTC)."""
    with reading(office.engine) as connection:
        return readiness.last_sign_ins(connection)


def cards_lead_here(settings: Settings) -> bool:
    """Whether the address on the cards is one that only this machine reaches."""
    return urlsplit(settings.base).hostname in THIS_MACHINE
