"""Worked numbers (derived from the formulas)."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.evaluation import radiobiology
from engine.evaluation.dvh import Dvh
from engine.evaluation.radiobiology import bed, bed_incomplete_repair, eqd2, geud, ntcp_lkb


@pytest.mark.parametrize(
    ("fractions", "d", "ab", "want_bed", "want_eqd2"),
    [
        (30, 2, 3, 100, 60),
        (30, 2, 10, 72, 60),
        (20, 3, 1.5, 180, 77.143),
        (20, 3, 3, 120, 72),
        (15, 2.67, 4, 66.783, 44.522),
        (5, 4, 3, 46.667, 28),
        (39, 2, 1.5, 182, 78),
    ],
)
def test_bed_and_eqd2(fractions: int, d: float, ab: float, want_bed: float, want_eqd2: float) -> None:
    assert bed(fractions * d, fractions, ab) == pytest.approx(want_bed, abs=0.001)
    assert eqd2(fractions * d, fractions, ab) == pytest.approx(want_eqd2, abs=0.001)


def test_voxels_are_converted_like_numbers() -> None:
    gy = np.array([[0.0, 20.0], [45.0, 66.0]], dtype=np.float32)
    found = radiobiology.eqd2_voxels(gy, 15, 3)
    assert found.dtype == np.float32
    assert found == pytest.approx(np.array([[eqd2(float(v), 15, 3) for v in row] for row in gy]), rel=1e-6)
    with pytest.raises(InputError):
        radiobiology.eqd2_voxels(gy, 15, 0)


def test_twice_a_day() -> None:
    assert bed_incomplete_repair(40.8, 34, 3, 2, 6, 4) == pytest.approx(62.890, abs=0.001)
    assert bed_incomplete_repair(40.8, 34, 3, 2, 6, 1.5) == pytest.approx(58.140, abs=0.001)
    assert bed_incomplete_repair(40.8, 34, 3, 1, 6, 4) == pytest.approx(bed(40.8, 34, 3))


@pytest.mark.parametrize(("a", "value"), [(1, 30), (2, 34.6410), (4, 40.1244), (8, 45.5901), (12, 48.4532)])
def test_geud_of_a_uniform_spread(a: float, value: float) -> None:
    spread = Dvh(frozen_array(np.array([0.0, 60.0])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, 30.0)
    assert geud(spread, a) == pytest.approx(value, abs=1e-4)


@pytest.mark.parametrize(("a", "value"), [(1, 15), (2, 17.3205), (4, 21.4070), (12, 26.7270)])
def test_geud_of_two_parts(a: float, value: float) -> None:
    two = Dvh(frozen_array(np.array([10.0, 10, 30, 30])), frozen_array(np.array([0, 0.75, 0.75, 1])), 1.0, 1.0, 15.0)
    assert geud(two, a) == pytest.approx(value, abs=1e-4)


def test_geud_of_a_target_leans_to_the_cold() -> None:
    spread = Dvh(frozen_array(np.array([50.0, 60.0])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, 55.0)
    assert 50 < geud(spread, -10) < 55
    assert geud(spread, -1) == pytest.approx(10 / np.log(1.2))
    cold = Dvh(frozen_array(np.array([0.0, 60.0])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, 30.0)
    assert geud(cold, -10) == 0
    with pytest.raises(InputError):
        geud(cold, 0)


@pytest.mark.parametrize(
    ("gy", "td50", "m", "value"),
    [(20, 24.5, 0.18, 0.15377), (40, 46, 0.18, 0.23434), (35, 40, 0.15, 0.20233), (50, 66.5, 0.175, 0.07812)],
)
def test_lkb(gy: float, td50: float, m: float, value: float) -> None:
    assert ntcp_lkb(gy, td50, m) == pytest.approx(value, abs=1e-5)


def test_repopulation_takes_from_the_bed_once_it_has_begun():
    # 35 x 2 Gy in 46 days, alpha/beta 10, alpha 0.3, doubling in 3 days from day 28 on [derived]
    loss = float(np.log(2) / (0.3 * 3))
    assert loss == pytest.approx(0.770164, abs=1e-6)
    assert radiobiology.bed_with_repopulation(bed(70, 35, 10), 46, 28, loss) == pytest.approx(70.137, abs=1e-3)
    assert radiobiology.bed_with_repopulation(84, 20, 28, loss) == 84


def test_control_by_poisson_and_logistic():
    # 1e9 cells, alpha 0.3, 30 x 2 Gy, alpha/beta 10; D50 60, gamma50 2, EUD 66 [derived]
    assert radiobiology.tcp_poisson(1e9, 0.3, bed(60, 30, 10)) == pytest.approx(0.659588, abs=1e-6)
    assert radiobiology.response_logistic(66, 60, 2) == pytest.approx(0.681892, abs=1e-6)
    assert radiobiology.response_logistic(0, 60, 2) == 0
    for wrong in (lambda: radiobiology.tcp_poisson(1, 0, 10), lambda: radiobiology.response_logistic(1, 0, 2)):
        with pytest.raises(InputError):
            wrong()
