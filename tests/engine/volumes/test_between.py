"""Slices between painted ones."""

from itertools import pairwise

import numpy as np
import pytest

from engine.volumes.between import interpolate
from engine.volumes.coverage import Coverage
from engine.volumes.margins import subtract, union
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


@pytest.mark.parametrize(("radius", "way"), [(12.0, 9.0), (12.0, 22.0), (20.0, 7.3), (5.0, 30.0)])
def test_a_disc_beside_an_equal_disc_stays_a_disc_on_the_line_between(radius, way):
    """A sum of distances alone would make ellipses of them: half-way the axes r and sqrt(r^2 - way^2 / 4)."""
    low, high = cylinder(GRID, radius, 45, (-way / 2, 2.0)), cylinder(GRID, radius, 45, (way / 2, -1.5))
    found = interpolate(Coverage(GRID, (low.tile(10), high.tile(16))))
    assert found.planes == tuple(range(10, 17))
    for tile in found.tiles:
        one, t = Coverage(GRID, (tile,)), (tile.plane - 10) / 6
        assert np.sqrt(one.areas_mm2[0][1] / np.pi) == pytest.approx(radius, abs=0.08)
        assert one.centroid_mm()[:2] == pytest.approx(((t - 0.5) * way, 2 - 3.5 * t), abs=0.06)


def test_a_leaning_cone_is_exact():
    cone = stacked(GRID, lambda z: 15 + z / 5 if -31 < z < 31 else 0, lambda z: (0.3 + 0.45 * z, 0.1 - 0.2 * z))
    true = {t.plane: Coverage(GRID, (t,)) for t in cone.tiles}
    for tile in interpolate(every(cone, 6)).tiles:
        one, wanted = Coverage(GRID, (tile,)), true[tile.plane]
        radius = np.sqrt(wanted.areas_mm2[0][1] / np.pi)
        assert np.sqrt(one.areas_mm2[0][1] / np.pi) == pytest.approx(radius, abs=0.08)
        assert one.centroid_mm() == pytest.approx(wanted.centroid_mm(), abs=0.08)


def test_a_hole_goes_on_between():
    wall = subtract(stacked(GRID, lambda z: 20 + z / 6), stacked(GRID, lambda z: 9 - z / 9))
    found = interpolate(Coverage(GRID, (wall.tile(10), wall.tile(16))))
    for plane, area in found.areas_mm2:
        assert area == pytest.approx(dict(wall.areas_mm2)[plane], rel=0.015)
        assert found.slice(plane)[45, 45] == 0


def test_a_second_piece_that_ends_does_not_move_the_first():
    first = cylinder(GRID, 6, 45, (-25.0, 0.0))
    both = union(first, cylinder(GRID, 8, 45, (25.0, 0.0)))
    found = interpolate(Coverage(GRID, (both.tile(10), first.tile(16))))
    for plane in range(11, 16):
        off = found.slice(plane)[:, :35].astype(int) - first.slice(plane)[:, :35]
        assert np.abs(off).max() <= 40  # of 255, in single pixels of the rim
        assert abs(off.sum()) <= 255


def test_nothing_to_do():
    whole = cylinder(GRID, 10, 20)
    assert interpolate(whole) is whole
    assert interpolate(Coverage(GRID)).is_empty
