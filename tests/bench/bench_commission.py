"""Times of comparing doses and of a machine's beam data; run as `python -m tests.bench.bench_commission`.

Two million judged voxels, shifted by 1 mm and 2 % higher. Budgets are for a two-core machine at rest.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np

from engine.base.values import own_array
from engine.beams.machine_file import load_machine
from engine.commission.beam_data import BeamDataRequest, beam_data
from engine.commission.tank import Setup, aperture_of, scan_grid, tank_dose
from engine.dose.dose import Dose
from engine.evaluation.gamma import compare
from engine.space.grid import Grid

BUDGET_S = {"gamma, 2 M voxels": 8.0, "same dose, 2 M voxels": 3.0, "one scan 100 x 100": 1.5, "beam data, 3 fields": 12.0}


def bump(shift_mm: float, scale: float, voxels: int = 126) -> Dose:
    """Return a smooth dose that is above 10 % everywhere."""
    at = 2.0 * (np.arange(voxels) - (voxels - 1) / 2)
    grid = Grid((float(at[0]),) * 3, (2.0,) * 3, (voxels,) * 3)
    z, y, x = np.meshgrid(at, at, at, indexing="ij")
    gy = 60 * scale * (0.2 + 0.8 * np.exp(-((((x - shift_mm) ** 2 + y**2 + z**2) / 80**2) ** 3)))
    return Dose(own_array(gy.astype(np.float32)), grid)


def seconds(run: Callable[[], object]) -> float:
    """Return the time of a call after one to warm up."""
    run()
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def measure() -> dict[str, float]:
    """Return seconds by name."""
    reference, evaluated, machine = bump(0, 1), bump(1, 1.02), load_machine("generic-6")
    setup = Setup((100.0, 100.0))
    grid, aperture = scan_grid(setup, "x", 200.0), aperture_of(machine, setup)
    return {
        "gamma, 2 M voxels": seconds(lambda: compare(reference, evaluated)),
        "same dose, 2 M voxels": seconds(lambda: compare(reference, reference)),
        "one scan 100 x 100": seconds(lambda: tank_dose(machine, setup, aperture, grid)),
        "beam data, 3 fields": seconds(lambda: beam_data(BeamDataRequest(machine, (50.0, 100.0, 200.0)))),
    }


def main() -> int:
    """Print every time against its budget; return 1 if one was missed."""
    missed = 0
    for name, found in measure().items():
        missed |= found > BUDGET_S[name]
        print(f"{name:24} {found:7.2f} s (budget {BUDGET_S[name]:g})")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
