"""Conformity and homogeneity against worked solids (derived)."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import EmptyVolume, GeometryError
from engine.base.values import frozen_array
from engine.evaluation.dvh import Dvh
from engine.evaluation.indices import homogeneity, indices_of_volumes, target_indices, volume_above
from engine.evaluation.live import LiveRequest, prepare
from tests.support.phantoms import grid_of
from tests.support.shapes import as_volume, coverage_of, dose_of


def sphere(r: float) -> float:
    return 4 / 3 * np.pi * r**3 / 1000


@pytest.mark.parametrize(
    ("volumes", "wanted"),
    [
        (
            (sphere(20), sphere(22), sphere(20), sphere(30)),
            {"conformity_rtog": 1.331, "coverage": 1, "conformity_paddick": 0.751315, "gradient": 2.535687, "r50": 3.375},
        ),
        (
            (sphere(20), sphere(18), sphere(18), sphere(25)),
            {"conformity_rtog": 0.729, "coverage": 0.729, "selectivity": 1, "conformity_paddick": 0.729},
        ),
        ((sphere(20), sphere(20), 28.5005, sphere(30)), {"conformity_paddick": 0.723350, "conformity_rtog": 1.0}),
    ],
)
def test_volumes_of_spheres(volumes: tuple[float, ...], wanted: dict[str, float]) -> None:
    found = indices_of_volumes(*volumes)
    for name, value in wanted.items():
        assert found[name] == pytest.approx(value, abs=2e-5), name


def test_homogeneity_of_a_slab() -> None:
    ramp = Dvh(frozen_array(np.array([57.0, 63.0])), frozen_array(np.array([0.0, 1.0])), 1.0, 1.0, 60.0)
    assert homogeneity(ramp) == pytest.approx(0.096)


def test_concentric_isodose_from_a_dose() -> None:
    """Target r 20, dose falling with r so that the prescription lies at r 22 and half of it at r 30."""
    target = coverage_of(grid_of((50, 50, 50), 1.0), lambda x, y, z: x * x + y * y + z * z <= 400)
    dose = dose_of(lambda x, y, z: np.maximum(60 - 30 / 8 * (np.sqrt(x * x + y * y + z * z) - 22), 0), 80, 2)
    basis = prepare(LiveRequest((dose,), (as_volume(target, "ptv", "PTV"),)))
    dvh = basis.evaluate((0.01,), "None", None).dvhs["ptv"]
    found = target_indices(dvh, dose, None, 60.0)
    assert found.conformity_rtog == pytest.approx(1.331, rel=0.01)
    assert found.coverage == pytest.approx(1, abs=1e-6)
    assert found.conformity_paddick == pytest.approx(0.7513, rel=0.01)
    assert found.gradient == pytest.approx(2.5357, rel=0.01)
    with pytest.raises(EmptyVolume):
        target_indices(dvh, dose, None, 0.0)


def test_shifted_isodose_misses_although_the_ratio_is_one() -> None:
    """Equal spheres r 20, centres 4 apart: overlap 0.8505, Paddick 0.7234, RTOG 1.0."""
    target = coverage_of(grid_of((50, 50, 50), 1.0), lambda x, y, z: x * x + y * y + z * z <= 400)
    dose = dose_of(lambda x, y, z: np.maximum(100 - 2 * np.sqrt((x - 4) ** 2 + y * y + z * z), 0), 80, 2)
    dvh = prepare(LiveRequest((dose,), (as_volume(target, "ptv", "PTV"),))).evaluate((0.01,), "None", None).dvhs["ptv"]
    found = target_indices(dvh, dose, None, 60.0)
    assert found.conformity_rtog == pytest.approx(1.0, rel=0.01)
    assert found.coverage == pytest.approx(0.8505, abs=0.004)
    assert found.conformity_paddick == pytest.approx(0.7234, abs=0.008)


def test_isodose_volume_is_of_the_body_only() -> None:
    dose = dose_of(lambda x, y, z: 10 + 0 * x, 40, 2)
    assert volume_above(dose, None, (5.0, 11.0)) == pytest.approx((64.0, 0.0))
    half = coverage_of(grid_of((40, 40, 40), 1.0), lambda x, y, z: (x < 0) & (y == y))
    assert volume_above(dose, half, (5.0,)) == pytest.approx((32.0,))


def test_impossible_volumes_and_zero() -> None:
    with pytest.raises(GeometryError):
        indices_of_volumes(1, 2, 1.5, 3)
    assert indices_of_volumes(1, 0, 0, 0)["selectivity"] is None
