"""What every page says where the endpoint, or a loop beside it, does not run: which, for how long, what it means."""

from collections.abc import Mapping
from datetime import timedelta
from types import MappingProxyType

from county.domain.going_round import Work
from dashboard import words

SILENT = "silent"
_NO_REPORT = "no report comes in"
_DOES_NOT_ANSWER = f"The endpoint does not answer: {_NO_REPORT}."
_NAMES: Mapping[Work, str] = MappingProxyType(
    {
        Work.CLOCK: "clock",
        Work.NOTICES: "sender of notices",
        Work.DROP: "watch on the drop folder",
        Work.LOGS: "watch on the folder for devices' logs",
    }
)
_MEANS: Mapping[Work, str] = MappingProxyType(
    {
        Work.CLOCK: "late openings and silent places are not being raised",
        Work.NOTICES: "nobody is being told of open cases",
        Work.DROP: "files dropped are not being taken in",
        Work.LOGS: "devices' logs dropped are not being taken in",
    }
)


def alarm(knock: str, still: Mapping[Work, timedelta | None], *, may_have_ended: bool) -> str:
    """The line; empty where nothing is wrong. `still` is how long each work that stands still has done so.

    `knock` is what came of asking the endpoint. Where the day is over or was only rehearsed, that no endpoint runs any
    more is no news beyond that it does not answer.
    """
    silent = knock == SILENT
    if Work.ENDPOINT in still:
        if may_have_ended:
            return _DOES_NOT_ANSWER if silent else ""
        return _gone(still[Work.ENDPOINT]) if silent else _unsaid(still[Work.ENDPOINT])
    return " ".join(part for part in (_loops(still) if still else "", _DOES_NOT_ANSWER if silent else "") if part)


def _gone(since: timedelta | None) -> str:
    what = words.listed([_NO_REPORT, _MEANS[Work.CLOCK], _MEANS[Work.NOTICES]])
    if since is None:
        return f"No endpoint has run here yet: {what}. Start it: python -m ingest."
    return f"The endpoint has not run for {words.span(since)}: {what}. Start it again."


def _unsaid(since: timedelta | None) -> str:
    gone = f"for {words.span(since)}" if since else "yet"
    return (
        f"The endpoint answers but has given no sign {gone} that its clock runs: whether late openings and silent "
        "places are being raised is not known. Restart the endpoint."
    )


def _loops(still: Mapping[Work, timedelta | None]) -> str:
    names, means = words.listed(_NAMES[work] for work in still), words.listed(_MEANS[work] for work in still)
    has = "has" if len(still) == 1 else "have"
    known = [since for since in still.values() if since is not None]
    gone = f"for {words.span(max(known))}" if known else "yet"
    return f"The endpoint's {names} {has} not run {gone}: {means}. Restart the endpoint."
