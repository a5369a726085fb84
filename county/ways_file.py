"""Reading the county's own minutes from place to place from the file that the plan names."""

from pathlib import Path

from county.domain.plan import Plan
from county.domain.ways import Ways, parse_ways
from county.errors import BadPlan

NONE: Ways = {}


def ways_file(plan_file: Path, plan: Plan) -> Path | None:
    """Where the file lies, beside the plan; None where the plan names none."""
    return plan_file.parent / plan.dispatch.matrix_file if plan.dispatch.matrix_file else None


def read_ways(plan_file: Path, plan: Plan) -> Ways:
    """The ways, none where the plan names no file. Raises BadPlan or Refused saying what is wrong with the file."""
    file = ways_file(plan_file, plan)
    if file is None:
        return NONE
    try:
        return parse_ways(file.read_text(encoding="utf-8-sig"), file.name)
    except FileNotFoundError:
        raise BadPlan(str(file), 0, "there is no such file, though the plan's [dispatch] names it as matrix") from None
    except (OSError, UnicodeDecodeError) as error:
        raise BadPlan(str(file), 0, f"cannot be read: {error}") from None
