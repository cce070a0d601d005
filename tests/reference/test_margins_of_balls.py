"""Margins of balls at every place of their surface, from their poles to their widest slice.

What the slices can tell. A ball cut at planes is known from them: area / pi is R^2 - (z - z0)^2, so that three cuts give
centre and radius, and an area known to 1 / 255 of its rim pixels gives r to well under 0.01 mm. But only for a ball. If the
shape may be anything, its end lies somewhere between the last slice and the next, half a spacing (1.5 mm of 3 mm) about the
middle, and no method can do better: that is shown below with two solids of the same slices. Margins take what ends to
taper as a ball does if its areas do so (``engine.volumes.levels``), and are held to 0.2 mm where that is true.

Outlines of fewer than three pixels' radius are themselves not known to 0.2 pixel; balls shrunk to 2 mm are held to 0.25 mm.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from engine.volumes.coverage import Coverage
from engine.volumes.margins import equal, grow, shrink
from engine.volumes.outline import slice_outlines_mm
from tests.reference.table import held
from tests.support.solids import cube_grid, sphere, stacked

SUBJECT = "Volumes of solids"
RADII_MM = (5.0, 7.0, 10.0, 15.0, 20.0, 30.0, 40.0)
MARGINS_MM = (2.0, 3.0, 8.0, 15.0)
PLANES_MM = (1.0, 2.5, 3.0)
PHASES = {1.0: (0.15,), 2.5: (0.0, 0.3), 3.0: (0.15, 0.5)}


def furthest_mm(made: Coverage, radius: float, centre: tuple[float, float, float]) -> float:
    """Return the largest way of any place of the lines from the sphere, and of the sphere's poles beyond the last line."""
    worst = 0.0
    for k in range(made.grid.shape[0]):
        z = float(made.grid.z_mm[k]) - centre[2]
        lines = slice_outlines_mm(made, k)
        off = [np.hypot(np.hypot(p[:, 0] - centre[0], p[:, 1] - centre[1]), z) - radius for p in lines]
        if not lines and abs(z) < radius:
            off = [np.array([abs(z) - radius])]
        for o in off:
            worst = max(worst, float(o.max()), float(-o.min()), key=abs)
    return worst


@pytest.mark.parametrize("plane_mm", PLANES_MM)
@pytest.mark.parametrize("sign", [1, -1], ids=["grown", "shrunk"])
def test_every_place_of_a_ball_is_where_its_margin_says(plane_mm, sign):
    found, tolerance, names = [], [], []
    for radius in RADII_MM:
        for margin in MARGINS_MM:
            end = radius + sign * margin
            if end < 2.0:
                continue
            worst = 0.0
            for phase in PHASES[plane_mm]:
                half = math.ceil((max(radius, end) + 4) / plane_mm) * plane_mm
                centre = (0.2, 0.1, phase * plane_mm)
                ball = sphere(cube_grid(half, 1.0, plane_mm), radius, centre)
                worst = max(worst, furthest_mm((grow if sign > 0 else shrink)(ball, equal(margin)), end, centre))
            found.append(worst)
            tolerance.append(0.2 if end >= 3.0 else 0.25)
            names.append(f"{radius:g} {sign * margin:+g} mm")
    what = "grown" if sign > 0 else "shrunk"
    held(
        *(SUBJECT, f"every place of balls {what}, pixels of 1 mm, slices of {plane_mm:g} mm", found, np.zeros(len(found))),
        tol=tolerance, source="a sphere about the same centre", known="exact", unit=" mm", at=names,
    )  # fmt: skip


def test_the_end_of_any_shape_is_not_in_its_slices():
    """A ball, and the ball cut flat just above its last slice: the same slices, poles 2.9 mm apart, 1.45 mm from either."""
    grid = cube_grid(24, 1.0, 3.0)
    ball = sphere(grid, 16.4, (0.0, 0.0, 0.0))
    last = float(grid.z_mm[ball.planes[-1]])
    flat = stacked(grid, lambda z: math.sqrt(max(0.0, 16.4**2 - z * z)) if abs(z) <= last + 0.01 else 0.0)
    assert ball == flat
    assert 16.4 - (last + 0.01) > 2.8
