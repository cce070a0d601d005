"""Times of what happens under the hand in Weigh and Aim; run as `python -m tests.bench.bench_evaluation`.

Five beams, 1.85 million dose voxels, twelve volumes. Budgets are for a two-core machine at rest.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.base.values import own_array
from engine.beams.arrange import new_beam
from engine.beams.conform import conform, project_volume
from engine.beams.machine_file import load_machine
from engine.dose.dose import Dose
from engine.evaluation import live
from engine.evaluation.goals import Goal
from engine.evaluation.isodose import lines
from engine.image.ct import CtImage
from engine.image.projection import Radiograph, View, radiograph
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

IMAGE = Grid((-250.0, -250.0, -200.0), (0.98, 0.98, 3.0), (134, 512, 512))
DOSE = Grid((-175.0, -125.0, -160.0), (2.5, 2.5, 2.5), (132, 100, 140))
BUDGET_MS = {
    "evaluate": 8.0,
    "plane z": 1.0,
    "plane y": 1.0,
    "plane x": 1.0,
    "lines of 8 levels": 1.0,
    "whole sum": 30.0,
    "conform": 30.0,
    "project target": 10.0,
    "radiograph 256 x 256": 200.0,
    "prepare": 400.0,
}


@dataclass(frozen=True)
class Wish:
    dose_gy: float = 60.0
    fractions: int = 30
    volume_key: str = "ptv"


def ball(key: str, centre: tuple[float, float, float], radius: float, role: str = "OAR") -> Volume:
    """Return a ball with a linear edge one pixel wide."""
    z, y, x = IMAGE.z_mm[:, None, None], IMAGE.y_mm[None, :, None], IMAGE.x_mm[None, None, :]
    away = radius - np.sqrt((x - centre[0]) ** 2 + (y - centre[1]) ** 2 + (z - centre[2]) ** 2)
    share = np.rint(255 * np.clip(away / 0.98 + 0.5, 0, 1)).astype(np.uint8)
    return Volume(key, key, role, (0, 0, 0), Coverage.from_dense(IMAGE, share))


def beam_dose(angle: float) -> Dose:
    """Return a smooth field of 70 mm that falls with depth."""
    z, y, x = np.meshgrid(DOSE.z_mm, DOSE.y_mm, DOSE.x_mm, indexing="ij")
    along, across = x * np.cos(angle) + y * np.sin(angle), -x * np.sin(angle) + y * np.cos(angle)
    field = 1 / (1 + np.exp((abs(across) - 35) / 3)) / (1 + np.exp((abs(z) - 35) / 3))
    return Dose(own_array((0.01 * np.exp(-0.004 * (along + 150)) * field).astype(np.float32)), DOSE, str(angle))


def median_ms(run: Callable[[], object], times: int = 15) -> float:
    """Return the median time of a call after one call to warm up."""
    run()
    found = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        found.append(1e3 * (time.perf_counter() - start))
    return float(np.median(found))


def measure() -> dict[str, float]:
    """Return milliseconds by name."""
    live.warm_up()
    sizes = (20, 30, 40, 50)
    volumes = [ball("body", (0, 0, 0), 120, "EXTERNAL"), ball("ptv", (0, 0, 0), 30, "PTV"), ball("cord", (0, 50, 0), 8)]
    volumes += [ball(f"o{i}", (60 * np.cos(i), 60 * np.sin(i), 10 * i - 40), sizes[i % 4]) for i in range(9)]
    request = live.LiveRequest(tuple(beam_dose(b * 2 * np.pi / 5) for b in range(5)), tuple(volumes))
    basis = live.prepare(request)
    goals = (Goal("ptv", "D95%[%]", ">=", 95), Goal("cord", "D0.1cc[Gy]", "<=", 45), Goal("o1", "V20Gy[%]", "<=", 30)) * 4
    plan = basis.evaluate((1, 1, 1, 0.5, 1), "D95%", Wish(), (0, 0, 0), goals)
    plane = plan.plane("z", 0.0)[0]
    levels = [64.0, 60, 57, 48, 30, 18, 6, 3]
    machine, target = load_machine("generic-6"), volumes[1].coverage
    beam = new_beam("b", machine.name, (0.0, 0.0, 0.0), 37.0)
    image = CtImage(own_array(np.random.default_rng(0).integers(-1000, 1000, IMAGE.shape).astype("<i2")), IMAGE)
    view = Radiograph(image, View((0.0, 0.0, 0.0), 37.0, 0.0, 0.0), 1000.0, 400.0, 400 / 256)
    out = {
        "evaluate": median_ms(lambda: basis.evaluate((1, 1, 1, 0.5, 1), "D95%", Wish(), (0, 0, 0), goals)),
        "lines of 8 levels": median_ms(lambda: lines(plane, levels)),
        "conform": median_ms(lambda: conform(beam, target, machine, 7.0)),
        "project target": median_ms(lambda: project_volume(target, beam, 1000.0, "HFS")),
        "radiograph 256 x 256": median_ms(lambda: radiograph(view), 5),
        "prepare": median_ms(lambda: live.prepare(request), 3),
        "whole sum": median_ms(lambda: basis.evaluate((1, 1, 1, 0.5, 1), "None", None).dose())
        - median_ms(lambda: basis.evaluate((1, 1, 1, 0.5, 1), "None", None)),
    }
    return out | {f"plane {axis}": median_ms(lambda axis=axis: plan.plane(axis, 3.3)) for axis in "zyx"}


if __name__ == "__main__":
    for name, ms in measure().items():
        print(f"{name:24s} {ms:8.2f} ms   budget {BUDGET_MS[name]:6.1f} ms")
