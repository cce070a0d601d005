"""Margins of both signs, rings, and the image's edge, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.volumes.coverage import Coverage
from engine.volumes.extent import SIDES, beyond, change, cut_sides, cut_words, ring
from engine.volumes.margins import equal, grow, shrink
from tests.support.solids import block, cube_grid, cylinder, sphere

GRID = cube_grid(40, 1.0, 2.0)


def box_of(coverage):
    """Return the faces of a box by its sums of shares, to a fraction of a pixel."""
    grid, middle = coverage.grid, coverage.slice(coverage.planes[len(coverage.planes) // 2]) / 255
    row, column = middle[:, 40], middle[40]  # through the middle, away from rounded corners
    out = []
    for line, at in ((column, grid.x_mm), (row, grid.y_mm)):
        centre, width = (line * at).sum() / line.sum(), line.sum()
        out += [centre - width / 2, centre + width / 2]
    low, high = coverage.bounds_mm()
    return [*out, low[2], high[2]]


@pytest.mark.parametrize(
    "six", [(5, -3, 0, 0, 0, 0), (5, -5, 5, -5, 4, -4), (-2, 3, -4, 5, -2, 6), (8, 8, 8, 8, -4, -4), (0, 0, 0, -6, 0, 2)]
)
def test_each_side_of_a_box_moves_by_its_own_margin(six):
    left, right, ant, post, inf, sup = six
    found = box_of(change(block(GRID, (-12, -10, -8), (12, 10, 8)), six))
    expected = (-12 - right, 12 + left, -10 - ant, 10 + post, -8 - inf, 8 + sup)
    assert found == pytest.approx(expected, abs=0.06)


def test_one_sign_is_what_growing_and_shrinking_are():
    ball = sphere(GRID, 12)
    assert change(ball, equal(5)) == grow(ball, equal(5))
    assert change(ball, equal(-5)) == shrink(ball, equal(5))
    assert change(ball, equal(0)) is ball


def test_a_plate_thinner_than_it_shrinks_moves():
    plate = block(GRID, (-2, -15, -8), (2, 15, 8))
    found = change(plate, (6, -6, 0, 0, 0, 0))
    assert found.centroid_mm()[0] == pytest.approx(6, abs=0.05)
    assert found.volume_cm3 == pytest.approx(plate.volume_cm3, rel=0.02)


def test_a_ball_grown_to_one_side_and_cut_on_the_other():
    """Along x it is as long as it was, moved; the widest section across keeps its radius."""
    ball = change(sphere(GRID, 15), (6, -6, 0, 0, 0, 0))
    line = ball.slice(20)[40] / 255
    assert line.sum() == pytest.approx(30, abs=0.15)
    assert (line * GRID.x_mm).sum() / line.sum() == pytest.approx(6, abs=0.1)


@pytest.mark.parametrize("bad", [(math.nan,) * 6, (1, -1, 0, 0, 0, 300), (-500,) * 6, (math.inf, 0, 0, 0, 0, 0)])
def test_absurd_margins_are_refused(bad):
    with pytest.raises(GeometryError, match="six numbers"):
        change(sphere(GRID, 8), bad)


@pytest.mark.parametrize(("gap", "width"), [(0.0, 5.0), (3.0, 6.0), (-4.0, 4.0), (-3.0, 6.0)])
def test_a_ring_around_a_ball_has_the_volume_between_two_balls(gap, width):
    grid = cube_grid(36, 1.0, 1.0)
    found = ring(sphere(grid, 18), gap, width).volume_cm3
    assert found == pytest.approx(4 / 3 * np.pi * ((18 + gap + width) ** 3 - (18 + gap) ** 3) / 1000, rel=0.02)


@pytest.mark.parametrize(("gap", "width"), [(0, 0), (0, -2), (math.nan, 2), (2, math.nan), (150, 100)])
def test_rings_that_make_no_sense_are_refused(gap, width):
    with pytest.raises(GeometryError):
        ring(sphere(GRID, 8), gap, width)


def test_empty_and_single_slices():
    assert change(Coverage(GRID), (5, -5, 0, 0, 0, 0)).is_empty
    assert ring(Coverage(GRID), 1, 2).is_empty
    one = cylinder(GRID, 10, 1.5)
    disc = Coverage(GRID, one.tiles[:1])
    assert len(change(disc, (3, -3, 0, 0, 0, 0)).planes) == 1
    assert len(change(disc, equal(4)).planes) == 5


def test_the_side_where_the_image_ends_first_is_named():
    high = block(GRID, (-38, -5, 20), (5, 5, 40))
    assert cut_sides(high, equal(1)) == ("superior",)
    assert cut_sides(high, (0, 3, 0, 0, 0, 0)) == ("right",)
    assert cut_sides(high, equal(0)) == ()
    assert cut_sides(Coverage(GRID), equal(50)) == ()
    assert beyond(high, np.full(3, -99.0), np.full(3, 99.0)) == SIDES
    assert cut_words(()) == ""
    assert cut_words(("left", "superior")) == "Cut at the image's edge: left, superior."
