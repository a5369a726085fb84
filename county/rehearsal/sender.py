"""Sends a made-up day through the real endpoint and drop folder, and counts the receipts."""

import time
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import httpx

from county.errors import PollriseError
from county.rehearsal.dropping import drop
from county.rehearsal.sent import DROP, ENDPOINT, Sent

MOST_AT_ONCE = 500
WAITS = (0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 5.0, 5.0, 5.0, 5.0)
NOT_NOW = (429, 502, 503, 504)
OUTCOME_BY_STATUS = {200: "already-held", 201: "kept", 403: "refused", 409: "conflict", 413: "refused", 422: "refused"}


class NotSent(PollriseError):
    """The endpoint could not be reached, or answered what it should not, for as long as we tried."""


@dataclass(slots=True)
class Tally:
    """What became of what was sent. `outcomes` counts receipts of the endpoint; the folder gives none."""

    outcomes: Counter[str] = field(default_factory=Counter)
    files: int = 0
    rows: int = 0

    @property
    def sent(self) -> int:
        """Reports sent to the endpoint."""
        return self.outcomes.total()

    def __str__(self) -> str:
        told = ", ".join(
            f"{self.outcomes[outcome]:,} {says}"
            for outcome, says in (
                ("kept", "kept"),
                ("already-held", "already held"),
                ("conflict", "conflicts"),
                ("refused", "refused"),
            )
        )
        return f"sent {self.sent:,}: {told}; {self.files:,} files dropped with {self.rows:,} rows"


@dataclass(slots=True)
class Sender:
    """One sender with a desk key: `client` knows the endpoint's address, `folder` is where CSV files are dropped.

    `watch` is called where there was no answer; what it raises ends the sending, and says better than we why.
    """

    client: httpx.Client
    key: str
    folder: Path
    run: str
    watch: Callable[[], None] = lambda: None
    tally: Tally = field(default_factory=Tally)

    def must_be_ours(self) -> None:
        """Ask the endpoint for its picture, which also brings it up to date with a county loaded just now.

        Raises NotSent where the endpoint does not know our key: then it works on another ledger.
        """
        response = self._until_answered("GET", "/picture")
        if response.status_code == 401:
            raise NotSent(f"the endpoint at {self.client.base_url} works on another ledger: it answers 401 to our key")
        if not response.is_success:
            raise NotSent(f"the endpoint answered {response.status_code}: {response.text[:200]}")

    def send(self, due: Sequence[Sent]) -> None:
        """Send what is due, in its order: one report by itself, more of them as batches; the folder's rows as a file.

        Raises NotSent when the endpoint stays out of reach.
        """
        for way, together in _runs(due):
            if way == DROP:
                drop(
                    together,
                    self.folder / f"rehearsal-{self.run}-{together[0].at:%H%M%S}-{self.tally.files + 1:03}.csv",
                )
                self.tally.files += 1
                self.tally.rows += len(together)
            else:
                for at in range(0, len(together), MOST_AT_ONCE):
                    self._post([dict(each.raw) for each in together[at : at + MOST_AT_ONCE]])

    def _post(self, reports: list[dict[str, object]]) -> None:
        response = self._until_answered("POST", "/reports", reports[0] if len(reports) == 1 else {"reports": reports})
        if len(reports) > 1 and response.status_code == 200:
            self.tally.outcomes.update(receipt["outcome"] for receipt in response.json()["receipts"])
        elif len(reports) == 1 and response.status_code in OUTCOME_BY_STATUS:
            self.tally.outcomes[OUTCOME_BY_STATUS[response.status_code]] += 1
        else:
            raise NotSent(f"the endpoint answered {response.status_code}: {response.text[:200]}")

    def _until_answered(self, method: str, path: str, body: dict[str, object] | None = None) -> httpx.Response:
        """Try until there is an answer: the keys are the same each time, so nothing is kept twice."""
        says = ""
        for wait in WAITS:
            try:
                response = self.client.request(method, path, json=body, headers={"Authorization": f"Bearer {self.key}"})
            except httpx.TransportError as error:
                says = f"cannot be reached ({type(error).__name__})"
            else:
                if response.status_code not in NOT_NOW:
                    return response
                says = f"answers {response.status_code}"
                wait = max(wait, _retry_after(response))
            time.sleep(wait)
            self.watch()
        raise NotSent(f"the endpoint {says}; gave up after {len(WAITS)} tries")


def _runs(due: Iterable[Sent]) -> list[tuple[str, list[Sent]]]:
    """What goes together: reports to the endpoint, and the rows that are written out at one moment."""
    runs: list[tuple[str, list[Sent]]] = []
    for each in due:
        last = runs[-1] if runs else None
        if last and last[0] == each.how and (each.how == ENDPOINT or last[1][-1].at == each.at):
            last[1].append(each)
        else:
            runs.append((each.how, [each]))
    return runs


def _retry_after(response: httpx.Response) -> float:
    said = response.headers.get("Retry-After", "")
    return min(30.0, float(said)) if said.isdecimal() else 0.0
