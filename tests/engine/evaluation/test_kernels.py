from __future__ import annotations

import numpy as np
import pytest

from engine.evaluation.kernels import add, binned, block_tops, bounds, combine, raise_by, raised, sort_voxels, thinned

RNG = np.random.default_rng(4)


def test_sums() -> None:
    per_beam, out = RNG.random((3, 50)).astype(np.float32), np.full(50, 9, np.float32)
    combine(per_beam, np.array([2.0, 0.0, 3.0]), out)
    assert out == pytest.approx(2 * per_beam[0] + 3 * per_beam[2], rel=1e-6)
    add(per_beam[1], 4.0, out)
    assert out == pytest.approx(2 * per_beam[0] + 4 * per_beam[1] + 3 * per_beam[2], rel=1e-6)


def test_a_move_is_added_to_what_stands_still() -> None:
    rest, gy, out = RNG.random(50), RNG.random(50).astype(np.float32), np.empty(50, np.float32)
    wanted = rest + 1.5 * gy.astype(float)
    raised(rest, gy, 1.5, out)
    assert out == pytest.approx(wanted, rel=1e-6)
    raise_by(gy, 1.5, rest)
    assert rest == pytest.approx(wanted, rel=1e-15)


@pytest.mark.parametrize("least", [0.0, 7.0, -3.0])
def test_histogram_keeps_weight_mean_and_ends(least: float) -> None:
    dose, share = (least + RNG.gamma(2, 10, 5000)).astype(np.float32), RNG.random(5000).astype(np.float32)
    points, below, mean = binned(dose, share, 300)
    assert (points[0], points[-1]) == (dose.min(), dose.max())
    assert (below[0], below[-1]) == (0, 1)
    assert (np.diff(points) >= 0).all()
    assert (np.diff(below) > 0).all()
    assert mean == pytest.approx(np.average(dose.astype(float), weights=share.astype(float)))
    for gy in np.quantile(dose, [0.1, 0.5, 0.9]):
        step = (dose.max() - dose.min()) / 300
        low, high = ((share[dose < g].sum() / share.sum()) for g in (gy - step, gy + step))
        assert low <= np.interp(gy, points, below) <= high


def test_thinned_curve_lies_on_the_curve() -> None:
    dose = np.sort(RNG.gamma(2, 10, 900)).round(1)
    below = np.concatenate(([0.0], np.sort(RNG.random(898)), [1.0]))
    gy, percent = thinned(dose, below, 150)
    assert (gy[0], percent[0], gy[-1], percent[-1]) == (0, 100, dose[-1], 0)
    assert gy[1:-1] == pytest.approx(np.linspace(dose[0], dose[-1], 150))
    sure = ~np.isin(gy[1:-1].round(9), dose.round(9))
    assert percent[1:-1][sure] == pytest.approx(100 - 100 * np.interp(gy[1:-1], dose, below)[sure], abs=1e-9)
    assert (np.diff(percent) <= 0).all()


def test_histogram_of_one_dose() -> None:
    points, below, mean = binned(np.full(10, 3, np.float32), np.ones(10, np.float32), 300)
    assert (points.tolist(), below.tolist(), mean) == ([3, 3, 3], [0, 0.5, 1], 3)


def test_tops_of_blocks() -> None:
    gy, mask = RNG.random((5, 6, 9)).astype(np.float32), RNG.random((5, 6, 9)) > 0.4
    tops = block_tops(gy, mask, 4).reshape(2, 2, 3)
    for k, r, c in np.ndindex(2, 2, 3):
        box = (slice(4 * k, 4 * k + 4), slice(4 * r, 4 * r + 4), slice(4 * c, 4 * c + 4))
        inside = gy[box][mask[box]]
        assert tops[k, r, c] == (inside.max() if inside.size else -1)


def test_bounds_of_blocks() -> None:
    tops = RNG.random((3, 40)).astype(np.float32)
    tops[:, 7] = -1.0
    out = np.empty(40, np.float32)
    where = bounds(tops, np.array([2.0, 0.0, 3.0]), out)
    sums = 2.0 * tops[0].astype(float) + 3.0 * tops[2]
    assert out[7] == -1
    inside = np.arange(40) != 7
    assert (out[inside] >= sums[inside]).all()
    assert out[inside] == pytest.approx(sums[inside], rel=1e-5)
    assert where == int(np.argmax(out))


def test_voxels_away_from_the_surface_are_sure() -> None:
    gy = np.zeros((9, 9, 9), np.float32)
    gy[2:7, 2:7, 2:7] = 1
    sure, split = sort_voxels(gy, np.ones(gy.shape, bool), np.float32(0.5))
    assert sure == 27
    assert len(split) == 7**3 - 27
