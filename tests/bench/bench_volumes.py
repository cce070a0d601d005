"""Times of painting, outlines and margins; run as `python -m tests.bench.bench_volumes`.

A CT of 512 x 512 x 120, 0.98 mm pixels, 2.5 mm planes. Budgets are for a two-core machine at rest. The first call of
each (compilation, caches) does not count.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes import extent, paint, stack, tidy
from engine.volumes.between import interpolate
from engine.volumes.coverage import Coverage
from engine.volumes.likeness import CompareVolumes, compare_volumes
from engine.volumes.margins import equal, grow, keep_inside, shrink, union
from engine.volumes.move import moved
from engine.volumes.outer import FindBody, find_body
from engine.volumes.outline import filled, outlines, slice_outlines_mm
from engine.volumes.quality import quality
from engine.volumes.volume import Volume
from tests.support.solids import cylinder, sphere, stacked

GRID = Grid((-250.0, -250.0, -150.0), (0.98, 0.98, 2.5), (120, 512, 512))
BUDGET_MS = {
    "time_stamp_60px": 0.5,
    "time_stroke_60px": 0.5,
    "time_stroke_of_100_points_60px": 16.0,
    "time_outlines_of_an_organ": 1.0,
    "time_replace_slice": 2.0,
    "time_fill_volume_from_lines": 100.0,
    "time_interpolate": 100.0,
    "time_interpolate_five_slices": 50.0,
    "time_ptv_margin_5mm": 300.0,
    "time_ptv_margin_unequal": 300.0,
    "time_ptv_margin_2mm_1mm": 300.0,
    "time_grow_and_shrink_at_once": 600.0,
    "time_grow_body_8mm": 1000.0,
    "time_shrink_ptv_5mm": 300.0,
    "time_keep_inside_body": 500.0,
    "time_shrink_body_5mm": 3000.0,
    "time_shrink_tapering_body_5mm": 3000.0,
    "time_smooth_through_body": 2000.0,
    "time_turn_body": 5000.0,
    "time_union": 30.0,
    "time_smooth": 500.0,
    "time_smooth_through": 1000.0,
    "time_fill_cavities": 300.0,
    "time_move_and_turn": 500.0,
    "time_quality": 1000.0,
    "time_find_body": 800.0,
    "time_compare_bodies": 4000.0,
}


class Scene:
    """The volumes all benches share."""

    def __init__(self) -> None:
        self.target = sphere(GRID, 35)
        self.body = cylinder(GRID, 180, 200)
        self.slice = np.zeros((512, 512), np.uint8)
        t = np.linspace(0, 6, 100)
        self.path = np.column_stack((250 + 100 * np.sin(t), np.linspace(100, 400, 100)))
        self.sparse = Coverage(GRID, self.target.tiles[::3])
        self.waist = waist = stacked(GRID, lambda z: 150 + 30 * float(np.cos(z / 40)))
        self.torso = Coverage(GRID, (waist.tile(50), waist.tile(56)))
        self.tapering = stacked(GRID, lambda z: 180 + z / 8, lambda z: (z / 20, 0.0))
        self.lines = [c for k in self.target.planes for c in slice_outlines_mm(self.target, k)]
        hu = np.where(self.body.dense() > 127, 0, -1000).astype("<i2")
        self.image = CtImage(own_array(hu), GRID)


def time_stamp_60px(s: Scene) -> None:
    paint.stamp(s.slice, 250.2, 250.7, (60, 60))


def time_stroke_60px(s: Scene) -> None:
    paint.stroke(s.slice, ((250.2, 250.7), (255.0, 275.0)), (60, 60))


def time_stroke_of_100_points_60px(s: Scene) -> None:
    paint.stroke(s.slice, s.path, (60, 60))


def time_outlines_of_an_organ(s: Scene) -> None:
    tile = s.target.tiles[len(s.target.tiles) // 2]
    outlines(tile.alpha, tile.row, tile.column)


def time_replace_slice(s: Scene) -> None:
    s.target.with_slice(60, s.slice)


def time_fill_volume_from_lines(s: Scene) -> None:
    filled(GRID, s.lines)


def time_interpolate(s: Scene) -> None:
    interpolate(s.sparse)


def time_interpolate_five_slices(s: Scene) -> None:
    interpolate(s.torso)


def time_grow_and_shrink_at_once(s: Scene) -> None:
    extent.change(s.target, (5, -5, 3, -3, 5, -5))


def time_grow_body_8mm(s: Scene) -> None:
    grow(s.waist, equal(8))


def time_ptv_margin_5mm(s: Scene) -> None:
    grow(s.target, equal(5))


def time_ptv_margin_unequal(s: Scene) -> None:
    grow(s.target, (5, 5, 5, 3, 7, 7))


def time_ptv_margin_2mm_1mm(s: Scene) -> None:
    grow(s.target, (2, 2, 1, 0, 3, 3))


def time_shrink_ptv_5mm(s: Scene) -> None:
    shrink(s.target, equal(5))


def time_keep_inside_body(s: Scene) -> None:
    keep_inside(s.target, s.body, 5)


def time_shrink_tapering_body_5mm(s: Scene) -> None:
    shrink(s.tapering, equal(5))


def time_smooth_through_body(s: Scene) -> None:
    stack.smooth_through(s.tapering, 3.0)


def time_turn_body(s: Scene) -> None:
    moved(s.tapering, (1.0, 0.0, 0.0, 0.0, 0.0, 2.0))


def time_shrink_body_5mm(s: Scene) -> None:
    shrink(s.body, equal(5))


def time_union(s: Scene) -> None:
    union(s.target, s.body)


def time_smooth(s: Scene) -> None:
    tidy.smooth(s.target, 2.0)


def time_smooth_through(s: Scene) -> None:
    stack.smooth_through(s.target, 3.0)


def time_fill_cavities(s: Scene) -> None:
    stack.fill_cavities(s.target)


def time_move_and_turn(s: Scene) -> None:
    moved(s.target, (3.3, 0, 2, 0, 0, 10))


def time_quality(s: Scene) -> None:
    quality(Volume("t", "PTV", "PTV", (0, 0, 0), s.target), Volume("b", "Body", "EXTERNAL", (0, 0, 0), s.body))


def time_find_body(s: Scene) -> None:
    find_body(FindBody(s.image))


def time_compare_bodies(s: Scene) -> None:
    compare_volumes(CompareVolumes(s.body, s.tapering))


def measure(call: Callable[[Scene], None], scene: Scene, repeats: int) -> float:
    """Return the median of `repeats` calls in ms, after one that does not count."""
    call(scene)
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        call(scene)
        taken.append(time.perf_counter() - start)
    return float(np.median(taken)) * 1000


def main() -> None:
    scene = Scene()
    for name, budget in BUDGET_MS.items():
        took = measure(globals()[name], scene, 3 if budget > 400 else 15)
        print(f"{name:32} {took:9.2f} ms   budget {budget:7.1f} ms   {'ok' if took <= budget else 'OVER'}")


if __name__ == "__main__":
    main()
