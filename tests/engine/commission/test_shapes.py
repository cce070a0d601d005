"""Numbers read off curves of known shape."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import erf

from engine.commission.shapes import crossing, flatness_symmetry, half_widths, maximum, penumbra_mm, sides


def edge(x, half=50.0, sigma=3.0):
    return 50 * (erf((half - np.abs(x)) / (sigma * np.sqrt(2))) + 1)


def test_maximum_is_found_between_points_and_through_noise():
    depth = np.arange(0, 40, 2.0)
    dose = 100 - 0.05 * (depth - 14.7) ** 2
    assert maximum(depth, dose) == pytest.approx((14.7, 100), abs=0.06)
    noise = dose + 0.2 * np.random.default_rng(3).standard_normal(depth.size)
    assert maximum(depth, noise)[0] == pytest.approx(14.7, abs=2.0)


def test_maximum_at_the_rim_or_of_a_spike_is_the_highest_point():
    assert maximum(np.array([0.0, 10.0, 20.0]), np.array([5.0, 3.0, 1.0])) == (0.0, 5.0)


@pytest.mark.parametrize("sigma", [1.5, 3.0, 6.0])
def test_penumbra_and_width_of_a_gaussian_edge(sigma):
    """80 to 20 % of an error function is 1.683 sigma."""
    x = np.arange(-90, 91, 0.25)
    assert penumbra_mm(x, edge(x, sigma=sigma)) == pytest.approx(1.6832 * sigma, abs=0.06)
    left, right = half_widths(x, edge(x, sigma=sigma))
    assert (left, right) == pytest.approx((-50, 50), abs=0.02)


def test_a_half_profile_has_one_edge():
    x = np.arange(-5, 91, 0.25)
    left, right = half_widths(x, edge(x))
    assert np.isnan(left)
    assert right == pytest.approx(50, abs=0.02)
    assert penumbra_mm(x, edge(x)) == pytest.approx(1.6832 * 3, abs=0.05)
    assert np.isnan(flatness_symmetry(x, edge(x))[0])


def test_flatness_and_symmetry_of_a_tilted_profile():
    x = np.arange(-90, 91, 1.0)
    flat, even = flatness_symmetry(x, edge(x) * (1 + 0.0005 * x))
    assert flat == pytest.approx(100 * 0.0005 * 40, rel=0.03)
    assert even == pytest.approx(100 * ((1 + 0.02) / (1 - 0.02) - 1), rel=0.03)
    assert flatness_symmetry(x, edge(x)) == pytest.approx((0.02, 0), abs=0.1)


def test_crossing_says_nan_where_there_is_none():
    x = np.arange(5.0)
    assert np.isnan(crossing(x, x + 1, 0.5))
    assert crossing(x, 4 - x, 2.5) == pytest.approx(1.5)
    assert sides(np.array([-2.0, 0.0, 2.0]), np.array([1.0, 2.0, 3.0]))[2] == 2.0
