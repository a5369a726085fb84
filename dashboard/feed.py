"""The only way from the pages to the desk: one follower of the ledger a process, and everything that is cached."""

import logging
import threading
import time
from collections.abc import Callable, Collection, Generator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from typing import ParamSpec, TypeVar

from county import desk, messaging, settling
from county.domain.entries import Entry
from county.domain.intake import Hand
from county.domain.messages import Undelivered
from county.domain.picture import Picture
from county.domain.receipts import Receipt, SetAside
from county.earlier_file import earlier_steps_at_hand
from county.following import Following
from county.wiring import Office
from dashboard.board_now import Board, minute_of, newer
from dashboard.desk_now import DeskNow
from dashboard.earlier import earlier_of
from dashboard.foreseeing import Foreseeing
from dashboard.logs_now import LogsNow
from dashboard.people_now import PeopleNow
from dashboard.replaying import Replaying
from dashboard.scored import Scored
from dashboard.signs_now import SignsNow
from dashboard.suggesting import Suggesting

POLL_SECONDS = 0.2
COALESCE_SECONDS = 1.0
_P = ParamSpec("_P")
_T = TypeVar("_T")
_log = logging.getLogger("pollrise.board")


class Feed:
    """Follows the ledger in one thread and keeps the newest board; pages read it and never wait for the database."""

    def __init__(self, office: Office) -> None:
        self.office = office
        self.latest: Board | None = None
        self.people = PeopleNow(office)
        self.desk = DeskNow(office)
        self.signs = SignsNow(office)
        self._following = Following(office)
        self.replaying = Replaying(office, self._following)
        self.suggesting = Suggesting(office, self._following, self.now)
        self.logs = LogsNow(office)
        self._lock = threading.Lock()
        self._stopping = threading.Event()
        self._read_at = time.monotonic()
        self._made_at = float("-inf")
        self._earlier = earlier_of(earlier_steps_at_hand(office.settings))
        self.foreseeing = Foreseeing(office, self._following, self.now)
        self.scored = Scored(office, self.replaying)
        self._touched: set[str] = set()

    @property
    def revision(self) -> int:
        """The number of the newest board; 0 before the first."""
        return self.latest.revision if self.latest else 0

    @property
    def picture(self) -> Picture:
        """The county's picture behind the newest board."""
        return self._following.picture

    def now(self) -> datetime:
        """The office's time, aware UTC."""
        return self.office.clock.now()

    def seconds_since_read(self) -> float:
        """Real seconds since the ledger was last read without trouble."""
        return time.monotonic() - self._read_at

    def refresh(self, *, at_once: bool = False) -> None:
        """Read what is new; make a newer board if anything changed or a minute began, at most one a second."""
        with self._lock:
            self._touched |= self._following.catch_up()
            self._read_at = time.monotonic()
            now, board = self.now(), self.latest
            due = self._touched or board is None or minute_of(now) != minute_of(board.as_of)
            due = due or (board is not None and board.dispatch is not self.suggesting.latest)
            due = due or (board is not None and board.forecasts is not self.foreseeing.latest)
            if due and (at_once or self._read_at - self._made_at >= COALESCE_SECONDS):
                self.latest = self._newer(now)
                self._touched, self._made_at = set(), self._read_at

    def act(self, case: str, raw: Mapping[str, object], by: str, seen: Collection[str] | None = None) -> Receipt:
        """Write down what a person at the board did with a case, and show it at once. Raises what the desk raises.

        `seen` are the keys of what was done with the case as the person saw it, so that nobody is overtaken in silence.
        """
        with self._lock:
            picture = self._following.picture
            receipt = desk.act(self.office, picture, case, raw, f"board:{by}", by, "board", seen=seen)
        self.refresh(at_once=True)
        return receipt

    def take(self, raw: object, by: str) -> Receipt:
        """Keep a report that a person at the board typed, and show it at once. Raises what intake raises."""
        return self.take_all([raw], by)[0]

    def take_all(self, raws: Sequence[object], by: str) -> list[Receipt]:
        """Keep several reports that are one to the person who typed them: all in one transaction, or none."""
        office = self.office
        hand = Hand(f"board:{by}", by, "board", office.clock.now(), office.clock.word)
        receipts = desk.keep(office, [self._following.read_report(raw, hand) for raw in raws])
        self.refresh(at_once=True)
        return receipts

    def send_message(self, message: str, text: str, to: str, places: Collection[str], by: str) -> list[Receipt]:
        """Send a message to places under its own id, and show it at once. Raises what the office raises."""
        office = self.office
        hand = Hand(f"board:{by}", by, "board", office.clock.now(), office.clock.word)
        receipts = messaging.send(office, self._following.picture.roster, message, text, to, places, hand)
        self.refresh(at_once=True)
        return receipts

    def settle(self, item: SetAside, by: str, *, raw: object = None, reason: str = "") -> Receipt:
        """Take in what was set aside, put right as `raw`, or dismiss it. Raises what intake or the office raises."""
        office = self.office
        hand = Hand(f"board:{by}", by, "board", office.clock.now(), office.clock.word)
        if raw is None:
            return settling.dismiss(office, item, reason, hand)
        receipt = settling.take_in(office, item, self._following.read_report(raw, hand), hand)
        self.refresh(at_once=True)
        return receipt

    def undelivered(self) -> list[Undelivered]:
        """The notices that reached nobody for good, latest first."""
        return desk.failed_notices(self.office)

    def waiting(self, limit: int) -> list[SetAside]:
        """The newest of what was set aside and nobody has settled."""
        return settling.waiting(self.office, limit)

    def settled(self, items: Sequence[SetAside]) -> dict[int, Entry]:
        """How those of these items that are settled were settled, by number."""
        return settling.outcomes(self.office, items)

    def set_aside(self, limit: int) -> list[SetAside]:
        """The newest of what could not be kept."""
        return list(desk.set_aside_list(self.office, limit))

    def follow(self) -> None:
        """Read the ledger until stopped; trouble is logged, shown by the growing age, and tried again."""
        while not self._stopping.is_set():
            try:
                self.refresh()
                self.signs.read()
            except Exception:  # noqa: BLE001  the loop's outermost level: whatever it was, the next round may do
                _log.exception("the ledger could not be read")
                self._stopping.wait(COALESCE_SECONDS)
            self._stopping.wait(POLL_SECONDS)

    def stop(self) -> None:
        self._stopping.set()
        self.replaying.stop()
        self.suggesting.stop()
        self.foreseeing.stop()

    def _newer(self, now: datetime) -> Board:
        board = newer(self.latest, self._following.picture, self._touched, now)
        return replace(
            board,
            last_received_at=self._following.last_received_at,
            clock=self.office.clock,
            archive=self.office.archive,
            earlier=self._earlier,
            dispatch=self.suggesting.latest,
            forecasts=self.foreseeing.latest,
        )


