from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.evaluation.samples import CAP, density_of_points, samples
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of

GRID = grid_of((100, 100, 100), 2.0)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000), st.sampled_from([50, 700, 5000, 60_000]))
def test_shares_sum_to_one_and_planes_keep_theirs(seed: int, cap: int) -> None:
    rng = np.random.default_rng(seed)
    image = grid_of((12, 10, 9), (1.0, 1.0, 3.0))
    data = (rng.random(image.shape) * 256 * (rng.random(image.shape) > 0.5)).astype(np.uint8)
    data[1] = 0
    data[0, 0, 0] = 255
    coverage = Coverage.from_dense(image, data)
    where = samples(coverage, GRID, cap)
    assert where.share.sum(dtype=float) == pytest.approx(1, abs=1e-5)
    assert where.covered == pytest.approx(1, abs=1e-6)
    total = sum(a for _, a in coverage.areas_mm2)
    for (plane, area), kept, a, b in zip(coverage.areas_mm2, where.planes, where.offsets, where.offsets[1:]):
        assert plane == kept
        assert where.share[a:b].sum(dtype=float) == pytest.approx(area / total, abs=1e-5)
        z = GRID.point(where.index[a:b].astype(float))[:, 2]
        assert np.abs(z - image.z_mm[plane]).max() <= image.spacing_mm[2] / 2 + 1e-4


def test_points_fill_the_slab_evenly() -> None:
    image = grid_of((40, 40, 6), (1.0, 1.0, 3.0))
    coverage = coverage_of(image, lambda x, y, z: (x == x) & (y == y))
    for cap in (2000, 100_000):
        where = samples(coverage, GRID, cap)
        xyz = GRID.point(where.index.astype(float))
        for axis, half in enumerate((20, 20, 3)):
            got = np.sort(xyz[:, axis])
            even = (np.arange(len(got)) + 0.5) / len(got) * 2 * half - half
            assert np.abs(got - even).max() < 0.05 * 2 * half


@pytest.mark.parametrize("cap", [200_000, 1500, 200])
def test_partly_covered_pixels_are_sampled_on_their_covered_side(cap: int) -> None:
    """A half space whose edge runs through pixels: no point may lie far beyond it, and the mean is that of the solid."""
    image = grid_of((40, 40, 8), (2.0, 2.0, 2.0))
    coverage = coverage_of(image, lambda x, y, z: 0.6 * x + 0.8 * y <= 3.3, 16)
    where = samples(coverage, GRID, cap)
    xyz = GRID.point(where.index.astype(float))
    beyond = 0.6 * xyz[:, 0] + 0.8 * xyz[:, 1] - 3.3
    assert (where.share * np.maximum(beyond, 0)).sum() < 0.01
    assert beyond[where.share > 0.1 * where.share.max()].max() < 0.75


def test_same_points_every_time() -> None:
    coverage = coverage_of(grid_of((20, 20, 20), 1.0), lambda x, y, z: x * x + y * y <= 64)
    one = samples(coverage, GRID)
    samples.cache_clear()
    assert (samples(coverage, GRID).index == one.index).all()


def test_count_stays_near_the_cap() -> None:
    for pixels in (1, 50, 3000, 40_000, 60_001, 900_000, 20_000_000):
        for spacing in ((1.0, 1.0, 3.0), (0.5, 0.5, 1.0), (2.0, 2.0, 5.0)):
            fine, block, along = density_of_points(pixels, spacing, CAP)
            assert pixels * fine**2 * along / block**2 <= CAP * 1.01
    assert density_of_points(50, (1.0, 1.0, 3.0), CAP) == (3, 1, 5)
