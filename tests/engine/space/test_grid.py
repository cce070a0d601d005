"""Grids: index and point are inverse, bounds are faces, boxes are covered."""

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.space.grid import Grid

GRID = Grid((-10, 5, 100), (1, 2, 3), (4, 5, 6))


def test_index_and_point_are_inverse_and_ordered():
    assert GRID.point((0, 0, 0)).tolist() == [-10, 5, 100]
    assert GRID.point((1, 2, 3)).tolist() == [-7, 9, 103]
    points = np.random.default_rng(0).normal(size=(7, 2, 3)) * 50
    assert np.allclose(GRID.point(GRID.index(points)), points)


def test_bounds_are_outer_faces_and_the_centre_lies_between():
    assert GRID.bounds_mm == ((-10.5, 4.0, 98.5), (-4.5, 14.0, 110.5))
    assert GRID.centre_mm == (-7.5, 9.0, 104.5)
    assert GRID.contains((-10.5, 4, 98.5))
    assert not GRID.contains((-10.6, 5, 100))


def test_axes_volume_and_planes():
    assert GRID.x_mm.tolist() == [-10, -9, -8, -7, -6, -5]
    assert len(GRID.y_mm) == 5
    assert len(GRID.z_mm) == 4
    assert GRID.voxel_cm3 == pytest.approx(0.006)
    assert [GRID.plane_at(z) for z in (-1e6, 101, 102, 1e6)] == [0, 0, 1, 3]


def test_covering_encloses_the_box():
    cover = GRID.covering((0, 0, 0), (10, 7, 5), 2.5)
    lo, hi = cover.bounds_mm
    assert cover.shape == (2, 3, 4)
    assert np.all(np.array(lo) <= 1e-9)
    assert np.all(np.array(hi) >= np.array((10, 7, 5)) - 1e-9)


@pytest.mark.parametrize(
    "bad", [((0, 0, 0), (1, 0, 1), (1, 1, 1)), ((0, 0, np.nan), (1, 1, 1), (1, 1, 1)), ((0, 0, 0), (1, 1, 1), (0, 1, 1))]
)
def test_impossible_grids_cannot_exist(bad):
    with pytest.raises(GeometryError):
        Grid(*bad)
