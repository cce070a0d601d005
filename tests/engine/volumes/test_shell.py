"""Surfaces of shapes whose area and volume are known."""

from __future__ import annotations

import numpy as np
import pytest

from engine.volumes.coverage import Coverage
from engine.volumes.shell import ShellRequest, make_shell
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((80, 80, 80), (1.0, 1.0, 2.0))
CENTRE = np.array((5.0, -4.0, 6.0))
BALL = coverage_of(GRID, lambda x, y, z: (x - CENTRE[0]) ** 2 + (y - CENTRE[1]) ** 2 + (z - CENTRE[2]) ** 2 <= 625, fine=3)


@pytest.mark.parametrize("cell", [1.0, 3.0, 4.0])
def test_a_ball_has_its_place_volume_and_normals(cell: float) -> None:
    made = make_shell(ShellRequest(BALL, cell))
    a, b, c = (made.points_mm[made.triangles[:, n]].astype(float) for n in range(3))
    radius = np.linalg.norm(made.points_mm - CENTRE, axis=1)
    assert radius.mean() == pytest.approx(25, abs=0.6)
    volume = abs(np.einsum("ij,ij->", a - CENTRE, np.cross(b - CENTRE, c - CENTRE))) / 6
    assert volume == pytest.approx(4 / 3 * np.pi * 25**3, rel=0.06)
    outwards = np.einsum("ij,ij->i", (a + b + c) / 3 - CENTRE, made.normals)
    assert (outwards > 0).mean() > 0.99


def test_nothing_painted_has_no_triangles_and_one_slice_has_some() -> None:
    assert len(make_shell(ShellRequest(Coverage(GRID))).triangles) == 0
    slab = coverage_of(GRID, lambda x, y, z: (np.hypot(x, y) < 20) & (abs(z - 1.0) < 0.5), fine=2)
    made = make_shell(ShellRequest(slab, 1.0))
    assert len(made.triangles) > 100
    assert np.ptp(made.points_mm[:, 2]) == pytest.approx(2.0, abs=0.1)


def test_kernels_loaded_ahead_are_those_that_are_used() -> None:
    """What the screen thread calls must not compile anew."""
    from engine.volumes import shell
    from engine.volumes.shell_kernels import draw

    shell.warm_up()
    before = len(draw.signatures)
    made = make_shell(ShellRequest(BALL))
    depth, image = np.full((9, 9), np.inf, dtype=np.float32), np.zeros((9, 9, 3), dtype=np.uint8)
    light = np.ones(len(made.triangles), dtype=np.float32)
    draw(made.points_mm.astype(np.float32), made.triangles, light, np.ones(3), depth, image)
    assert len(draw.signatures) == before
