from __future__ import annotations

from collections import OrderedDict

import numpy as np
import pytest

from engine.base.values import own_array
from engine.evaluation.summing import Cuts, highest, inside_mask, plane_sum, tops_of, whole_sum
from engine.space.grid import Grid
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of


def test_whole_sum() -> None:
    rng = np.random.default_rng(2)
    doses = [rng.random((7, 50, 60)).astype(np.float32) for _ in range(6)]
    factors = [1.0, 0.0, 2.5, 3.0, 1e-3, 7.0]
    assert whole_sum(doses, factors) == pytest.approx(sum(f * d for f, d in zip(factors, doses)), rel=1e-5)


@pytest.mark.parametrize("seed", range(8))
def test_highest_is_found_without_summing_everything(seed: int) -> None:
    rng = np.random.default_rng(seed)
    shape = (9, 14, 23)
    doses = [rng.random(shape).astype(np.float32) for _ in range(4)]
    mask = rng.random(shape) > (0.5 if seed % 2 else 0.98)
    factors = rng.random(4) * (rng.random(4) > 0.3)
    tops = tops_of(doses, mask)
    where, gy = highest(doses, factors, tops, mask)
    total = np.where(mask, sum(np.float32(f) * d for f, d in zip(factors, doses)), -1)
    assert gy == pytest.approx(total.max(), rel=1e-6)
    assert total[where] == pytest.approx(gy, rel=1e-6)


def test_plateau_and_empty_mask() -> None:
    flat = np.ones((40, 40, 40), np.float32)
    mask = np.zeros(flat.shape, bool)
    assert highest([flat], [1.0], tops_of([flat], mask), mask) is None
    mask[33, 5, 7] = True
    assert highest([flat], [2.0], tops_of([flat], mask), mask) == ((33, 5, 7), 2.0)
    assert highest([flat], [0.0], tops_of([flat], mask), mask) == ((33, 5, 7), 0.0)


def test_highest_of_a_wide_plateau_that_no_bound_shows() -> None:
    # Each beam is highest elsewhere in its block, so every bound is far above every sum.
    even, odd = (np.indices((40, 40, 40)).sum(axis=0) % 2 == n for n in (0, 1))
    doses = [np.where(at, 1.0, 0.25).astype(np.float32) for at in (even, odd)]
    doses[0][17, 8, 31] = 1.125
    mask = np.ones(even.shape, bool)
    where, gy = highest(doses, [1.0, 1.0], tops_of(doses, mask), mask)
    assert (where, gy) == ((17, 8, 31), pytest.approx(1.375))


def test_mask_of_a_volume_on_another_grid() -> None:
    coverage = coverage_of(grid_of((40, 40, 40), (1.0, 1.0, 2.5)), lambda x, y, z: (x > 0) & (y < 5))
    grid = grid_of((60, 60, 60), 3.0)
    mask = inside_mask(coverage, grid)
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    wanted = (x > 0) & (x < 20) & (y < 5) & (y > -20) & (np.abs(z) < 20)
    sure = (np.abs(x) > 0.6) & (np.abs(y - 5) > 0.6) & (np.abs(np.abs(z) - 20) > 1) & (np.abs(np.abs(x) - 20) > 0.6)
    sure &= np.abs(y + 20) > 0.6
    assert (mask[sure] == wanted[sure]).all()
    assert inside_mask(None, grid).all()


def test_planes_that_are_kept_change_no_sum() -> None:
    rng = np.random.default_rng(5)
    grid = Grid((0.0, 0.0, 0.0), (2.0, 3.0, 4.0), (6, 7, 8))
    doses = tuple(own_array(rng.random(grid.shape, dtype=np.float32)) for _ in range(3))
    kept: Cuts = OrderedDict()
    for factors in ((1.0, 2.0, 0.0), (0.5, 0.0, 3.0)):
        for axis in "xyz":
            for position in (1.0, 5.5, 9.0, 100.0):
                again = plane_sum(doses, factors, grid, axis, position, kept)[0]
                assert np.array_equal(again, plane_sum(doses, factors, grid, axis, position)[0])
    assert len(kept) <= 8
