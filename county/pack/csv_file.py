"""A table as a CSV file (RFC 4180): CRLF, quotes where needed, UTF-8, one header row, one row a record."""

import csv
import io
from datetime import datetime
from zoneinfo import ZoneInfo

from county.pack.formulas import as_text_only
from county.pack.table import Cell, Table


def csv_text(table: Table, zone: ZoneInfo) -> str:
    """The table as text; moments as RFC 3339 in this zone with their offset. What nobody told is an empty field."""
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    writer.writerows([_field(cell, zone) for cell in row] for row in table.rows)
    return written.getvalue()


def _field(cell: Cell, zone: ZoneInfo) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.astimezone(zone).isoformat()
    if isinstance(cell, float):
        return f"{cell:.4f}".rstrip("0").rstrip(".")
    return as_text_only(cell) if isinstance(cell, str) else str(cell)
