"""Smoothing and filling through the slices."""

from __future__ import annotations

import math

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.volumes.coverage import Coverage
from engine.volumes.margins import subtract, union
from engine.volumes.stack import dense_box, fill_cavities, placed, smooth_through
from tests.support.solids import block, cube_grid, cylinder, sphere, stacked

GRID = cube_grid(30, 1.0, 3.0)


def spread_of_radii(coverage):
    radii = [math.sqrt(a / math.pi) for _, a in coverage.areas_mm2]
    return float(np.abs(np.diff(radii)).mean())


@pytest.mark.parametrize("width", [0.5, 2.0, 4.0])
def test_the_volume_stays(width):
    for shape in (sphere(GRID, 15), block(GRID, (-12, -9, -9), (12, 9, 9)), cylinder(GRID, 8, 20)):
        assert smooth_through(shape, width).volume_cm3 == pytest.approx(shape.volume_cm3, rel=0.02)


def test_steps_between_slices_are_smoothed_in_true_mm():
    rough = stacked(GRID, lambda z: 12 + 2 * (math.floor(z / 3) % 2) if abs(z) < 24 else 0)
    found = smooth_through(rough, 3.0)
    middle = Coverage(GRID, tuple(t for t in found.tiles if abs(GRID.z_mm[t.plane]) < 15))
    assert spread_of_radii(middle) < 0.4 < 1.9 < spread_of_radii(rough)


def test_a_ball_stays_round():
    found = smooth_through(sphere(GRID, 18), 2.0)
    for plane, area in found.areas_mm2:
        z = GRID.z_mm[plane]
        if abs(z) < 12:
            assert math.sqrt(area / math.pi) == pytest.approx(math.sqrt(18**2 - z * z), abs=0.25)


def test_small_volumes_stay_and_nothing_is_nothing():
    grain = Coverage(GRID).with_slice(5, np.eye(60, dtype=np.uint8) * (np.arange(60) == 30).astype(np.uint8) * 90)
    assert not smooth_through(grain, 5.0).is_empty
    assert smooth_through(Coverage(GRID), 2.0).is_empty
    ball = sphere(GRID, 10)
    assert smooth_through(ball, 0) is ball
    one = Coverage(GRID, cylinder(GRID, 10, 2).tiles[:1])
    assert smooth_through(one, 2.0).volume_cm3 == pytest.approx(one.volume_cm3, rel=0.01)


def test_a_volume_at_the_scans_end_is_not_worn_from_there():
    whole = cylinder(GRID, 12, 99)
    assert smooth_through(whole, 3.0).planes == whole.planes
    assert dict(smooth_through(whole, 3.0).areas_mm2)[0] == pytest.approx(math.pi * 144, rel=5e-3)


@pytest.mark.parametrize("width", [-1, 21, math.nan])
def test_absurd_widths_are_refused(width):
    with pytest.raises(GeometryError, match="between 0 and 20"):
        smooth_through(sphere(GRID, 8), width)


def test_a_closed_cavity_is_filled_to_the_brim_and_an_open_one_is_not():
    outer = sphere(GRID, 20)
    hollow = subtract(outer, sphere(GRID, 8))
    assert fill_cavities(hollow) == outer
    piped = subtract(outer, cylinder(GRID, 4, 30))  # a hole in every slice, open at both ends
    assert fill_cavities(piped) == piped


def test_only_cavities_up_to_the_size_are_filled():
    big, small = sphere(GRID, 7, (-10, 0, 0)), sphere(GRID, 3.5, (10, 0, 0))
    outer = sphere(GRID, 25)
    hollow = subtract(outer, union(big, small))
    assert fill_cavities(hollow, 0.5) == subtract(outer, big)
    assert fill_cavities(hollow, 0.01) == hollow
    assert fill_cavities(Coverage(GRID)).is_empty


def test_a_box_goes_out_and_comes_back():
    ball = sphere(GRID, 10, (3, -4, 2))
    data, first, box = dense_box(ball, (2, 3, 99, 1), 2)
    assert box[2] == 0
    back = placed(ball, first, box, list(data))
    assert back == ball
    assert all(a is b for a, b in zip(back.tiles, ball.tiles))
