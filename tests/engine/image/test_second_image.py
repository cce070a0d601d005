from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import own_array
from engine.image.second_image import SecondImage
from tests.support.second import SLOPES, ramp, ramp_value


@pytest.mark.parametrize("axis", ["z", "x", "y"])
def test_a_known_ramp_under_a_known_transform_lands_within_a_tenth_of_a_millimetre(axis):
    image = ramp()
    across, down, start = {
        "z": ((0.7, 0, 0), (0, 0.7, 0), (-20.0, -15.0, 4.0)),
        "x": ((0, 0.7, 0), (0, 0, -0.7), (3.0, -15.0, 20.0)),
        "y": ((0.7, 0, 0), (0, 0, -0.7), (-20.0, 6.0, 20.0)),
    }[axis]
    found = image.on_plane(start, across, down, 50, 55)
    i, j = np.mgrid[0:50, 0:55]
    points = np.array(start) + j[..., None] * np.array(across) + i[..., None] * np.array(down)
    assert np.isfinite(found).all()
    # The ramp is rounded to whole numbers: half a step is less than a tenth of a millimetre along its steepest line.
    assert np.abs(found - ramp_value(points)).max() / np.linalg.norm(SLOPES) < 0.1


def test_a_point_reads_like_the_plane_and_outside_there_is_nothing():
    image = ramp()
    assert image.value_at((4.0, -3.0, 2.0)) == pytest.approx(ramp_value((4.0, -3.0, 2.0)), abs=0.5)
    assert np.isnan(image.value_at((500.0, 0.0, 0.0)))


def test_edge_values_hold_for_half_a_voxel():
    values = own_array(np.arange(8, dtype="<i2").reshape(2, 2, 2))
    image = SecondImage("k", "n", "MR", values, (1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0))
    assert image.value_at((-0.4, 0.0, 0.0)) == 0
    assert np.isnan(image.value_at((-0.6, 0.0, 0.0)))
    assert image.value_at((0.5, 0.5, 0.5)) == pytest.approx(3.5)


def test_windows_come_from_the_kind_or_the_data():
    image = ramp()
    low, high = image.usual_window
    assert image.values.min() <= low < high <= image.values.max()
    assert image.but(unit="SUV").usual_window == (0.0, 10.0)


@pytest.mark.parametrize(
    "change",
    [
        {"values": own_array(np.zeros((2, 2), dtype="<i2"))},
        {"values": own_array(np.zeros((1, 2, 2), dtype="<i2"))},
        {"affine": (1.0,) * 12},
        {"affine": (1.0,) * 11},
        {"transform": (float("nan"),) * 16},
    ],
)
def test_what_is_no_image_is_refused(change):
    with pytest.raises(GeometryError):
        ramp().but(**change)
