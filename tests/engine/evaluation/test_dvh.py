"""How dose-volume curves behave; solids with closed forms stand in tests/reference/test_worked_dvh.py."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import EmptyVolume
from engine.evaluation.dvh import Dvh, dvh_of
from engine.evaluation.samples import doses_at, samples
from engine.volumes.coverage import Coverage
from tests.support.phantoms import grid_of
from tests.support.shapes import coverage_of, dose_of


def curve(coverage: Coverage, dose, cap: int = 60_000) -> Dvh:
    where = samples(coverage, dose.grid, cap)
    out = doses_at(dose.gy, where)
    return dvh_of(out, where)


def ball(radius: float, spacing=(1.0, 1.0, 2.0)) -> Coverage:
    grid = grid_of((2 * radius + 8,) * 3, spacing)
    return coverage_of(grid, lambda x, y, z: x * x + y * y + z * z <= radius * radius)


def test_share_and_volume_at_a_dose_are_one() -> None:
    dvh = curve(ball(25), dose_of(lambda x, y, z: 50 + 0.4 * z, 80, 2))
    assert dvh.v_cm3(55) == pytest.approx(dvh.v_share(55) * dvh.volume_cm3)
    assert dvh.d_gy(100 * dvh.v_share(55)) == pytest.approx(55, abs=0.01)


def test_the_differential_curve_holds_the_whole_volume_and_nothing_where_no_dose_is() -> None:
    gy, density = curve(ball(25), dose_of(lambda x, y, z: 50 + 0.4 * z, 80, 2)).differential(60)
    assert density[gy < 39].max() == 0
    assert (density * (gy[1] - gy[0])).sum() == pytest.approx(100)


def test_differential_of_one_dose_and_of_none() -> None:
    gy, density = curve(ball(10), dose_of(lambda x, y, z: 60 + 0 * x, 40, 2)).differential(30)
    assert density[:-1].max() == 0
    assert (gy[-1], density[-1]) == pytest.approx((59, 50)), "all of it in the last step of 2 Gy"
    assert curve(ball(10), dose_of(lambda x, y, z: 0 * x, 40, 2)).differential()[1] == pytest.approx([0])


def test_small_sphere_in_a_steep_gradient() -> None:
    """A sphere of 8 mm radius at 2 Gy/mm: D95 within 0.15 Gy, where one dose per pixel errs by 0.8 Gy."""
    dvh = curve(ball(8, (1.0, 1.0, 1.0)), dose_of(lambda x, y, z: 40 + 2 * x + 0 * y, 40, 2))
    assert dvh.volume_cm3 == pytest.approx(4 / 3 * np.pi * 0.512, rel=0.01)
    assert abs(dvh.d_gy(95) - (40 - 0.72930 * 16)) < 0.15
    assert abs(dvh.d_gy(2) - (40 + 0.83192 * 16)) < 0.15


@pytest.mark.parametrize("radius", [12, 25, 36])
def test_thinning_hardly_moves_the_tails(radius: float) -> None:
    """Within 0.1 %, or where the dose falls steeply within 0.1 mm (the field's steepest fall is 3.9 Gy/mm)."""
    coverage = ball(radius)
    dose = dose_of(lambda x, y, z: 60 / (1 + np.exp((x + 0.3 * y - 20) / 4)) + 0 * z, 96, 2)
    capped, full = curve(coverage, dose), curve(coverage, dose, 3_000_000)
    for percent in (98, 95, 50, 5, 2):
        gy = full.d_gy(percent)
        per_mm = 1.044 / 4 * gy * (1 - gy / 60)
        assert capped.d_gy(percent) == pytest.approx(gy, rel=1e-3, abs=0.1 * per_mm)
    for percent in (50, 5, 2):
        assert capped.d_gy(percent) == pytest.approx(full.d_gy(percent), rel=1e-3)


def test_uniform_dose_counts_as_reached() -> None:
    dvh = curve(ball(10), dose_of(lambda x, y, z: 60 + 0 * x, 40, 2))
    assert (dvh.min_gy, dvh.max_gy, dvh.d_gy(98)) == (60, 60, 60)
    assert dvh.mean_gy == pytest.approx(60, rel=1e-6)
    assert dvh.v_share(60) == 1
    assert dvh.v_share(60.001) == 0
    assert dvh.v_share(60.0001) == 1, "within the last digit of single precision"


def test_part_outside_the_dose_grid_is_reported() -> None:
    coverage = coverage_of(grid_of((20, 20, 20), 1.0), lambda x, y, z: np.abs(x + 0 * y) <= 10)
    dvh = curve(coverage, dose_of(lambda x, y, z: 10 + 0 * x, 10, 1))
    assert dvh.covered == pytest.approx(1 / 8, abs=0.01)
    assert dvh.volume_cm3 == pytest.approx(8.0)


def test_nothing_and_nowhere_are_refused() -> None:
    dose = dose_of(lambda x, y, z: 1 + 0 * x, 10, 1)
    with pytest.raises(EmptyVolume):
        samples(Coverage(grid_of((5, 5, 5), 1.0)), dose.grid)
    far = coverage_of(grid_of((5, 5, 5), 1.0, (100, 0, 0)), lambda x, y, z: np.abs(y + 0 * x) < 9)
    with pytest.raises(EmptyVolume):
        curve(far, dose)


def test_more_than_the_volume_is_refused() -> None:
    dvh = curve(ball(5), dose_of(lambda x, y, z: 1 + 0 * x, 20, 1))
    with pytest.raises(EmptyVolume, match="holds only"):
        dvh.d_cc_gy(2.0)
    assert dvh.d_cc_gy(dvh.volume_cm3) == dvh.min_gy


def test_binned_and_sorted_agree() -> None:
    rng = np.random.default_rng(5)
    coverage = ball(9, (1.0, 1.0, 1.0))
    dose = dose_of(lambda x, y, z: 30 + 20 * np.tanh((x + y) / 6) + 0 * z, 40, 1)
    where = samples(coverage, dose.grid)
    out = doses_at(dose.gy, where)
    binned = dvh_of(out, where)
    order = np.argsort(out)
    share = where.share[order].astype(float)
    middle = np.cumsum(share) - share / 2
    for v in rng.uniform(0.1, 99.9, 40):
        assert binned.d_gy(v) == pytest.approx(float(np.interp(1 - v / 100, middle, out[order])), abs=0.005)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0.1, 5))
def test_curve_falls_and_scales(a: float, b: float, factor: float) -> None:
    dvh = Dvh(
        np.frombuffer(np.array([1.0, 2.0, 2.0, 7.0, 9.0]).tobytes()),
        np.frombuffer(np.array([0.0, 0.2, 0.4, 0.9, 1.0]).tobytes()),
        10.0,
        1.0,
        4.0,
    )
    assert dvh.d_gy(min(a, b)) >= dvh.d_gy(max(a, b))
    assert dvh.v_share(min(a, b)) >= dvh.v_share(max(a, b))
    assert dvh.scaled(factor).d_gy(a) == pytest.approx(factor * dvh.d_gy(a))
    gy, percent = dvh.curve()
    assert gy[0] == 0
    assert percent[0] == 100
    assert percent[-1] == 0
    assert (np.diff(percent) <= 0).all()
