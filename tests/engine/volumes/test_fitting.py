"""Lines that cover what their slice says: round trips, what a corner can tell, and what is left alone."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.volumes.fitting import fitted
from engine.volumes.outline import outlines
from engine.volumes.paint import polygon, polygons
from engine.volumes.raster import half_level


def oval(a, b, turn, at, n=1440):
    """Return an ellipse as a polygon of its own area."""
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    wide = math.sqrt(2 * math.pi / n / math.sin(2 * math.pi / n))
    c, s = math.cos(turn), math.sin(turn)
    return np.column_stack((wide * a * np.cos(t), wide * b * np.sin(t))) @ np.array([[c, s], [-s, c]]) + at


def painted(loop):
    n = int(np.ceil(loop.max())) + 6
    return polygon((n, n), loop)


def lost(alpha):
    """Return the largest change of a pixel (share of its area) by way of the lines, and that of the whole area."""
    again = polygons(alpha.shape, outlines(alpha)).astype(int)
    return np.abs(again - alpha).max() / 255, abs(again.sum() / alpha.sum(dtype=int) - 1)


def dense(lines):
    out = []
    for line in lines:
        out += [line + (np.roll(line, -1, axis=0) - line) * s for s in np.linspace(0, 1, 12, endpoint=False)]
    return np.concatenate(out)


@pytest.mark.parametrize("radius", [3, 4, 5, 6, 8, 12, 20, 40])
def test_discs_come_back_within_a_twentieth_of_a_pixel(radius):
    """The half-level line alone changed pixels by 0.09 and the area by 3 % at 3 pixels' radius."""
    from scipy.spatial import cKDTree

    rng = np.random.default_rng(radius)
    for _ in range(12):
        at = radius + 5 + rng.uniform(0, 1, 2)
        alpha = painted(oval(radius, radius, 0, at))
        pixel, area = lost(alpha)
        assert pixel < 0.05
        assert area < (0.004 if radius < 5 else 0.001)
        first = outlines(alpha)
        # From the circle itself; the half-level line alone lies up to 0.08 pixel within it at 5 pixels' radius.
        off = np.abs(np.hypot(*(dense(first) - at).T) - radius)
        assert off.max() < (0.09 if radius < 5 else 0.06)
        assert np.sqrt((off**2).mean()) < (0.018 if radius < 5 else 0.011)
        again = outlines(polygons(alpha.shape, first))
        one, two = dense(first), dense(again)
        way = max(cKDTree(one).query(two)[0].max(), cKDTree(two).query(one)[0].max())
        # From line to line points are free to slide along the edge, so this is a little more than the shares lose.
        assert way < (0.09 if radius < 5 else 0.06)


@pytest.mark.parametrize(("a", "b"), [(2, 2), (2.5, 2.5), (3, 6)])
def test_small_shapes_come_back_within_a_twentieth_of_a_pixel(a, b):
    rng = np.random.default_rng(int(10 * a))
    for _ in range(30):
        pixel, area = lost(painted(oval(a, b, rng.uniform(0, 3), b + 5 + rng.uniform(0, 1, 2))))
        assert pixel < 0.05
        assert area < 0.016


@pytest.mark.parametrize(("a", "b"), [(4, 6), (4, 9), (5, 15), (8, 14), (10, 30), (20, 25)])
def test_ellipses_come_back_too_and_lie_on_themselves(a, b):
    from scipy.spatial import cKDTree

    rng = np.random.default_rng(a)
    for _ in range(12):
        true = oval(a, b, rng.uniform(0, 3), b + 5 + rng.uniform(0, 1, 2), 14400)
        alpha = painted(true)
        pixel, area = lost(alpha)
        assert pixel < 0.05
        assert area < 0.0015
        # The tip of 4 x 9 bends as a circle of 1.8 pixels does.
        off = cKDTree(true).query(dense(outlines(alpha)))[0]
        assert off.max() < 0.1
        assert np.sqrt((off**2).mean()) < 0.016


def test_a_corner_is_not_in_the_shares():
    """Two shapes of the very same shares whose lines lie 0.33 pixel apart: no method is within 0.16 of both."""
    side = 11.98  # the pixel of the corner, 11.5 to 12.5, holds 0.48 x 0.48 of the square
    square = np.array([(3.0, 3.0), (3.0, side), (side, side), (side, 3.0)])
    tip = np.array([(side - 0.47, side), (side, side), (side, side - 0.47)])
    height = 0.47**2 / 2 / 0.4
    tooth = np.array([(11.5, side), (11.5, side + height), (11.9, side + height), (11.9, side)])
    assert side + height < 12.5  # it stands within the same pixel
    alpha = painted(square).astype(int)
    other = alpha - polygon(alpha.shape, tip) + polygon(alpha.shape, tooth)
    assert np.abs(other - alpha).max() <= 2
    assert 0.47 / math.sqrt(2) > 0.33  # from the corner to the line across


def test_stairs_and_blurred_edges_stay():
    r, c = np.mgrid[:30, :30]
    stairs = np.where(np.hypot(r - 14.3, c - 15.1) < 9, 255, 0).astype(np.uint8)
    blurred = np.clip(127 + 30 * (9 - np.hypot(r - 14.3, c - 15.1)), 0, 255).astype(np.uint8)
    for alpha in (stairs, blurred):
        points, starts = half_level(alpha)
        moved, begins = fitted(points, starts, alpha, True)
        assert np.array_equal(moved, points)
        assert np.array_equal(begins, starts)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_no_centre_changes_sides(seed):
    """Any shares at all: each point stays in its square of four centres, whose sides are the same as before."""
    rng = np.random.default_rng(seed)
    alpha = (rng.choice((0, 0, 90, 160, 255, 255), (20, 24)) * rng.uniform(0.6, 1, (20, 24))).astype(np.uint8)
    alpha[rng.random(alpha.shape) < 0.3] = 255
    points, starts = half_level(alpha)
    moved, begins = fitted(points, starts, alpha, False)
    assert len(begins) == len(starts)
    lattice = (moved == np.floor(moved)).any(axis=1)
    before = (points == np.floor(points)).any(axis=1)
    assert lattice.sum() == before.sum() == len(points)
    assert np.array_equal(np.floor(moved[lattice]), np.floor(points))
