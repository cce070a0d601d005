from __future__ import annotations

import numpy as np
import pytest

from engine.evaluation.sampling_kernels import blocks, gather, refined
from tests.support.shapes import dose_of


def test_gather_is_trilinear_up_to_the_border() -> None:
    dose = dose_of(lambda x, y, z: 1 + 2 * x + 3 * y - z, 10, 2)
    at = np.random.default_rng(0).uniform(0, 4, (200, 3)).astype(np.float32)
    out = np.empty(200, np.float32)
    gather(dose.gy, at, out)
    x, y, z = dose.grid.point(at.astype(float)).T
    assert out == pytest.approx(1 + 2 * x + 3 * y - z, abs=1e-4)
    flat = np.full((1, 1, 3), 5, np.float32)
    gather(flat, np.array([[0, 0, 1.5]], np.float32), out[:1])
    assert out[0] == 5


def test_painted_share_is_kept() -> None:
    alpha = np.random.default_rng(1).integers(0, 256, (9, 7)).astype(np.uint8)
    alpha[3:5] = 0
    for points, weight in (
        refined(alpha, 1, 2, 0),
        refined(alpha, 3, 4, 5),
        blocks(alpha, 2, 1, 0),
        blocks(alpha, 4, 3, 9),
    ):
        assert len(points) == len(weight)
        assert (weight > 0).all()
        assert weight.sum(dtype=float) == pytest.approx(alpha.sum() / 255, rel=1e-5)
        assert points[:, 1].min() >= -0.5
        assert points[:, 2].max() <= 6.5
        assert np.abs(points[:, 0]).max() <= 0.5


def test_nothing_painted_gives_no_points() -> None:
    empty = np.zeros((3, 3), np.uint8)
    assert len(refined(empty, 3, 3, 0)[1]) == len(blocks(empty, 2, 1, 0)[1]) == 0
