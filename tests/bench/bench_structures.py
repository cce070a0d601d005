"""Times of RT Structure Sets; run as `python -m tests.bench.bench_structures`.

Twenty volumes on 200 slices, 52 000 points in all, as an outliner of few points makes them, and the same with a million.
Budgets are for a two-core machine at rest. The first call of each does not count.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from engine.base.values import frozen_array
from engine.dicom.common import save_file
from engine.dicom.structure_file import structures_dataset
from engine.dicom.structures import ReadStructures, read_structures
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Contour, Volume
from tests.support.dicom_files import planned_case

GRID = Grid((-255.5, -255.5, -300.0), (1.0, 1.0, 3.0), (200, 512, 512))
BUDGET_S = {
    "read, 52 000 points": 2.0,
    "write, 52 000 points": 2.0,
    "read, 1 000 000 points": 4.0,
    "write, 1 000 000 points": 4.0,
}


def case_of(points_a_slice: int):
    """Return a case of twenty lobed volumes with contours as they come in, and nothing else."""
    case = planned_case()
    image = case.image.but(
        hu=frozen_array(np.zeros(GRID.shape, "<i2")),
        grid=GRID,
        sop_uids=tuple(f"1.2.3.{i + 1}" for i in range(GRID.shape[0])),
    )
    t = np.linspace(0, 2 * np.pi, points_a_slice, endpoint=False)
    volumes = []
    for n in range(20):
        lines = []
        for k, z in enumerate(GRID.z_mm):
            r = 20 + 4 * n + 3 * np.sin(5 * t + k / 20)
            lines.append(np.column_stack((n + r * np.cos(t), r * np.sin(t), np.full(len(t), z))).round(2))
        original = tuple(Contour(frozen_array(p)) for p in lines)
        volumes.append(Volume(f"v{n}", f"Volume_{n}", "OAR", (9, 9, 9), Coverage(GRID), original=original))
    return case.but(image=image, volumes=tuple(volumes))


def took_s(do: Callable[[], object]) -> float:
    """Return the time of the second call."""
    do()
    start = time.perf_counter()
    do()
    return time.perf_counter() - start


def main() -> int:
    """Print every time beside its budget; 1 if one is broken."""
    late = 0
    with tempfile.TemporaryDirectory() as folder:
        for count, per in (("52 000", 13), ("1 000 000", 250)):
            case, path = case_of(per), Path(folder) / f"{per}.dcm"
            times = {
                "write": took_s(lambda: save_file(structures_dataset(case), path)),  # noqa: B023
                "read": took_s(lambda: read_structures(ReadStructures(str(path), case.image))),  # noqa: B023
            }
            for what, seconds in times.items():
                budget = BUDGET_S[f"{what}, {count} points"]
                late += seconds > budget
                print(
                    f"{what:5} {count:>9} points {seconds:6.2f} s of {budget:.1f} s{'  LATE' if seconds > budget else ''}"
                )
    return 1 if late else 0


if __name__ == "__main__":
    raise SystemExit(main())
