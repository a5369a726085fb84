"""What the office keeps of an election, read in one go for a pack or an archive."""

from collections.abc import Callable

from county import desk, device_logs, plans, upkeep
from county.earlier_file import earlier_steps_at_hand
from county.following import newest_plan
from county.pack.record import Kept
from county.store import ledger
from county.store import roster as stored_roster
from county.store.engine import reading
from county.wiring import Office


def kept_by(office: Office, progress: Callable[[int], None] | None = None) -> Kept:
    """Everything kept, its chain walked. `progress` is called with how many entries were walked."""
    broken, _, _ = upkeep.verify(office, progress)
    # all in one go and not folded: a follower would fold every place anew for every few thousand entries
    with reading(office.engine) as connection:
        entries = ledger.read(connection)
        own = ledger.digests(connection, entries[-1].seq if entries else 0)
        roster = stored_roster.load(connection)
    return Kept(
        plan=newest_plan(entries, office.plan),
        plan_text=plans.standing(office).text,
        roster=roster,
        entries=entries,
        set_aside=desk.set_aside_list(office),
        digests=own,
        broken=broken,
        logs=tuple(file for _, file in device_logs.kept(office)),
        earlier=earlier_steps_at_hand(office.settings),
    )
