"""Mirror of engine/review/checks_volumes.py; the findings themselves are tripped one by one in test_checks.py."""

import pytest

from engine.review.checks_volumes import _outside_cm3
from tests.support.cases import GRID, ball


def test_what_lies_outside_is_measured_in_cm3():
    whole, shifted = ball(GRID, (0, 0, 0), 20), ball(GRID, (8, 0, 0), 20)
    assert _outside_cm3(whole, whole) == 0
    # two equal spheres: what is not common, V - pi (4r + d)(2r - d)^2 / 12, closed form
    closed = 33.510 - 3.14159 * 88 * 32**2 / 12 / 1000
    assert _outside_cm3(shifted, whole) == pytest.approx(closed, rel=0.05)
