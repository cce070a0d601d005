"""The one representation of a volume."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import GeometryError
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage, Tile, crop_tile
from tests.support.solids import cube_grid, sphere

GRID = Grid((-3.0, 4.0, -10.0), (1.5, 2.0, 3.0), (5, 7, 6))


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0, 1))
def test_dense_round_trip(seed, share):
    rng = np.random.default_rng(seed)
    data = (rng.integers(0, 256, GRID.shape) * (rng.random(GRID.shape) < share)).astype(np.uint8)
    coverage = Coverage.from_dense(GRID, data)
    assert np.array_equal(coverage.dense(), data)
    assert all(np.array_equal(coverage.slice(k), data[k]) for k in range(5))
    assert coverage.volume_cm3 == pytest.approx(data.sum() / 255 * 0.009)
    assert Coverage(GRID).with_slices(enumerate(data)) == coverage
    assert sum(a for _, a in coverage.areas_mm2) * 3.0 / 1000 == pytest.approx(coverage.volume_cm3)


def test_replacing_a_slice_keeps_the_others():
    ball = sphere(cube_grid(15), 10)
    changed = ball.with_slice(12, np.zeros((30, 30), bool))
    assert 12 not in changed.planes
    assert all(changed.tile(t.plane) is t for t in ball.tiles if t.plane != 12)


def test_places():
    ball = sphere(cube_grid(20), 8, (3.0, -4.0, 1.0))
    assert ball.centroid_mm() == pytest.approx((3, -4, 1), abs=0.05)
    low, high = ball.bounds_mm()
    assert low == pytest.approx((-5, -12, -7), abs=1.01)
    assert high == pytest.approx((11, 4, 9), abs=1.01)
    empty = Coverage(GRID)
    assert empty.centroid_mm() is None
    assert empty.bounds_mm() is None
    assert empty.volume_cm3 == 0


def test_what_does_not_fit_is_refused():
    tile = crop_tile(4, np.ones((7, 6), bool))
    with pytest.raises(GeometryError):
        Coverage(GRID, (tile, tile))
    with pytest.raises(GeometryError):
        Coverage(GRID, (tile.but(plane=5),))
    with pytest.raises(GeometryError):
        Coverage.from_dense(GRID, np.zeros((1, 7, 6), bool))
    with pytest.raises(TypeError):
        crop_tile(0, np.ones((3, 3)))
    with pytest.raises(TypeError, match="writable"):
        Tile(0, 0, 0, np.ones((2, 2), np.uint8))
