"""The nearest triangle is the nearest one, whatever the order and however far the point."""

import numpy as np
import pytest

from engine.volumes.nearest import LEAF, along_curve, squared_distances, tree_of


def brute(points, corners):
    """Distance to the nearest triangle by the foot on its plane if that lies inside, else by its three edges."""
    out = np.full(len(points), np.inf)
    for a, b, c in corners:
        for p, q in ((a, b), (b, c), (c, a)):
            leg = q - p
            t = np.clip((points - p) @ leg / max(leg @ leg, 1e-300), 0, 1)
            out = np.minimum(out, np.linalg.norm(points - p - t[:, None] * leg, axis=1))
        n = np.cross(b - a, c - a)
        n = n / np.linalg.norm(n)
        foot = points - ((points - a) @ n)[:, None] * n
        inside = np.ones(len(points), bool)
        for p, q in ((a, b), (b, c), (c, a)):
            inside &= np.cross(q - p, foot - p) @ n >= 0
        out = np.where(inside, np.minimum(out, np.abs((points - a) @ n)), out)
    return out


@pytest.mark.parametrize("count", [1, 2, LEAF, LEAF + 1, 300])
@pytest.mark.parametrize("reach", [0.2, 5.0, 200.0])
def test_as_far_as_looking_at_every_triangle(count, reach):
    rng = np.random.default_rng(count)
    corners = rng.uniform(-10, 10, (count, 1, 3)) + rng.uniform(-1.5, 1.5, (count, 3, 3))
    points = rng.uniform(-reach, reach, (200, 3))
    assert np.sqrt(squared_distances(points, tree_of(corners))) == pytest.approx(brute(points, corners), abs=1e-9)


def test_a_point_on_a_corner_lies_on_it():
    corners = np.random.default_rng(2).uniform(-10, 10, (50, 3, 3))
    assert squared_distances(corners[:, 1], tree_of(corners)).max() < 1e-20


def test_a_triangle_without_an_area_is_a_line():
    line = np.array([[(0.0, 0, 0), (2, 0, 0), (4, 0, 0)]])
    assert squared_distances(np.array([(1.0, 3.0, 0.0), (7.0, 0.0, 4.0)]), tree_of(line)) == pytest.approx([9.0, 25.0])
    for twice in ((0, 0, 1), (0, 1, 0), (1, 0, 0), (0, 0, 0)):
        short = line[:, twice]
        points = np.random.default_rng(1).uniform(-5, 5, (40, 3))
        x = np.clip(points[:, 0], 0, short[0, :, 0].max())
        true = (points[:, 0] - x) ** 2 + (points[:, 1:] ** 2).sum(axis=1)
        assert squared_distances(points, tree_of(short)) == pytest.approx(true)


@pytest.mark.parametrize("width", [1e-3, 1e-6, 1e-9, 1e-11, 1e-13])
def test_slivers_are_as_far_as_their_line(width):
    rng = np.random.default_rng(4)
    start, way = rng.uniform(-200, 200, (30, 3)), rng.uniform(-1, 1, (30, 3))
    corners = np.stack((start, start + way, start + 0.4 * way + width * rng.uniform(-1, 1, (30, 3))), axis=1)
    points = rng.uniform(-250, 250, (300, 3))
    found = np.sqrt(squared_distances(points, tree_of(corners)))
    t = np.clip(((points[:, None] - start) * way).sum(2) / (way * way).sum(1), 0, 1)
    line = np.linalg.norm(points[:, None] - start - t[:, :, None] * way, axis=2).min(axis=1)
    assert np.abs(found - line).max() < 2 * width + 1e-9


def test_no_point_has_no_distance():
    assert squared_distances(np.empty((0, 3)), tree_of(np.zeros((1, 3, 3)))).shape == (0,)


def test_the_curve_visits_every_point_once_and_neighbours_in_turn():
    rng = np.random.default_rng(8)
    points = rng.uniform(0, 100, (4000, 3))
    order = along_curve(points)
    assert sorted(order) == list(range(4000))
    steps = np.linalg.norm(np.diff(points[order], axis=0), axis=1)
    assert np.median(steps) < 0.25 * np.median(np.linalg.norm(np.diff(points, axis=0), axis=1))
    assert along_curve(np.zeros((3, 3))).tolist() == [0, 1, 2]
