import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.space.grid import Grid
from engine.space.raytrace import crossings, line_integral

GRID = Grid((-9.0, -14.0, 3.0), (2.0, 4.0, 3.0), (5, 8, 10))
LO, HI = (np.array(v) for v in GRID.bounds_mm)
place = st.tuples(st.floats(-40, 40), st.floats(-60, 60), st.floats(-30, 50))


def length_in_box(a, b):
    """Return the length of a segment inside the grid by clipping it against six planes (closed form)."""
    a, d = np.array(a), np.subtract(b, a)
    t0, t1 = 0.0, 1.0
    for k in range(3):
        if abs(d[k]) < 1e-12:
            if not LO[k] <= a[k] <= HI[k]:
                return 0.0
            continue
        u, v = sorted(((LO[k] - a[k]) / d[k], (HI[k] - a[k]) / d[k]))
        t0, t1 = max(t0, u), min(t1, v)
    return max(0.0, t1 - t0) * float(np.linalg.norm(d))


@given(place, place)
def test_lengths_sum_to_the_part_inside(a, b):
    index, length = crossings(GRID, a, b)
    assert length.sum() == pytest.approx(length_in_box(a, b), abs=1e-7)
    assert np.all(length > 0)
    assert np.all((index >= 0) & (index < GRID.shape))


@given(place, place)
def test_both_ways_cross_the_same_mass(a, b):
    data = np.random.default_rng(5).random(GRID.shape)
    assert line_integral(data, GRID, a, b) == pytest.approx(line_integral(data, GRID, b, a), abs=1e-6)


@given(place, place)
def test_neighbours_differ_by_one_step(a, b):
    index, _ = crossings(GRID, a, b)
    assert np.all(np.abs(np.diff(index, axis=0)).max(axis=1, initial=0) <= 1)


def test_a_line_along_an_axis_crosses_every_voxel_by_its_width():
    index, length = crossings(GRID, (-100.0, -14.0, 3.0), (100.0, -14.0, 3.0))
    assert np.allclose(length, 2.0)
    assert np.array_equal(index, [(0, 0, i) for i in range(10)])


def test_a_diagonal_in_a_cube_has_the_closed_form():
    cube = Grid((0.5, 0.5, 0.5), (1.0, 1.0, 1.0), (4, 4, 4))
    _, length = crossings(cube, (-1.0, -1.0, -1.0), (5.0, 5.0, 5.0))
    assert length.sum() == pytest.approx(4 * np.sqrt(3))
    assert line_integral(np.full((4, 4, 4), 2.0), cube, (0, 0, 2.5), (4, 3, 2.5)) == pytest.approx(10.0)


def test_a_point_or_a_miss_crosses_nothing():
    assert crossings(GRID, (0.0, 0.0, 5.0), (0.0, 0.0, 5.0))[1].size == 0
    assert crossings(GRID, (500.0, 0.0, 0.0), (500.0, 90.0, 0.0))[1].size == 0
