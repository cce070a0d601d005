"""Volumes moved and turned."""

from __future__ import annotations

import math

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.volumes.coverage import Coverage
from engine.volumes.margins import union
from engine.volumes.move import cut_when_moved, moved
from tests.support.solids import block, cube_grid, cylinder, sphere

GRID = cube_grid(40, 1.0, 2.0)


def alike(a, b):
    p, q = a.dense().astype(float), b.dense().astype(float)
    return 2 * np.minimum(p, q).sum() / (p.sum() + q.sum())


def test_whole_steps_move_the_same_shares():
    ball = sphere(GRID, 10.3)
    assert moved(ball, (3, -5, 4, 0, 0, 0)) == sphere(GRID, 10.3, (3, -5, 4))
    assert moved(ball, (0,) * 6) is ball


@pytest.mark.parametrize("way", [(0.4, 0.7, 0), (3.3, -2.6, 2), (0.5, 0, 1), (1.25, 0.5, 3.4)])
def test_ways_between_the_pixels_move_the_centre_and_keep_the_shape(way):
    ball = sphere(GRID, 15)
    found = moved(ball, (*way, 0, 0, 0))
    assert found.centroid_mm() == pytest.approx(way, abs=0.25)
    assert found.volume_cm3 == pytest.approx(ball.volume_cm3, rel=0.015)
    assert alike(found, sphere(GRID, 15, way)) > 0.985


@pytest.mark.parametrize("turns", [(90, 0, 0), (0, 90, 0), (0, 0, 90), (30, 0, 0), (20, 40, 60), (0, 0, 45)])
def test_a_ball_turned_about_its_centre_stays(turns):
    ball = sphere(GRID, 15, (5, 3, 2))
    assert alike(moved(ball, (0, 0, 0, *turns)), ball) > 0.985


def test_turns_are_by_the_right_hand_about_each_axis():
    rod = block(GRID, (-20, -4, -6), (20, 4, 6))
    upright = block(GRID, (-4, -20, -6), (4, 20, 6))
    assert alike(moved(rod, (0, 0, 0, 0, 0, 90)), upright) > 0.995
    along = moved(rod, (0, 0, 0, 0, 90, 0)).bounds_mm()
    assert along[1][2] - along[0][2] == pytest.approx(40, abs=2.01)
    flag = union(rod, block(GRID, (10, 4, -6), (20, 14, 6)))  # to the left and posterior
    turned = moved(flag, (0, 0, 0, 0, 0, 90))  # +x goes to +y, +y to -x
    x, y, _ = turned.centroid_mm()
    low, high = turned.bounds_mm()
    assert low[0] - x < -(high[0] - x)
    assert (x, y) == pytest.approx(flag.centroid_mm()[:2], abs=0.2)


def test_a_tilted_rod_is_as_long_and_thick_as_before():
    rod = cylinder(GRID, 6, 20)
    found = moved(rod, (0, 0, 0, 0, 30, 0))
    assert found.volume_cm3 == pytest.approx(rod.volume_cm3, rel=0.02)
    assert dict(found.areas_mm2)[20] == pytest.approx(math.pi * 36 / math.cos(math.radians(30)), rel=0.02)


def test_forth_and_back_is_nearly_nothing():
    shape = union(sphere(GRID, 12, (-8, 0, 0)), block(GRID, (-5, -5, -10), (15, 8, 10)))
    there = moved(shape, (1.3, 0.6, 0, 0, 0, 25))
    assert alike(moved(there, (-1.3, -0.6, 0, 0, 0, -25)), shape) > 0.985


def test_the_image_cuts_and_says_where():
    ball = sphere(GRID, 10)
    out = moved(ball, (0, 35, 0, 0, 0, 0))
    assert out.volume_cm3 == pytest.approx(27 / 32 * ball.volume_cm3, rel=0.01)  # less a cap of a quarter of its height
    assert cut_when_moved(ball, (0, 35, 0, 0, 0, 0)) == ("posterior",)
    assert cut_when_moved(ball, (0, 0, 0, 0, 0, 30)) == ()
    assert moved(ball, (300, 0, 0, 0, 0, 0)).is_empty
    assert moved(ball, (300.5, 0, 0, 0, 0, 0)).is_empty
    assert moved(ball, (0, 0, -300, 0, 0, 0)).is_empty


def test_empty_single_and_gapped_volumes():
    assert moved(Coverage(GRID), (1, 2, 3, 4, 5, 6)).is_empty
    one = Coverage(GRID, cylinder(GRID, 10, 2).tiles[:1])
    assert moved(one, (0.5, 0, 0, 0, 0, 10)).planes == one.planes
    tube = cylinder(GRID, 8, 20)
    gap = Coverage(GRID, tuple(t for i, t in enumerate(tube.tiles) if i not in (8, 9)))
    assert moved(gap, (0.5, 0.25, 0, 0, 0, 0)).planes == gap.planes


@pytest.mark.parametrize("bad", [(math.nan, 0, 0, 0, 0, 0), (600, 0, 0, 0, 0, 0), (0, 0, 0, 0, 0, 200)])
def test_absurd_ways_are_refused(bad):
    with pytest.raises(GeometryError, match="out of range"):
        moved(sphere(GRID, 5), bad)
