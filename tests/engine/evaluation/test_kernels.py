from __future__ import annotations

import numpy as np
import pytest

from engine.evaluation.kernels import add, add_two, block_tops, combine, gathered, sort_voxels

RNG = np.random.default_rng(4)


def test_sums() -> None:
    per_beam, out = RNG.random((3, 50)).astype(np.float32), np.full(50, 9, np.float32)
    combine(per_beam, np.array([2.0, 0.0, 3.0]), out)
    assert out == pytest.approx(2 * per_beam[0] + 3 * per_beam[2], rel=1e-6)
    add(per_beam[1], 4.0, out)
    assert out == pytest.approx(2 * per_beam[0] + 4 * per_beam[1] + 3 * per_beam[2], rel=1e-6)
    plane = np.zeros((5, 10), np.float32)
    first, second = (b.reshape(5, 10) for b in per_beam[:2])
    add_two(first, second, 0.25, 0.75, plane)
    assert plane == pytest.approx(0.25 * first + 0.75 * second, rel=1e-6)


def test_histogram_keeps_weight_mean_and_ends() -> None:
    dose, share = RNG.gamma(2, 10, 5000).astype(np.float32), RNG.random(5000).astype(np.float32)
    low, high, steps, weight = gathered(dose, share, 300)
    assert (low, high) == (dose.min(), dose.max())
    assert (np.diff(steps) > 0).all()
    assert weight.sum() == pytest.approx(share.sum(dtype=float))
    assert (steps * weight).sum() == pytest.approx((dose.astype(float) * share).sum())
    same = gathered(np.full(10, 3, np.float32), np.ones(10, np.float32), 300)
    assert list(same[2]) == [3]


def test_tops_of_blocks() -> None:
    gy, mask = RNG.random((5, 6, 9)).astype(np.float32), RNG.random((5, 6, 9)) > 0.4
    tops = block_tops(gy, mask, 4).reshape(2, 2, 3)
    for k, r, c in np.ndindex(2, 2, 3):
        box = (slice(4 * k, 4 * k + 4), slice(4 * r, 4 * r + 4), slice(4 * c, 4 * c + 4))
        inside = gy[box][mask[box]]
        assert tops[k, r, c] == (inside.max() if inside.size else -1)


def test_voxels_away_from_the_surface_are_sure() -> None:
    gy = np.zeros((9, 9, 9), np.float32)
    gy[2:7, 2:7, 2:7] = 1
    sure, split = sort_voxels(gy, np.ones(gy.shape, bool), np.float32(0.5))
    assert sure == 27
    assert len(split) == 7**3 - 27
