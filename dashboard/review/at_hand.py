"""The review kept at hand: what came is arranged for the replay, and the moment it shows first folded, beforehand."""

import logging
import threading
from collections.abc import Generator
from contextlib import contextmanager

from county.domain.both_orders import View
from county.domain.replay import Replay
from dashboard.beside import again_and_again
from dashboard.feed import Feed, once
from dashboard.review import day
from dashboard.review.ended import at_its_end

EVERY_SECONDS = 5.0
_log = logging.getLogger("pollrise.board")


class AtHand:
    """Looks again after the board has become newer, so that whoever opens the review need not wait."""

    def __init__(self, feed: Feed) -> None:
        self._feed = feed
        self._revision = 0
        self._stopping = threading.Event()

    def look(self) -> None:
        """Arrange what came since, and fold every place as of the moment that the review shows first."""
        board = self._feed.latest
        if board is None or board.revision == self._revision or not board.places:
            return
        first = once(day.furthest_behind, at_its_end(board))

        def fold(replay: Replay, place: str) -> None:
            for view in View:
                replay.glance(place, first, view)

        self._feed.replaying.everywhere_ahead(fold)
        self._revision = board.revision

    def follow(self) -> None:
        """Look until stopped; trouble is logged and tried again, and whoever opens the review waits a little longer."""
        again_and_again(self.look, self._stopping, EVERY_SECONDS, self._failed)

    def _failed(self) -> None:
        _log.exception("the review could not be made ready")

    def stop(self) -> None:
        self._stopping.set()


@contextmanager
def kept_at_hand(feed: Feed) -> Generator[None, None, None]:
    """Keep the review at hand in a thread of its own for as long as this lasts."""
    at_hand = AtHand(feed)
    thread = threading.Thread(target=at_hand.follow, name="keep the review at hand", daemon=True)
    thread.start()
    try:
        yield
    finally:
        at_hand.stop()
        thread.join(timeout=5)