@contextmanager
def used(feed: Feed) -> Generator[None, None, None]:
    """Make this the process's feed for as long as it lasts."""
    global _current
    _current = feed
    try:
        yield
    finally:
        _current = None


@contextmanager
def following(feed: Feed) -> Generator[None, None, None]:
    """Follow the ledger in a thread of its own, and do what may take longer in others, while it is served."""
    threads = [
        threading.Thread(target=feed.follow, name="follow the ledger", daemon=True),
        threading.Thread(target=feed.suggesting.follow, name="suggest rovers", daemon=True),
        threading.Thread(target=feed.foreseeing.follow, name="foresee openings", daemon=True),
        threading.Thread(target=feed.replaying.follow, name="fold the day ahead", daemon=True),
    ]
    for thread in threads:
        thread.start()
    try:
        with used(feed):
            yield
    finally:
        feed.stop()
        for thread in threads:
            thread.join(timeout=5)


_current: Feed | None = None


def current() -> Feed:
    """The process's feed. RuntimeError where the board was not started by `python -m dashboard`."""
    if _current is None:
        raise RuntimeError("the board is started by `python -m dashboard`")
    return _current


def newest() -> Board | None:
    """The newest board, or None while the ledger is being read for the first time."""
    return current().latest


def once(build: Callable[_P, _T], *args: _P.args, **kwargs: _P.kwargs) -> _T:
    """What `build` makes of a board (its first argument), made once for everybody and dropped with that board."""
    board = args[0]
    assert isinstance(board, Board)
    key = (build, args[1:], tuple(kwargs.items()))
    if key not in board.made:
        board.made[key] = build(*args, **kwargs)
    return board.made[key]  # type: ignore[return-value]
