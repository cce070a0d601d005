"""How long the stage takes from the hand to the picture. Run: python -m tests.bench.bench_stage [--full]

Times are from the mouse event handed to the view until its paint event has ended, at 1280 x 800, on the thorax
demonstration (--full) or on a synthetic 512 x 512 x 90 chest of six volumes.
"""

from __future__ import annotations

import argparse
import math
import statistics
import time

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from engine.base.values import own_array
from engine.case import edits
from engine.case.case import Case, Patient
from engine.case.second_images import with_second_image
from engine.image.ct import CtImage
from engine.image.second_image import SecondImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume
from tests.bench.at_window import outlining, timed

BRUSH_MS, SLICE_MS, SECOND_MS = 16.0, 30.0, 16.0


def chest() -> Case:
    """Return a chest made of ellipsoids: a stand-in with the size of a clinical CT."""
    grid = Grid((-249.5, -249.5, -133.5), (0.9766, 0.9766, 3.0), (90, 512, 512))
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij", sparse=True)

    def ellipsoid(cx: float, cy: float, cz: float, rx: float, ry: float, rz: float) -> np.ndarray:
        return ((x - cx) / rx) ** 2 + ((y - cy) / ry) ** 2 + ((z - cz) / rz) ** 2 < 1

    shapes = {
        "Body": ("EXTERNAL", ellipsoid(0, 0, 0, 190, 130, 1e4)),
        "Lung_L": ("OAR", ellipsoid(90, -5, 0, 65, 85, 120)),
        "Lung_R": ("OAR", ellipsoid(-90, -5, 0, 65, 85, 120)),
        "GTV": ("GTV", ellipsoid(-100, 10, 10, 22, 22, 22)),
        "PTV": ("PTV", ellipsoid(-100, 10, 10, 34, 34, 34)),
        "SpinalCord": ("OAR", ellipsoid(0, 85, 0, 8, 8, 1e4)),
    }
    hu = np.where(shapes["Body"][1], 40, -1000) + np.zeros(grid.shape)
    hu = np.where(shapes["Lung_L"][1] | shapes["Lung_R"][1], -750, hu)
    hu = (hu + np.random.default_rng(1).normal(0, 12, grid.shape)).astype("<i2")
    case = Case(Patient("Bench^Chest", synthetic=True), CtImage(own_array(hu), grid))
    for name, (role, mask) in shapes.items():
        coverage = Coverage.from_dense(grid, np.broadcast_to(mask, grid.shape))
        case = edits.with_volume(case, Volume(name.lower(), name, role, edits.next_colour(case), coverage))
    return case


def main() -> int:
    """Print medians and worst cases; returns 1 if a budget is broken."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--full", action="store_true", help="on the thorax demonstration (slower to make)")
    full = parser.parse_args().full
    if full:
        from engine.dicom.demonstration import PlanDemonstration, plan_demonstration
        from engine.phantoms import make

        case = plan_demonstration(PlanDemonstration(make("thorax")))
    else:
        case = chest()
    with outlining(case) as (app, window):
        return measure(app, window)


def measure(app: QApplication, window: object) -> int:
    """Take all measures on an open window."""
    stage = window.stage  # type: ignore[attr-defined]
    view = stage.view_of("z")
    outline = window.shelf.get("outline")  # type: ignore[attr-defined]
    print(f"view {view.width()} x {view.height()} px, image {stage.grid.shape}")
    centre = view.project(window.context.workspace.cursor_mm)  # type: ignore[attr-defined]
    outline.take("brush")
    window.context.settings.set("brush/radius_mm", 8.0)  # type: ignore[attr-defined]
    app.processEvents()

    def spiral(i: int) -> QPointF:
        return centre + QPointF(math.cos(i / 6) * (20 + i / 3), math.sin(i / 6) * (20 + i / 3))

    QTest.mousePress(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spiral(0).toPoint())
    app.processEvents()
    brush = timed(app, lambda i: QTest.mouseMove(view, spiral(i).toPoint()), 200)
    begin = time.perf_counter()
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spiral(200).toPoint())
    app.processEvents()
    release = (time.perf_counter() - begin) * 1e3
    outline.take("look")
    app.processEvents()
    slices = timed(app, lambda i: stage.walk("z", 1 if i % 20 < 10 else -1), 100)
    levels = timed(app, lambda i: stage.set_levels(40 + i % 7, 400 + i % 11), 60)
    cursor = timed(app, lambda i: QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=spiral(i).toPoint()), 60)
    lay_over(window)
    second = timed(app, lambda i: stage.walk("z", 1 if i % 20 < 10 else -1), 100)
    named = ("brush", brush), ("slice", slices), ("window", levels), ("cursor", cursor), ("second", second)
    for name, times in named:
        ordered = sorted(times)
        print(f"{name:8} median {statistics.median(times):6.2f} ms   95 % {ordered[int(len(ordered) * 0.95)]:6.2f} ms"
              f"   worst {ordered[-1]:6.2f} ms")  # fmt: skip
    print(f"release  {release:6.2f} ms (one edit)")
    drawn = sampling()
    print(f"sampling and colouring 512 x 512 of a second image {drawn:6.2f} ms")
    if drawn > SECOND_MS:
        return 1
    return int(statistics.median(brush) > BRUSH_MS or statistics.median(slices) > SLICE_MS)


def oblique() -> SecondImage:
    """Return a second image of 256 x 256 x 120, turned by 5 degrees, as large as a head and neck."""
    values = np.random.default_rng(1).integers(0, 900, (120, 256, 256)).astype("<i2")
    c, s = math.cos(math.radians(5)), math.sin(math.radians(5))
    affine = (c, -s, 0.0, -128.0, s, c, 0.0, -128.0, 0.0, 0.0, 2.0, -120.0)
    return SecondImage("second", "Oblique", "MR", own_array(values), affine)


def lay_over(window: object) -> None:
    """Lay the second image over the open case and show it."""
    workspace = window.context.workspace  # type: ignore[attr-defined]
    workspace.edit("Lay over", with_second_image(workspace.case, oblique()))


def sampling() -> float:
    """Return the median milliseconds for one plane of 512 x 512 that lies wholly inside."""
    from app.views.second_layers import table
    from engine.image.second_kernels import colours

    image, pixels, times = oblique(), np.empty((512, 512), dtype=np.uint32), []
    for i in range(30):
        begin = time.perf_counter()
        values = image.on_plane((-90.0, -90.0, i / 3), (0.35, 0.0, 0.0), (0.0, 0.35, 0.0), 512, 512)
        colours(values, 0.0, 900.0, table("MR"), np.uint32(0xFF000000), pixels)
        times.append((time.perf_counter() - begin) * 1e3)
    return statistics.median(times)


if __name__ == "__main__":
    raise SystemExit(main())
