"""How the indices behave; worked solids stand in tests/reference/test_worked_dvh.py."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import EmptyVolume, GeometryError
from engine.base.values import frozen_array
from engine.evaluation.dvh import Dvh
from engine.evaluation.indices import homogeneity, indices_of_volumes, target_indices, volume_above
from engine.evaluation.live import LiveRequest, prepare
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of


def dvh_of_target(target, dose) -> Dvh:
    basis = prepare(LiveRequest((dose,), (as_volume(target, "ptv", "PTV"),)))
    return basis.evaluate((0.01,), "None", None).dvhs["ptv"]


@given(st.floats(1, 200), st.floats(0, 1), st.floats(0, 3))
def test_indices_of_volumes_keep_to_their_bounds(target: float, share: float, beside: float) -> None:
    shared = share * target
    found = indices_of_volumes(target, shared + beside * target, shared, 5 * target)
    assert 0 <= found["coverage"] <= 1
    if found["selectivity"] is not None:
        assert found["conformity_paddick"] == pytest.approx(found["coverage"] * found["selectivity"], abs=1e-12)
        assert found["conformity_rtog"] == pytest.approx(share + beside)


def test_homogeneity_is_of_shares_and_zero_where_the_dose_is_one() -> None:
    ramp = Dvh(frozen_array(np.array([57.0, 63.0])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, 60.0)
    assert homogeneity(ramp.scaled(0.5)) == pytest.approx(homogeneity(ramp))
    assert homogeneity(ramp.but(dose_gy=frozen_array(np.array([60.0, 60.0])))) == 0
    assert homogeneity(ramp.scaled(0.0)) is None


def test_indices_need_a_prescription() -> None:
    target = coverage_of(grid_of((20, 20, 20), 1.0), lambda x, y, z: x * x + y * y + z * z <= 64)
    dose = dose_of(lambda x, y, z: 60 + 0 * x, 40, 2)
    with pytest.raises(EmptyVolume):
        target_indices(dvh_of_target(target, dose), dose, None, 0.0)


def test_isodose_volume_is_of_the_body_only() -> None:
    dose = dose_of(lambda x, y, z: 10 + 0 * x, 40, 2)
    assert volume_above(dose, None, (5.0, 11.0)) == pytest.approx((64.0, 0.0))
    half = coverage_of(grid_of((40, 40, 40), 1.0), lambda x, y, z: (x < 0) & (y == y))
    assert volume_above(dose, half, (5.0,)) == pytest.approx((32.0,))


def test_impossible_volumes_and_zero() -> None:
    with pytest.raises(GeometryError):
        indices_of_volumes(1, 2, 1.5, 3)
    assert indices_of_volumes(1, 0, 0, 0)["selectivity"] is None
