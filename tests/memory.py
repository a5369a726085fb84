"""The most memory this process has held."""

import re
import resource
import sys
from pathlib import Path

_STATUS = Path("/proc/self/status")


def peak_mb() -> float:
    """Peak resident memory in MB, of this program alone.

    On Linux getrusage also counts what the parent held when it started this process, so the kernel's own high-water
    mark is read there.
    """
    if _STATUS.exists():
        found = re.search(r"^VmHWM:\s+(\d+) kB", _STATUS.read_text(), re.MULTILINE)
        assert found is not None
        return int(found[1]) / 1024
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1024 * 1024 if sys.platform == "darwin" else 1024)
