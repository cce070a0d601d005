"""Points of half-level lines from rows and columns: on circles and straight edges, mostly to a hundredth of a pixel."""

import numpy as np
import pytest

from engine.volumes.paint import polygon
from engine.volumes.raster import half_level
from engine.volumes.settled import RIM, settled


def half(alpha):
    points, starts = half_level(alpha)
    return points, starts, (points[:, 0] == np.floor(points[:, 0])).astype(np.int64)


def circle(radius, at, n=2880):
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    return np.column_stack((np.cos(t), np.sin(t))) * radius + at


@pytest.mark.parametrize("radius", [4, 5, 8, 12, 20, 40])
@pytest.mark.parametrize("hole", [False, True])
def test_points_of_a_circle_come_to_lie_on_it(radius, hole):
    rng = np.random.default_rng(radius)
    before, after = [], []
    for _ in range(10):
        at = radius + 5 + rng.uniform(0, 1, 2)
        alpha = polygon((2 * radius + 12,) * 2, circle(radius, at))
        points, starts, axis = half(np.uint8(255) - alpha if hole else alpha)
        found = settled(points, starts, axis, np.ones(len(points), bool), np.uint8(255) - alpha if hole else alpha)
        near = np.abs(np.hypot(*(points - at).T) - radius) < 1
        before.append(np.abs(np.hypot(*(points - at).T) - radius)[near])
        after.append(np.abs(np.hypot(*(found - at).T) - radius)[near])
    before, after = np.concatenate(before), np.concatenate(after)
    assert np.median(after) < 0.003
    assert np.mean(after < 0.01) > 0.8
    assert after.max() <= before.max() + 1e-3
    assert np.sqrt((after**2).mean()) < max(0.0035, 0.75 * np.sqrt((before**2).mean()))


@pytest.mark.parametrize("degrees", [3, 11, 30, 45, 62, 81])
def test_points_of_a_straight_edge_come_to_lie_on_it(degrees):
    across = np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    along = np.array([-across[1], across[0]])
    corners = [30 + across * 0.13 + s * along * 60 - d * across * 60 for s, d in ((-1, 0), (1, 0), (1, 1), (-1, 1))]
    alpha = polygon((61, 61), corners)
    points, starts, axis = half(alpha)
    found = settled(points, starts, axis, np.ones(len(points), bool), alpha)
    middle = (np.abs((points - 30) @ along) < 15) & (np.abs((points - 30) @ across) < 5)
    assert middle.sum() > 25
    assert np.abs((found[middle] - 30) @ across - 0.13).max() < RIM


def test_points_stay_between_their_centres_and_those_not_wanted_where_they_are():
    rng = np.random.default_rng(3)
    for _ in range(20):
        alpha = rng.choice((0, 0, 0, 70, 140, 255, 255, 255), (20, 25)).astype(np.uint8)
        points, starts, axis = half(alpha)
        wanted = rng.random(len(points)) < 0.5
        found = settled(points, starts, axis, wanted, alpha)
        assert np.array_equal(found[~wanted], points[~wanted])
        assert np.array_equal(np.floor(found), np.floor(points))
        free, still = found[np.arange(len(found)), axis], found[np.arange(len(found)), 1 - axis]
        assert np.array_equal(still, points[np.arange(len(found)), 1 - axis])
        moved = free != points[np.arange(len(found)), axis]
        assert ((free % 1.0)[moved] >= RIM - 1e-9).all()
        assert ((free % 1.0)[moved] <= 1 - RIM + 1e-9).all()
