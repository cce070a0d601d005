"""Surfaces close, have the area of their solid, and distances to them are those to the nearest triangle."""

import numpy as np
import pytest

from engine.base.errors import Cancelled
from engine.volumes import surface
from engine.volumes.coverage import Coverage
from engine.volumes.surface import Surface, distances_mm, surface_of
from tests.support.solids import block, cube_grid, sphere


def test_a_ball_has_its_area_and_is_closed():
    shell = surface_of(sphere(cube_grid(16, 1.0, 1.0), 10.0))
    assert shell.areas_mm2.sum() == pytest.approx(4 * np.pi * 100, rel=0.02)
    # Of a closed surface the area vectors add up to nothing, and the divergence theorem gives its volume.
    a, b, c = (shell.corners_mm[:, i] for i in range(3))
    outward = np.cross(b - a, c - a) / 2
    assert np.abs(outward.sum(axis=0)).max() < 1e-6
    inside_mm3 = abs(float((shell.middles_mm * outward).sum())) / 3
    assert inside_mm3 == pytest.approx(4 / 3 * np.pi * 1000, rel=0.01)


def test_a_volume_at_the_image_edge_is_closed_too():
    grid = cube_grid(8, 1.0, 2.0)
    everything = Coverage.from_dense(grid, np.full(grid.shape, 255, np.uint8))
    a, b, c = (surface_of(everything).corners_mm[:, i] for i in range(3))
    assert np.abs(np.cross(b - a, c - a).sum(axis=0)).max() < 1e-6


def test_nothing_has_no_surface():
    grid = cube_grid(8, 1.0, 2.0)
    faint = Coverage.from_dense(grid, np.full(grid.shape, 100, np.uint8))
    assert len(surface_of(Coverage(grid)).corners_mm) == 0
    assert len(surface_of(faint).corners_mm) == 0


@pytest.mark.parametrize(
    ("point", "expected"),
    [
        ((1.0, 1.0, 5.0), 5.0),  # above the inside
        ((-3.0, 1.0, 4.0), 5.0),  # beside an edge
        ((-2.0, -3.0, 6.0), 7.0),  # off a corner
        ((4.0, 4.0, 0.0), np.sqrt(8.0)),  # beyond the slanted edge
    ],
)
def test_distance_to_one_triangle(point, expected):
    triangle = Surface(np.array([[(0.0, 0, 0), (4, 0, 0), (0, 4, 0)]], float))
    assert distances_mm(np.array([point]), triangle)[0] == pytest.approx(expected)


def test_parallel_faces_of_boxes_are_as_far_apart_as_they_are():
    grid = cube_grid(24, 1.0, 3.0)
    one = surface_of(block(grid, (-10, -10, -10), (10, 10, 10)))
    two = surface_of(block(grid, (-10, -10, -10), (14, 10, 10)))
    middles = one.middles_mm
    face = (np.abs(middles[:, 0] - 10) < 0.01) & (np.abs(middles[:, 1:]) < 5).all(axis=1)
    assert face.sum() > 20
    assert distances_mm(middles[face], two) == pytest.approx(4.0, abs=0.02)


def test_a_large_surface_is_measured_in_parts_that_can_be_stopped(monkeypatch):
    ball = surface_of(sphere(cube_grid(16, 1.0, 1.0), 10.0))
    whole = distances_mm(ball.middles_mm + (3.0, 0, 0), ball)
    monkeypatch.setattr(surface, "_AT_ONCE", 100)
    told = []
    parts = distances_mm(ball.middles_mm + (3.0, 0, 0), ball, lambda fraction, words="": told.append(fraction))
    assert np.array_equal(parts, whole)
    assert len(told) > 5
    assert told == sorted(told)

    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        distances_mm(ball.middles_mm, ball, stop)
