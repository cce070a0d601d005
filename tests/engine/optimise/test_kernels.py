"""The compiled loop against the same in plain arrays."""

from __future__ import annotations

import numpy as np
import pytest

from engine.optimise.kernels import demands_of_points, squares


def test_value_and_gradient_are_those_of_plain_arrays() -> None:
    rng = np.random.default_rng(1)
    rows, x = rng.random((50, 4)).astype(np.float32), rng.random(4)
    counts = rng.random((2, 50)).astype(np.float32)
    counts[0, :20] = 0
    side, limit, weight = np.array([1.0, -1.0]), np.array([0.9, 1.2]), np.array([1.0, 0.3])
    gradient = np.ones(4)
    value = demands_of_points(rows, x, counts, side, limit, weight, gradient)
    gy = rows.astype(np.float64) @ x
    off = np.maximum(0, side[:, None] * (gy / limit[:, None] - 1))
    assert value == pytest.approx((weight[:, None] * counts * off**2).sum(), rel=1e-9)
    push = (2 * weight[:, None] * counts * off * side[:, None] / limit[:, None]).sum(axis=0)
    assert gradient == pytest.approx(1 + push @ rows, rel=1e-9)


def test_squares_are_counted_means() -> None:
    rng = np.random.default_rng(2)
    rows, counts = rng.random((30, 3)).astype(np.float32), rng.random(30).astype(np.float32)
    out = np.zeros(3)
    squares(rows, counts, out)
    assert out == pytest.approx(counts.astype(np.float64) @ rows.astype(np.float64) ** 2, rel=1e-9)
