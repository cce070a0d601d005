"""Speed of the dose engine against what this machine can do at all; run as `python -m tests.bench.bench_dose`.

A box of the size of a pelvis (about 2 million voxels of 2.5 mm, half of them body), warm. Budgets are for two cores at
rest. Beside them stand limits measured in the same run: the engine's own inner step on data that lie in the nearest
cache (arithmetic), and copying the grid (memory). The last tables show how time grows.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable

import numpy as np
from numba import njit

import engine.dose.calculate as story
import engine.dose.passes as passes
import engine.dose.threads as threads
from engine.base.values import own_array
from engine.beams.beam import Aperture, Beam
from engine.beams.machine_file import load_machine
from engine.dose.calculate import calculate
from engine.dose.fan import passed
from engine.dose.request import DoseRequest
from engine.image.density import Density
from engine.space.grid import Grid

BUDGET_S = {"100 x 100 mm": 0.060, "200 x 200 mm": 0.100, "nine beams": 0.600}
BUDGET_MB = 1000
BOX = Grid((-198.75, -133.75, -173.75), (2.5, 2.5, 2.5), (140, 108, 160))
MACHINE = "generic-6"


def best(function: Callable[[], object], times: int = 7) -> float:
    """Return the least of several runs in seconds, the first not counted: what others do on the machine only adds."""
    function()
    spans = []
    for _ in range(times):
        begin = time.perf_counter()
        function()
        spans.append(time.perf_counter() - begin)
    return min(spans)


def body(box: Grid) -> Density:
    """Return an ellipse of water that fills about half of a box, air around it."""
    lo, hi = box.bounds_mm
    x, y = (2 * (v - (a + b) / 2) / (b - a) for v, a, b in ((box.x_mm, lo[0], hi[0]), (box.y_mm, lo[1], hi[1])))
    inside = (x[None, :] / 0.85) ** 2 + (y[:, None] / 0.75) ** 2 < 1
    plane = np.where(inside, 1.0, 0.00121).astype(np.float32)
    return Density(own_array(np.broadcast_to(plane, box.shape).astype(np.float32)), box)


def request(density: Density, side_mm: float, gantry_deg: float = 0.0) -> DoseRequest:
    """Return one square field on the middle of the box."""
    square = Aperture((-side_mm / 2, side_mm / 2), (-side_mm / 2, side_mm / 2))
    beam = Beam("", "", MACHINE, density.grid.centre_mm, gantry_deg, 0.0, 0.0, square)
    return DoseRequest(density, beam, load_machine(MACHINE), density.grid)


def nine(density: Density, side_mm: float = 100.0) -> list[DoseRequest]:
    """Return nine beams around."""
    return [request(density, side_mm, 40.0 * n) for n in range(9)]


def with_threads(count: int, function: Callable[[], float]) -> float:
    """Return what a function gives when the engine may use so many threads."""
    before = threads.thread_count
    threads.thread_count = lambda: count
    try:
        return function()
    finally:
        threads.thread_count = before


def updates_of(one: DoseRequest) -> tuple[float, float]:
    """Return cell-cone updates of a beam and the seconds of its transport on one core."""
    spans, counts = [], []
    real = story.transport

    def watched(rho, source, spacing, cones, *rest):  # type: ignore[no-untyped-def]
        begin = time.perf_counter()
        out = real(rho, source, spacing, cones, *rest)
        spans.append(time.perf_counter() - begin)
        counts.append(rho.size * len(cones.directions))
        return out

    story.transport = watched
    try:
        for _ in range(4):
            spans.clear(), counts.clear()
            with_threads(1, lambda: float(calculate(one).gy[0, 0, 0]))
    finally:
        story.transport = real
    return float(sum(counts)), sum(spans)


@njit
def _team_passes(rho, source, steps, shares, factors, state, deposit, times):  # type: ignore[no-untyped-def]
    n = rho.size
    for _ in range(times):
        for m in range(2):
            kept, own = factors[2 * m * n :][:n], factors[(2 * m + 1) * n :][:n]
            passes._factors_long(rho, steps[m], kept, own)
        for s in range(0, len(state), 4):
            four = state[s], state[s + 1], state[s + 2], state[s + 3]
            passes._pass_two(factors, source, shares[0], shares[1], *four, deposit)


def limit_of_arithmetic() -> float:
    """Return cell-cone updates per second of the inner step alone: a team of cones on cells in the nearest cache."""
    n, team, times = passes.CHUNK, 12, 200
    rho, source, deposit = (np.full(n, v, np.float32) for v in (1.0, 0.1, 0.0))
    steps, shares = np.array([0.06, 0.3], np.float32), np.array([0.018, 0.002], np.float32)
    room = np.empty(4 * n, np.float32), np.zeros((2 * team, n), np.float32)
    return times * n * team / best(lambda: _team_passes(rho, source, steps, shares, *room, deposit, times))


def anew(one: DoseRequest) -> object:
    """Compute a beam of which nothing is remembered from before; the patient is known, as in any second beam."""
    passed.cache_clear()
    story._depths.cache_clear()
    return calculate(one)


def main() -> int:
    """Print the tables; returns 1 when a budget is missed."""
    patient = body(BOX)
    share = float((patient.g_cm3 > 0.5).mean())
    print(f"box of {np.prod(BOX.shape) / 1e6:.2f} million voxels, {100 * share:.0f} % body, {MACHINE}")
    beams = nine(patient)
    kept: list[object] = []

    def all_beams() -> None:
        kept.clear()
        kept.extend(calculate(b) for b in beams)

    one = request(patient, 100.0)
    found = {
        "100 x 100 mm": best(lambda: anew(one)),
        "200 x 200 mm": best(lambda: anew(request(patient, 200.0))),
        "nine beams": best(all_beams, 3),
    }
    for name, seconds in found.items():
        print(f"  {name:16} {1e3 * seconds:7.1f} ms   budget {1e3 * BUDGET_S[name]:g} ms")
    print(f"  100 x 100 mm once more, rays remembered {1e3 * best(lambda: calculate(one)):.1f} ms")
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"  memory of the process with nine doses kept {memory:.0f} MB   budget {BUDGET_MB} MB")

    updates, seconds = updates_of(one)
    arithmetic = limit_of_arithmetic()
    grid = np.ones(BOX.shape, np.float32)
    other = np.empty_like(grid)
    copy_s = best(lambda: np.copyto(other, grid))
    rate = updates / seconds
    copies = seconds / updates * int(np.prod(BOX.shape)) / copy_s
    print(f"\n  cell-cone updates of one beam                {updates / 1e6:.0f} M")
    print(f"  a second and core                            {rate / 1e9:.2f} G")
    print(
        f"  the inner step alone in the nearest cache    {arithmetic / 1e9:.2f} G, so {100 * rate / arithmetic:.0f} % of it"
    )
    print(f"  one direction over the whole grid            {copies:.1f} copies of it ({1e3 * copy_s:.2f} ms each)")

    print("\n  voxels, millions      ms (100 x 100 mm field)")
    for factor in (0.5, 0.75, 1.0):
        shape = tuple(int(n * factor ** (1 / 3)) for n in BOX.shape)
        box = Grid(BOX.origin_mm, BOX.spacing_mm, shape)
        some = request(body(box), 100.0)
        print(f"  {np.prod(shape) / 1e6:15.2f} {1e3 * best(lambda some=some: calculate(some), 4):12.1f}")
    print("  threads               ms, bits the same as with one")
    alone = with_threads(1, lambda: calculate(one)).gy
    for count in (1, 2, 4):
        same = np.array_equal(with_threads(count, lambda: calculate(one)).gy, alone)
        print(f"  {count:15d} {1e3 * with_threads(count, lambda: best(lambda: calculate(one), 4)):12.1f}   {same}")
    print("  beams                 ms")
    for count in (1, 3, 9):
        print(f"  {count:15d} {1e3 * best(lambda count=count: [calculate(b) for b in beams[:count]], 3):12.1f}")
    return int(any(found[n] > BUDGET_S[n] for n in found) or memory > BUDGET_MB)


if __name__ == "__main__":
    sys.exit(main())
