"""Slices between painted ones."""

from itertools import pairwise

import numpy as np
import pytest

from engine.volumes.between import interpolate
from engine.volumes.coverage import Coverage
from engine.volumes.margins import union
from tests.support.solids import cube_grid, cylinder, stacked

GRID = cube_grid(45, 1.0, 2.0)


def every(coverage, step):
    return Coverage(coverage.grid, tuple(t for i, t in enumerate(coverage.tiles) if i % step == 0))


def test_a_cone_is_exact_and_painted_slices_stay():
    cone = stacked(GRID, lambda z: 15 + z / 4 if -31 < z < 31 else 0, lambda z: (0.3, 0.1))
    sparse = every(cone, 5)
    found = interpolate(sparse)
    assert found.planes == cone.planes
    assert all(found.tile(t.plane) is t for t in sparse.tiles)
    true = dict(cone.areas_mm2)
    for plane, area in found.areas_mm2:
        # 0.06 mm in radius: what linear interpolation of the half-level line allows at 1 mm pixels.
        assert np.sqrt(area / np.pi) == pytest.approx(np.sqrt(true[plane] / np.pi), abs=0.06)


def test_a_slanting_tube_keeps_about_its_area():
    tube = stacked(GRID, lambda z: 12.0 if abs(z) < 11 else 0, lambda z: (0.4 * z, 0.0))
    true = np.pi * 144
    for _, area in interpolate(every(tube, 3)).areas_mm2:
        assert area == pytest.approx(true, rel=0.05)


def test_a_thin_slanting_vessel_does_not_vanish():
    vessel = stacked(GRID, lambda z: 4.0 if abs(z) < 21 else 0, lambda z: (1.5 * z, 0.0))
    found = interpolate(every(vessel, 4))
    assert found.planes == vessel.planes[: len(found.planes)]
    for plane, area in found.areas_mm2:
        assert area == pytest.approx(np.pi * 16, rel=0.06)
        x, y, _ = Coverage(GRID, (found.tile(plane),)).centroid_mm()
        assert x == pytest.approx(1.5 * GRID.z_mm[plane], abs=0.6)
        assert y == pytest.approx(0, abs=0.1)


def test_branches_part():
    low = cylinder(GRID, 22, 45)
    arms = union(cylinder(GRID, 8, 45, (-14.0, 0.0)), cylinder(GRID, 8, 45, (14.0, 0.0)))
    both = Coverage(GRID, (low.tile(10), arms.tile(18)))
    found = interpolate(both)
    assert found.planes == tuple(range(10, 19))
    areas = [a for _, a in found.areas_mm2]
    assert all(a >= b for a, b in pairwise(areas))
    assert found.slice(17)[45, 31] == 255
    assert found.slice(17)[45, 45] == 0


def test_nothing_to_do():
    whole = cylinder(GRID, 10, 20)
    assert interpolate(whole) is whole
    assert interpolate(Coverage(GRID)).is_empty
