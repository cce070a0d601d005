"""Lines that cross: found where they do, and only there."""

import numpy as np
import pytest

from engine.base.values import own_array
from engine.volumes import evidence as ev
from engine.volumes.crossing import crossings, of_lines
from engine.volumes.volume import Contour, Volume
from tests.support.solids import cube_grid, sphere

GRID = cube_grid(50, 1.0, 2.5)
BOW = np.array([(0, 0), (20, 20), (20, 0), (0, 20)], np.float64)
SQUARE = np.array([(0, 0), (20, 0), (20, 20), (0, 20)], np.float64)
# A square with a square hole, joined by a channel there and back.
KEYHOLE = np.array(
    [(0, 0), (20, 0), (20, 20), (0, 20), (0, 10), (5, 10), (5, 15), (15, 15), (15, 5), (5, 5), (5, 10), (0, 10)], np.float64
)


def ring(n, radius, at=(0.0, 0.0)):
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    return np.column_stack((np.cos(t), np.sin(t))) * radius + at


def test_a_line_that_crosses_itself_is_found_at_the_place():
    assert crossings([BOW]) == pytest.approx(np.array([(10.0, 10.0)]))
    assert crossings([np.vstack((BOW, BOW[:1]))]) == pytest.approx(np.array([(10.0, 10.0)]))  # closed once more
    assert crossings([BOW[::-1]]) == pytest.approx(np.array([(10.0, 10.0)]))


def test_keyholes_nested_and_touching_lines_do_not_cross():
    assert len(crossings([SQUARE])) == 0
    assert len(crossings([KEYHOLE])) == 0
    assert len(crossings([SQUARE, SQUARE * 0.5 + 5])) == 0
    assert len(crossings([SQUARE, SQUARE + (20, 0)])) == 0
    assert len(crossings([ring(2000, 80.0)])) == 0


def test_two_lines_of_a_plane_that_cross_are_found():
    at = crossings([ring(360, 10.0), ring(361, 10.0, (10.0, 0.0))])
    assert np.sort(at[:, 1]) == pytest.approx([-np.sqrt(75), np.sqrt(75)], abs=0.01)
    assert at[:, 0] == pytest.approx([5.0, 5.0], abs=0.01)


def test_what_lies_within_the_tolerance_touches():
    thin = np.array([(0, 0), (10, 0.001), (20, 0), (20, 0.0005), (0, 0.0005)], np.float64)
    assert len(crossings([thin])) == 2
    assert len(crossings([thin], tolerance=0.02)) == 0


def test_evidence_names_slices_and_a_place():
    lines = tuple(
        Contour(own_array(np.column_stack((loop, np.full(len(loop), z))))) for loop, z in ((BOW, 5.0), (SQUARE, 2.5))
    )
    volume = Volume("v", "Heart", "OAR", (1, 2, 3), sphere(GRID, 15), original=lines)
    (seen,) = of_lines(volume, ev.DEFAULT_LIMITS)
    assert seen.code == ev.CROSSING
    assert seen.planes == (GRID.plane_at(5.0),)
    assert seen.point_mm == pytest.approx((10, 10, 5))
    assert "1 place, on 1 slice" in seen.words
    assert of_lines(volume.but(original=lines[1:]), ev.DEFAULT_LIMITS) == []
    assert of_lines(volume.with_coverage(volume.coverage), ev.DEFAULT_LIMITS) == []
