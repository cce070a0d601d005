"""Volumes of analytic solids through painting, polygons and outlines, and margins of balls, against closed forms.

Solids stand at 1 x 1 x 3 mm. A volume is the sum of slices by the slab rule: for one phase of the planes that rule itself
is off (a ball of R = N spacings by -1/(4 N^2) with a plane through its centre, +1/(8 N^2) with planes beside it), so that
a mean over phases is held to the solid, and each phase to the sum of the exact areas of its own slices.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.extent import change, ring
from engine.volumes.margins import equal, grow, shrink
from engine.volumes.outline import filled, slice_outlines_mm
from tests.reference.table import held, law
from tests.support.solids import cube_grid, sphere

SUBJECT = "Volumes of solids"
CLOSED = "closed forms of solid geometry"
PHASES = 0.25 + np.arange(6) / 2.0  # flat ends lie half-way between these planes, so that neither side is favoured
Lines = list[np.ndarray]


def grids() -> list[Grid]:
    return [cube_grid(48, 1.0, 3.0, float(p)) for p in PHASES]


def ellipse(x0: float, y0: float, a: float, b: float, z: float, n: int = 720) -> np.ndarray:
    """Return a polygon of n points with the area of the ellipse itself."""
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    wide = math.sqrt(2 * math.pi / n / math.sin(2 * math.pi / n))
    return np.column_stack((x0 + wide * a * np.cos(t), y0 + wide * b * np.sin(t), np.full(n, z)))


def ball_lines(grid: Grid) -> Lines:
    out = []
    for z in grid.z_mm.tolist():
        if abs(z) < 20:
            r = math.sqrt(400 - z * z)
            out.append(ellipse(0.3, -0.2, r, r, z))
    return out


def tilted_rod_lines(grid: Grid) -> Lines:
    """A rod of radius 9 mm leaning 30 degrees in the x-z plane, cut level at both ends, 60 mm high."""
    lean = math.radians(30)
    return [ellipse(z * math.tan(lean) + 0.15, 0.4, 9 / math.cos(lean), 9, z) for z in grid.z_mm.tolist() if -30 <= z < 30]


def tilted_cone_lines(grid: Grid) -> Lines:
    """An oblique cone, radius 24 mm at its base, 72 mm high, its apex 20 mm aside."""
    return [ellipse(20 * t, 0.0, 24 * (1 - t), 24 * (1 - t), z) for z in grid.z_mm.tolist() if 0 < (t := (z + 36) / 72) < 1]


def box_lines(grid: Grid) -> Lines:
    """A box of 30 x 18 x 48 mm turned by 25 degrees about z."""
    c, s = math.cos(math.radians(25)), math.sin(math.radians(25))
    corners = np.array([(-15, -9), (15, -9), (15, 9), (-15, 9)]) @ np.array([(c, s), (-s, c)])
    return [np.column_stack((corners, np.full(4, z))) for z in grid.z_mm.tolist() if -24 <= z < 24]


SOLIDS: dict[str, tuple[Callable[[Grid], Lines], float]] = {
    "ball of 20 mm": (ball_lines, 4 / 3 * math.pi * 8),
    "rod of 9 mm leaning 30 degrees": (tilted_rod_lines, math.pi * 81 / math.cos(math.radians(30)) * 60 / 1000),
    "oblique cone": (tilted_cone_lines, math.pi * 24**2 * 72 / 3 / 1000),
    "box turned 25 degrees": (box_lines, 30 * 18 * 48 / 1000),
}


def area(loop: np.ndarray) -> float:
    x, y = loop[:, 0], loop[:, 1]
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def again(coverage: Coverage) -> Coverage:
    """Return what comes back from the outlines of a volume."""
    return filled(coverage.grid, [c for k in coverage.planes for c in slice_outlines_mm(coverage, k)])


@pytest.mark.parametrize("way", ["polygons", "outlines of them"])
def test_solids_have_their_volume(way):
    found = []
    for lines_of, _ in SOLIDS.values():
        coverages = [filled(g, lines_of(g)) for g in grids()]
        if way != "polygons":
            coverages = [again(c) for c in coverages]
        found.append(np.mean([c.volume_cm3 for c in coverages]))
    held(
        SUBJECT, f"volume at 1 x 1 x 3 mm by {way}, mean of six phases", found, [v for _, v in SOLIDS.values()],
        source=CLOSED, known="exact", rel=0.005, unit=" cm³", digits=2, at=list(SOLIDS),
    )  # fmt: skip


def test_each_phase_has_the_sum_of_its_slices():
    worst = 0.0
    for lines_of, _ in SOLIDS.values():
        for g in grids():
            lines = lines_of(g)
            exact = sum(abs(area(loop)) for loop in lines) * 3 / 1000
            for coverage in (made := filled(g, lines), again(made)):
                worst = max(worst, abs(coverage.volume_cm3 / exact - 1))
    law(SUBJECT, "slab sums of polygons and of their outlines in every phase", 100 * worst, 0.5, source=CLOSED)


def test_the_slab_rule_is_off_by_its_own_formula():
    """R = 10 mm at 2.5 mm: -1/(4 N^2) with a plane through the centre, +1/(8 N^2) with planes beside it, N = 4."""
    found = []
    for shift in (1.25, 0.0):
        g = cube_grid(20, 0.5, 2.5, shift)
        found.append(100 * (sphere(g, 10).volume_cm3 / (4 / 3 * math.pi) - 1))
    held(
        SUBJECT, "slab rule of a ball of four spacings, plane in the centre and beside it", found, [-100 / 64, 100 / 128],
        source=CLOSED, known="exact", tol=0.05, unit=" %", digits=2, at=["centre", "beside"],
    )  # fmt: skip


def radius_of(volumes: list[float]) -> float:
    return (float(np.mean(volumes)) * 1000 * 3 / 4 / math.pi) ** (1 / 3)


def test_a_margin_of_a_ball_is_a_ball():
    cases = [(20, 5), (20, 8), (30, 8), (15, -5), (25, -8)]
    found = [radius_of([change(sphere(g, r, (0.2, 0.4, 0)), equal(m)).volume_cm3 for g in grids()]) for r, m in cases]
    held(
        SUBJECT, "radius of a ball after a margin at 1 x 1 x 3 mm, by volume", found, [r + m for r, m in cases],
        source="Steiner's formula for a ball", known="exact", tol=0.2, unit=" mm", digits=2,
        at=[f"{r} {m:+d} mm" for r, m in cases],
    )  # fmt: skip


def test_a_ring_has_the_volume_between_two_balls():
    """A shell between two balls."""
    wall = np.mean([ring(sphere(g, 18), -3, 7).volume_cm3 for g in grids()])
    held(
        SUBJECT, "wall from 3 mm inside to 4 mm outside a ball, mean of six phases", wall,
        4 / 3 * math.pi * (22**3 - 15**3) / 1000, source=CLOSED, known="exact", rel=0.01, unit=" cm³", digits=2,
    )  # fmt: skip


def test_shrinking_a_grown_ball_gives_the_ball_back():
    """A ball is round already: grown and shrunk by the same margin it is itself (a box is not)."""
    found = radius_of([shrink(grow(sphere(g, 20), equal(6)), equal(6)).volume_cm3 for g in grids()])
    held(SUBJECT, "radius of a ball grown and shrunk by 6 mm", found, 20.0, source="Minkowski sums of balls", known="exact",
         tol=0.2, unit=" mm", digits=2)  # fmt: skip
