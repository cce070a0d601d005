"""Fluence maps of a typical machine; run as `python -m tests.bench.bench_fluence`."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import engine  # noqa: F401  (its thread settings must stand before numpy is imported)

import numpy as np  # isort: skip

from engine.beams.beam import Aperture, Beam
from engine.beams.fluence import fluence_map
from engine.beams.machine_file import load_machine
from engine.dose.wedge_effect import wedged

BUDGET_MS = {
    "square 100 x 100 mm": 10.0,
    "leaves around a target of 90 mm": 10.0,
    "square 400 x 400 mm": 50.0,
    "wedge on 100 x 100 mm": 5.0,
}
BLUR_MM = 0.72


def median_ms(run: Callable[[], object], times: int = 15) -> float:
    """Return the median time of a call after one call to warm up; maps that are remembered are forgotten each time."""
    run()
    found = []
    for _ in range(times):
        fluence_map.cache_clear()
        start = time.perf_counter()
        run()
        found.append(1e3 * (time.perf_counter() - start))
    return float(np.median(found))


def measure() -> dict[str, float]:
    """Return milliseconds by name."""
    machine = load_machine("generic-6")
    edges = machine.leaf_edges_mm
    gaps = tuple((-45 + 9 * np.sin(n / 3), 45 + 8 * np.cos(n / 4)) if 20 <= n < 40 else (0.0, 0.0) for n in range(60))
    square, wide = Aperture((-50, 50), (-50, 50)), Aperture((-200, 200), (-200, 200))
    shaped = Aperture((-55, 55), (-50, 50), edges, gaps)
    field = fluence_map(square, machine, BLUR_MM)
    beam = Beam("", "", machine.name, (0, 0, 0), 0, 0, 0, square, "W30")
    return {
        "square 100 x 100 mm": median_ms(lambda: fluence_map(square, machine, BLUR_MM)),
        "leaves around a target of 90 mm": median_ms(lambda: fluence_map(shaped, machine, BLUR_MM)),
        "square 400 x 400 mm": median_ms(lambda: fluence_map(wide, machine, BLUR_MM)),
        "wedge on 100 x 100 mm": median_ms(lambda: wedged(field, beam, machine)),
    }


if __name__ == "__main__":
    missed = 0
    for name, ms in measure().items():
        print(f"{name:34s} {ms:8.2f} ms   budget {BUDGET_MS[name]:6.1f} ms")
        missed += ms > BUDGET_MS[name]
    sys.exit(int(missed > 0))
