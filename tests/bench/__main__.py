"""Run every bench in a process of its own and say which budgets were missed: `python -m tests.bench`."""

from __future__ import annotations

import platform
import subprocess
import sys
from pathlib import Path


def main() -> int:
    """Return 0 if every bench keeps its budgets."""
    print(f"{platform.processor() or platform.machine()}, Python {platform.python_version()}")
    code = 0
    for path in sorted(Path(__file__).parent.glob("bench_*.py")):
        print(f"\n{path.stem}", flush=True)
        code |= subprocess.run([sys.executable, "-m", f"tests.bench.{path.stem}"], check=False).returncode
    return code


if __name__ == "__main__":
    sys.exit(main())
