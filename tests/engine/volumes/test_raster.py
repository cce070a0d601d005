"""Exact shares under half planes and discs."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.volumes.raster import disc_area, half_level, half_plane_area

some = settings(max_examples=30, deadline=None)


def sampled(inside, u, v, hu, hv, n=400):
    s = (np.arange(n) + 0.5) / n * 2 - 1
    return inside(u + hu * s[:, None], v + hv * s[None, :]).mean()


@some
@given(st.floats(-1.2, 1.2), st.floats(0, 2 * math.pi))
def test_half_plane_share_is_the_sampled_share(d, angle):
    n = (math.cos(angle), math.sin(angle))
    found = half_plane_area(d, abs(n[0]) / 2, abs(n[1]) / 2)
    assert found == pytest.approx(sampled(lambda u, v: n[0] * u + n[1] * v <= d, 0, 0, 0.5, 0.5), abs=6e-3)
    assert found + half_plane_area(-d, abs(n[0]) / 2, abs(n[1]) / 2) == pytest.approx(1)


@some
@given(st.floats(-1.5, 1.5), st.floats(-1.5, 1.5), st.floats(0.02, 1.5), st.floats(0.02, 1.5))
def test_disc_share_is_the_sampled_share(u, v, hu, hv):
    found = disc_area(u, v, hu, hv)
    assert found == pytest.approx(sampled(lambda a, b: a * a + b * b <= 1, u, v, hu, hv), abs=8e-3)


def test_shares_of_a_tiling_add_up_to_the_disc():
    n, size = 40, 2.4
    h = size / n / 2
    centres = -size / 2 + h + 2 * h * np.arange(n)
    total = sum(disc_area(u, v, h, h) for u in centres for v in centres) * 4 * h * h
    assert total == pytest.approx(math.pi, rel=1e-12)


def test_saddles_follow_the_mean_of_four():
    low = np.array([[200, 0], [0, 200]], np.uint8)
    high = np.array([[255, 100], [100, 255]], np.uint8)
    assert len(half_level(low)[1]) - 1 == 2
    assert len(half_level(high)[1]) - 1 == 1
    assert len(half_level(high[:, ::-1].copy())[1]) - 1 == 1
    assert len(half_level(low[:, ::-1].copy())[1]) - 1 == 2
