"""How far the dose is from exact superposition, by number of cones; run as `python -m tests.support.convergence`.

Writes the table of the contributor's guide between its marks. Boxes of water with fields of 3 and 10 cm, 6 and 10 MV;
one factor per machine brings the engine's Gy per MU to the judge's unit, so that narrow fields are judged absolutely.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

import engine.dose.kernels as kernels
import engine.dose.monitor as monitor
from engine.beams.machine_file import load_machine
from engine.dose.kernels import PRIMARY_RINGS, SCATTER_RINGS, Rings
from tests.support.dose import beam, dose, water
from tests.support.exact_superposition import exact_dose

MARKS = "<!-- cones: begin, written by python -m tests.support.convergence -->\n", "<!-- cones: end -->"
MACHINES = ("point-6", "point-10")
FIELDS = {30.0: ((120.0, 240.0, 120.0), 2.5), 100.0: ((240.0, 240.0, 240.0), 4.0)}
PRIMARY = {
    "coarsest": Rings((0.0, 20.0, 50.0, 100.0, 180.0), (4, 8, 8, 4)),
    "coarse": Rings((0.0, 12.0, 30.0, 55.0, 90.0, 180.0), (4, 8, 12, 12, 4)),
    "shipped": PRIMARY_RINGS,
    "fine": Rings(
        (0.0, 5.0, 10.0, 16.0, 24.0, 34.0, 46.0, 60.0, 82.0, 110.0, 180.0), (8, 12, 16, 20, 24, 24, 20, 16, 12, 8)
    ),
}
SCATTER = {
    "coarsest": Rings((0.0, 12.0, 30.0, 60.0, 100.0, 180.0), (4, 8, 12, 8, 4)),
    "coarse": Rings((0.0, 8.0, 20.0, 35.0, 55.0, 85.0, 125.0, 180.0), (8, 12, 16, 16, 12, 8, 4)),
    "shipped": SCATTER_RINGS,
    "fine": Rings(
        (0.0, 4.0, 8.0, 13.0, 18.0, 24.0, 31.0, 39.0, 48.0, 59.0, 74.0, 92.0, 115.0, 145.0, 180.0),
        (8, 12, 16, 20, 24, 28, 28, 28, 28, 24, 24, 20, 16, 12),
    ),
}
PAIRS = (
    ("coarsest", "shipped"),
    ("coarse", "shipped"),
    ("shipped", "shipped"),
    ("fine", "shipped"),
    ("shipped", "coarsest"),
    ("shipped", "coarse"),
    ("shipped", "fine"),
    ("fine", "fine"),
)


def with_rings(primary: Rings, scatter: Rings) -> None:
    """Have the engine use other cones from here on."""
    kernels.PRIMARY_RINGS, kernels.SCATTER_RINGS = primary, scatter
    for remembered in (kernels.beam_kernel, monitor.gy_per_unit, monitor.gy_at_maximum, monitor._reference):
        remembered.cache_clear()


def row(judges: dict[tuple[str, float], np.ndarray]) -> list[str]:
    """Return rms of the box and the worst point of the axis for every machine and field, in per cent."""
    cells = []
    for machine in MACHINES:
        scale = None
        for side in (100.0, 30.0):
            size, step = FIELDS[side]
            phantom = water(size, step)
            truth = judges[machine, side]
            found = dose(phantom, beam(side), machine).gy.astype(np.float64)
            k, y = phantom.grid.shape[0] // 2, phantom.grid.y_mm
            axis = [a[k - 1 : k + 1, :, k - 1 : k + 1].mean(axis=(0, 2)) for a in (found, truth)]
            middle = (y > 40) & (y < 200)
            scale = float((axis[1] / axis[0])[middle].mean()) if scale is None else scale
            rms = float(np.sqrt(np.mean((scale * found - truth)[:, y > 5] ** 2))) / truth.max()
            worst = np.abs(scale * axis[0] / axis[1] - 1)[(y > 20) & (y < 220)].max()
            cells.append(f"{100 * rms:.2f} / {100 * worst:.1f}")
    return cells


def table() -> str:
    """Return the table as text."""
    judges = {
        (machine, side): exact_dose(load_machine(machine), side, water(*FIELDS[side]).grid)
        for machine in MACHINES
        for side in FIELDS
    }
    lines = ["| primary | scatter | 6 MV, 10 cm | 3 cm | 10 MV, 10 cm | 3 cm |", "| --- | --- | --- | --- | --- | --- |"]
    for primary, scatter in PAIRS:
        with_rings(PRIMARY[primary], SCATTER[scatter])
        counts = [f"{sum(r.counts)} cones" for r in (PRIMARY[primary], SCATTER[scatter])]
        mark = "**" if primary == scatter == "shipped" else ""
        lines.append("| " + " | ".join(f"{mark}{cell}{mark}" for cell in (*counts, *row(judges))) + " |")
        print(lines[-1], flush=True)
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the table into the guide."""
    guide = Path(__file__).parents[2] / "DEVELOPERS.md"
    text = guide.read_text(encoding="utf-8")
    head, rest = text.split(MARKS[0])
    guide.write_text(head + MARKS[0] + "\n" + table() + "\n" + MARKS[1] + rest.split(MARKS[1])[1], encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
