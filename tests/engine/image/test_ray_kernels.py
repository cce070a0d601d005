from __future__ import annotations

import numpy as np
import pytest

from engine.image.projection import attenuation_table
from engine.image.ray_kernels import march


def test_ray_along_an_axis_crosses_the_whole_box_and_a_passing_ray_nothing() -> None:
    hu = np.zeros((4, 6, 8), "<i2")
    ends = np.array([[[3.5, 0.0, 1.5], [3.5, 0.0, 50.0]]])
    out = np.ones((1, 2), np.float32)
    start = np.array([3.5, -1000.0, 1.5])
    march(hu, start, ends, np.array([2.0, 3.0, 5.0]), 1.0, attenuation_table(0.0), out)
    assert out[0, 0] == pytest.approx(0.02 * 6 * 3.0, rel=1e-4)
    assert out[0, 1] == 0
