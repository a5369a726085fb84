"""A receipt becomes an answer: its status, and why where nothing was kept."""

from collections.abc import Mapping
from types import MappingProxyType

from starlette.responses import Response

from county.domain.receipts import Outcome, Receipt, SetAside
from county.errors import Problem
from ingest.answers import answer, problem
from ingest.aside import NOT_ALLOWED
from ingest.shapes import receipt_shape
from ingest.waiting import Item

STATUS: Mapping[Outcome, int] = MappingProxyType(
    {Outcome.KEPT: 201, Outcome.ALREADY_HELD: 200, Outcome.CONFLICT: 409, Outcome.REFUSED: 422}
)
DETAIL: Mapping[int, str] = MappingProxyType(
    {
        403: "this key does not cover that place; the report is set aside for the office",
        409: "a report with this key is already held, with other content; this one is set aside for the office",
        422: "the report cannot be understood; it is set aside for the office",
    }
)


def receipt_answer(item: Item, receipt: Receipt) -> Response:
    """The receipt itself where the report stands in the ledger; else problem details with the receipt's members."""
    refused_place = isinstance(item, SetAside) and item.reason == NOT_ALLOWED
    status = 403 if refused_place else STATUS[receipt.outcome]
    shape = receipt_shape(receipt)
    if status in (200, 201):
        return answer(status, shape)
    shape.pop("errors", None)
    errors = item.problems if isinstance(item, SetAside) else receipt.problems or (Problem("key", receipt.says),)
    return problem(status, DETAIL[status], errors, also=shape)
