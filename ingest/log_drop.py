"""The drop folder for devices' own logs: a file is kept byte by byte, or set aside with every problem found in it."""

from dataclasses import dataclass

from county import device_logs
from county.domain.going_round import Work
from county.domain.intake import Hand
from county.errors import Problem, Refused
from county.wiring import Office
from ingest.aside import REFUSED, set_aside
from ingest.csv_drop import DropFolder
from ingest.drop_file import Bad, KeepRows, Taken
from ingest.loops import Loop

DOOR = "drop"
ENDINGS = (".xml", ".json")
LOOKS_EVERY = 2.0
_SHOWN = 5


@dataclass(frozen=True, slots=True)
class LogDropFile:
    """A log of this name on its way in."""

    name: str
    office: Office
    keep: KeepRows

    def take(self, data: bytes) -> Taken:
        """Take the file in; one that cannot be read in whole is set aside whole."""
        try:
            taken = device_logs.take_in(self.office, self.name, data, self.name, DOOR)
        except Refused as error:
            return self._refuse(error.problems, data)
        return Taken(kept=int(taken.new), held=int(not taken.new))

    def refuse(self, says: str) -> Taken:
        """Set the file aside, unread."""
        return self._refuse((Problem("file", says),), b"")

    def _refuse(self, problems: tuple[Problem, ...], data: bytes) -> Taken:
        clock = self.office.clock
        hand = Hand(f"{DOOR}:{self.name}", self.name, DOOR, clock.now(), clock.word)
        self.keep([set_aside(hand, REFUSED, problems[:_SHOWN], data, source=self.name)])
        return Taken(bad=[Bad(0, (), str(problem)) for problem in problems])


def log_drop_loop(office: Office, keep: KeepRows) -> Loop:
    """A look at `drop/logs/in` every few seconds."""
    folder = DropFolder(
        office.settings.data / "drop" / "logs", lambda name: LogDropFile(name, office, keep), endings=ENDINGS
    )
    return Loop(Work.LOGS, LOOKS_EVERY, folder.poll)
