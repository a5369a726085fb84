"""The canonical text (RFC 8785) of plain forms, made in a fraction of the time the general way takes."""

import json
from collections.abc import Mapping


def plain_canonical(form: Mapping[str, object]) -> str:
    """RFC 8785 of a form whose names are ASCII and whose values are text, whole numbers, yes or no, lists of text.

    That is all an entry and a report hold. For these the standard's writer, its names sorted, gives the very same text
    as the RFC 8785 library, to which a test and every verification of the chain hold it. For numbers with fractions and
    other names it does not: use `entry_form.canonical` there.
    """
    return json.dumps(form, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
