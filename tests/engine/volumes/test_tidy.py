"""Tidying."""

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage
from engine.volumes.margins import subtract, union
from engine.volumes.outline import tile_outlines
from engine.volumes.tidy import copy_slice, fill_holes, remove_islands, smooth, threshold_in
from tests.support.solids import block, cube_grid, cylinder, sphere

GRID = cube_grid(30, 1.0, 3.0)


def edge_length(coverage):
    return sum(np.hypot(*(np.roll(p, -1, axis=0) - p).T).sum() for t in coverage.tiles for p in tile_outlines(t))


def test_smoothing_keeps_area_and_planes_and_shortens_a_rough_edge():
    rough = Coverage.from_dense(GRID, sphere(GRID, 20).dense() > np.random.default_rng(2).integers(1, 255, GRID.shape))
    ragged = union(rough, block(GRID, (15, -1, -10), (24, 1, 10)))
    soft = smooth(ragged, 2.0)
    assert soft.planes == ragged.planes
    assert soft.volume_cm3 == pytest.approx(ragged.volume_cm3, rel=0.001)
    assert edge_length(soft) < 0.95 * edge_length(ragged)


def test_smoothing_a_disc_leaves_it_nearly_alone():
    disc = cylinder(GRID, 15, 10, (0.3, 0.2))
    soft = smooth(disc, 2.0)
    assert np.abs(soft.dense().astype(int) - disc.dense()).max() < 25
    assert smooth(disc, 0) is disc
    with pytest.raises(GeometryError, match="0 and 20"):
        smooth(disc, 30)
    assert smooth(Coverage(GRID)).is_empty


def test_smoothing_at_the_rim_and_of_specks():
    rim = block(GRID, (-30, -30, -30), (0, 0, 30))
    assert smooth(rim).volume_cm3 == pytest.approx(rim.volume_cm3, rel=0.01)
    speck = np.zeros(GRID.shape, np.uint8)
    speck[4, 7, 7], speck[5, 9, 9] = 90, 255
    assert smooth(Coverage.from_dense(GRID, speck)).planes == (4, 5)


def test_holes_are_filled_to_the_brim():
    whole, hole = cylinder(GRID, 15, 10), cylinder(GRID, 5, 10, (2.0, 1.0))
    ring = subtract(whole, hole)
    assert np.abs(fill_holes(ring).dense().astype(int) - whole.dense()).max() == 0
    assert fill_holes(ring, largest_cm2=0.5) == ring
    assert fill_holes(whole) == whole
    assert fill_holes(Coverage(GRID)).is_empty


def test_a_notch_is_no_hole():
    notched = subtract(cylinder(GRID, 15, 10), block(GRID, (0, -2, -20), (30, 2, 20)))
    assert fill_holes(notched) == notched


def test_islands_go_by_size():
    large, small, tiny = sphere(GRID, 12), sphere(GRID, 5, (20.0, 0, 0)), sphere(GRID, 3, (-20.0, 0, 0))
    every = union(union(large, small), tiny)
    assert remove_islands(every) == large
    assert remove_islands(every, min_cm3=0.3) == union(large, small)
    assert remove_islands(large) is large
    assert remove_islands(every, min_cm3=100).is_empty
    assert remove_islands(Coverage(GRID)).is_empty


def test_copying_a_slice():
    ball = sphere(GRID, 12)
    copied = copy_slice(ball, 10, 2)
    assert np.array_equal(copied.slice(2), ball.slice(10))
    assert copied.tile(9) is ball.tile(9)
    assert 10 not in copy_slice(ball, 0, 10).planes
    assert copy_slice(ball, 10, 10) == ball
    with pytest.raises(GeometryError):
        copy_slice(ball, 10, 99)


def test_keeping_a_range_of_numbers():
    ball = sphere(GRID, 12)
    hu = np.zeros(GRID.shape, "<i2")
    hu[:, :, :30] = -800
    image = CtImage(own_array(hu), GRID)
    air = threshold_in(image, ball, -1000, -500)
    rest = threshold_in(image, ball, -499, 3000)
    assert union(air, rest) == ball
    assert air.volume_cm3 == pytest.approx(ball.volume_cm3 / 2, rel=1e-6)
    assert threshold_in(image, ball, 50, 60).is_empty
    with pytest.raises(GeometryError, match="nothing"):
        threshold_in(image, ball, 60, 50)
    with pytest.raises(GeometryError, match="grid"):
        threshold_in(image, sphere(cube_grid(10), 5), 0, 1)
