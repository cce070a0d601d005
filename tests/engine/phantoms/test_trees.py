"""Trees of vessels: all tips reached, thinner towards them, inside what they fill."""

from __future__ import annotations

import numpy as np

from engine.phantoms.canvas import Canvas
from engine.phantoms.trees import grow_tree, scatter
from engine.space.grid import Grid


def small() -> Canvas:
    return Canvas(Grid((-40.0, -40.0, -39.0), (1.0, 1.0, 3.0), (27, 81, 81)))


def test_points_are_spread_inside() -> None:
    canvas = small()
    points = scatter(canvas, canvas.ellipsoid((0, 0, 0), (30, 30, 30)), 60, 3.0, 5)
    assert 40 <= len(points) <= 60
    assert np.linalg.norm(points, axis=1).max() < 29
    apart = np.linalg.norm(points[:, None] - points[None], axis=2) + 1e3 * np.eye(len(points))
    assert apart.min() > 4
    assert abs(points.mean(axis=0)).max() < 8


def test_no_room_gives_no_points() -> None:
    canvas = small()
    assert len(scatter(canvas, canvas.ellipsoid((0, 0, 0), (5, 5, 5)), 10, 20.0, 5)) == 0


def test_tree_reaches_every_tip_and_thins() -> None:
    tips = np.random.default_rng(1).uniform(-30, 30, (80, 3))
    tree = grow_tree((0.0, 0.0, 0.0), tips, 0.6, 2.7, 6.0, 2)
    ends = np.array([t.points_mm[1] for t in tree])
    assert np.linalg.norm(ends[:, None] - tips[None], axis=2).min(axis=0).max() < 1e-9
    assert max(t.radius_mm.max() for t in tree) > 1.6
    assert min(t.radius_mm.min() for t in tree) >= 0.6 - 1e-9
    assert all(t.radius_mm[0] >= t.radius_mm[1] - 1e-9 for t in tree)
    again = grow_tree((0.0, 0.0, 0.0), tips, 0.6, 2.7, 6.0, 2)
    assert all((a.points_mm == b.points_mm).all() for a, b in zip(tree, again))
