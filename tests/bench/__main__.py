"""`make bench`: every benchmark here, one after another, each in a process of its own."""

import subprocess
import sys
from pathlib import Path


def main() -> int:
    """Run them all whatever each comes to; 1 where one of them failed."""
    names = [file.stem for file in sorted(Path(__file__).parent.glob("bench_*.py"))]
    codes = []
    for name in names:
        print(f"\n== {name.removeprefix('bench_')}", flush=True)
        codes.append(subprocess.run([sys.executable, "-m", f"tests.bench.{name}"], check=False).returncode)
    return int(any(codes))


if __name__ == "__main__":
    sys.exit(main())
