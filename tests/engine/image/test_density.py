"""CT number to density: linear between points, held beyond them, refused when it makes no sense."""

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.image.density import DEFAULT_CURVE, Density, DensityCurve
from engine.space.grid import Grid


def test_points_are_met_between_is_linear_and_ends_hold():
    curve = DensityCurve((-1000, 0, 1000), (0.001, 1.0, 1.6))
    found = curve.density(np.array([[-1000, 0], [500, 1000], [-5000, 30000]], dtype=np.int16))
    assert found == pytest.approx(np.array([[0.001, 1.0], [1.3, 1.6], [0.001, 1.6]]), abs=1e-6)
    assert found.dtype == np.float32


def test_a_stack_of_ct_numbers_reads_as_each_of_them_does_whatever_its_lay_out():
    every = np.arange(-32768, 32768).reshape(4, 128, 128)
    expected = DEFAULT_CURVE.density(every)
    for stack in (every.astype(np.int16), np.asfortranarray(every.astype(np.int16)), every.astype("<i2")[:, ::1, :]):
        assert np.array_equal(DEFAULT_CURVE.density(stack), expected)
    assert np.array_equal(DEFAULT_CURVE.density(every.astype(np.int16)[:, ::2, ::3]), expected[:, ::2, ::3])
    assert np.array_equal(DEFAULT_CURVE.density(every.astype(np.int16)[:, 5]), expected[:, 5])


def test_the_shipped_curve_is_near_the_published_relations():
    # dosimetry of U. Schneider 1996 and W. Schneider 2000, both [memory]: a plausibility band, no validation
    low, high = [0.200, 0.507, 0.918, 1.0, 1.03, 1.16, 1.55], [0.210, 0.52, 0.94, 1.04, 1.09, 1.29, 1.75]
    found = DEFAULT_CURVE.density(np.array([-800, -500, -100, 0, 50, 300, 1000], np.int16))
    assert np.all(found >= low)
    assert np.all(found <= high)


def test_water_has_the_density_of_water():
    assert DEFAULT_CURVE.density(np.array([0], np.int16))[0] == 1.0


@pytest.mark.parametrize(
    ("hu", "rho"),
    [((0,), (1,)), ((0, 1), (1,)), ((0, 0), (1, 1)), ((0, 1), (1, 0.9)), ((0, 1), (-0.1, 1)), ((0, 1), (1, 26))],
)
def test_curves_that_make_no_sense_are_refused(hu, rho):
    with pytest.raises(InputError):
        DensityCurve(hu, rho)


def test_a_density_resolves_to_itself():
    density = Density(frozen_array(np.ones((1, 1, 1), np.float32)), Grid((0, 0, 0), (1, 1, 1), (1, 1, 1)))
    assert density.resolve() is density
