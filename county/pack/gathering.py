"""What the office keeps of an election, read in one go for a pack or an archive."""

from collections.abc import Callable

from county import desk, device_logs, plans, upkeep
from county.earlier_file import earlier_steps_at_hand
from county.following import Following
from county.pack.record import Kept
from county.store.engine import reading
from county.store.ledger import digests
from county.wiring import Office


def kept_by(office: Office, progress: Callable[[int], None] | None = None) -> Kept:
    """Everything kept, its chain walked. `progress` is called with how many entries were walked."""
    broken, _, _ = upkeep.verify(office, progress)
    following = Following(office)
    following.catch_up()
    with reading(office.engine) as connection:
        own = digests(connection, following.seq)
    picture = following.picture
    return Kept(
        plan=picture.plan,
        plan_text=plans.standing(office).text,
        roster=picture.roster,
        entries=following.entries,
        set_aside=desk.set_aside_list(office),
        digests=own,
        broken=broken,
        logs=tuple(file for _, file in device_logs.kept(office)),
        earlier=earlier_steps_at_hand(office.settings),
    )
