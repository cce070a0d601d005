"""How the formulas behave; their worked numbers stand in tests/reference (test_worked_biology, test_worked_dvh)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.evaluation import radiobiology
from engine.evaluation.dvh import Dvh
from engine.evaluation.radiobiology import (
    bed,
    bed_incomplete_repair,
    bed_with_repopulation,
    eqd2,
    geud,
    ntcp_lkb,
    response_logistic,
    tcp_poisson,
)

FRACTIONS, RATIOS, DOSES = st.integers(1, 60), st.floats(0.5, 30), st.floats(0.1, 120)


def spread(low: float, high: float) -> Dvh:
    """Return a volume with all doses between two alike."""
    return Dvh(frozen_array(np.array([low, high])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, (low + high) / 2)


@given(DOSES, FRACTIONS, RATIOS)
def test_two_gray_fractions_are_their_own_equivalent_and_larger_ones_count_more(gy: float, n: int, ab: float) -> None:
    assert eqd2(2.0 * n, n, ab) == pytest.approx(2.0 * n)
    assert bed(gy, n, ab) >= gy
    assert bed(gy, n + 1, ab) <= bed(gy, n, ab)
    assert (eqd2(gy, n, ab) > gy) == (gy / n > 2) or gy / n == pytest.approx(2)


def test_voxels_are_converted_like_numbers() -> None:
    gy = np.array([[0.0, 20.0], [45.0, 66.0]], dtype=np.float32)
    found = radiobiology.eqd2_voxels(gy, 15, 3)
    assert found.dtype == np.float32
    assert found == pytest.approx(np.array([[eqd2(float(v), 15, 3) for v in row] for row in gy]), rel=1e-6)
    with pytest.raises(InputError):
        radiobiology.eqd2_voxels(gy, 15, 0)


def test_incomplete_repair_adds_to_the_dose_the_shorter_the_gap() -> None:
    complete = bed(40.8, 34, 3)
    assert bed_incomplete_repair(40.8, 34, 3, 1, 6, 4) == pytest.approx(complete)
    found = [bed_incomplete_repair(40.8, 34, 3, 2, gap, 4) for gap in (2, 4, 8, 200)]
    assert found == sorted(found, reverse=True)
    assert found[0] > complete
    assert found[-1] == pytest.approx(complete)
    with pytest.raises(InputError):
        bed_incomplete_repair(40.8, 34, 3, 2, 0, 4)


@given(st.floats(0, 40), st.floats(1, 40), st.floats(0.2, 20))
def test_geud_lies_within_the_doses_and_leans_to_the_hot_with_its_exponent(low: float, wide: float, a: float) -> None:
    dvh = spread(low, low + wide)
    assert low - 1e-9 <= geud(dvh, a) <= low + wide + 1e-9
    assert geud(dvh, a) <= geud(dvh, a + 1) + 1e-9
    assert geud(dvh, 1) == pytest.approx(dvh.mean_gy)


def test_geud_of_a_target_leans_to_the_cold() -> None:
    assert 50 < geud(spread(50, 60), -10) < geud(spread(50, 60), -1) < 55
    assert geud(spread(0, 60), -10) == 0
    assert geud(spread(0, 0), 4) == 0
    with pytest.raises(InputError):
        geud(spread(0, 60), 0)


@given(st.floats(1, 80), st.floats(0.05, 0.5), st.floats(0, 100))
def test_complications_are_a_half_at_td50_and_rise(td50: float, m: float, gy: float) -> None:
    assert ntcp_lkb(td50, td50, m) == pytest.approx(0.5)
    assert 0 <= ntcp_lkb(gy, td50, m) <= ntcp_lkb(gy + 1, td50, m) <= 1


def test_repopulation_takes_from_the_bed_once_it_has_begun() -> None:
    assert bed_with_repopulation(84, 20, 28, 0.77) == 84
    assert bed_with_repopulation(84, 29, 28, 0.77) == pytest.approx(84 - 0.77)
    with pytest.raises(InputError):
        bed_with_repopulation(84, -1, 28, 0.77)


def test_control_rises_with_dose_and_is_a_half_at_d50() -> None:
    assert response_logistic(60, 60, 2) == 0.5
    assert response_logistic(0, 60, 2) == 0
    assert response_logistic(66, 60, 2) > response_logistic(66, 60, 1) > 0.5
    assert tcp_poisson(0, 0.3, 0) == 1
    assert tcp_poisson(1e9, 0.3, 60) < tcp_poisson(1e9, 0.3, 72) < tcp_poisson(1e8, 0.3, 72)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: bed(-1, 1, 3), lambda: bed(1, 0, 3), lambda: eqd2(1, 1, 0), lambda: ntcp_lkb(1, 0, 1),
        lambda: ntcp_lkb(1, 1, 0), lambda: tcp_poisson(1, 0, 10), lambda: tcp_poisson(-1, 1, 10),
        lambda: response_logistic(1, 0, 2), lambda: response_logistic(1, 1, 0),
    ],
)  # fmt: skip
def test_what_has_no_answer_is_refused(wrong) -> None:
    with pytest.raises(InputError):
        wrong()
