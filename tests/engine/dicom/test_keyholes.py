"""Holes joined to outer lines."""

from __future__ import annotations

import numpy as np
import pytest

from engine.dicom.keyholes import keyholes, nested
from engine.space.grid import Grid
from engine.volumes.outline import filled


def square(half, x=0.0, y=0.0, z=0.0):
    return np.array([(x - half, y - half, z), (x + half, y - half, z), (x + half, y + half, z), (x - half, y + half, z)])


def area(line):
    x, y = line[:, 0], line[:, 1]
    return abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) / 2)


@pytest.mark.parametrize(
    "loops",
    [
        [square(10)],
        [square(10), square(4)],
        [square(10), square(2, -5), square(2, 5)],
        [square(12), square(9), square(5), square(2)],
        [square(5, -10), square(2, -10), square(5, 10)],
    ],
    ids=["plain", "ring", "two holes", "island in a hole", "two parts"],
)
def test_lines_mean_the_same_as_nested_loops(loops):
    lines = keyholes(loops)
    grid = Grid((-20, -20, 0), (0.5, 0.5, 1), (1, 81, 81))
    assert np.array_equal(filled(grid, lines).dense(), filled(grid, loops).dense())
    assert not any(area(line) == 0 for line in lines)


def test_a_ring_becomes_one_line_through_all_points():
    loops = [square(10), square(4)[::-1]]
    (line,) = keyholes(loops)
    assert len(line) == 4 + 4 + 2
    assert area(line) == pytest.approx(400 - 64)


def test_nesting_is_seen():
    assert nested([square(10), square(4)])
    assert not nested([square(3, -10), square(3, 10)])
    assert keyholes([square(3)[:2]]) == []
