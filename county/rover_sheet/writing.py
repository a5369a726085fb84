"""The sheets of some rovers as they stand now, from the ledger to the finished file."""

from collections.abc import Sequence

from county.dispatching import suggestion
from county.domain.picture import Picture
from county.domain.roster import Rover
from county.wiring import Office


def sheets_now(office: Office, picture: Picture, rovers: Sequence[Rover]) -> bytes:
    """A PDF with one sheet a rover, as of the office's clock."""
    from county.rover_sheet.printing import sheets_pdf  # Typst is large, and only printing needs it
    from county.rover_sheet.sheet import sheets_of

    now = office.clock.now()
    return sheets_pdf(sheets_of(picture, suggestion(office, picture, now), now, rovers), picture.plan, now)
