"""The guard lets a change through only where it is allowed."""

from __future__ import annotations

import numpy as np

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.guard import allowed_by, held, held_coverage

GRID = Grid((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (3, 4, 4))


def u8(*values: int) -> np.ndarray:
    return np.array(values, np.uint8)


def test_painting_rises_to_the_allowed_share_and_keeps_what_lay_beyond():
    assert held(u8(0, 0, 0, 200), u8(255, 255, 100, 255), u8(255, 80, 255, 0)).tolist() == [255, 80, 100, 200]


def test_erasing_falls_to_the_rest():
    assert held(u8(255, 255, 255, 20), u8(0, 0, 0, 0), u8(255, 100, 0, 0)).tolist() == [0, 155, 255, 20]


def test_inside_and_outside_are_complements():
    share = u8(0, 100, 255)
    assert allowed_by(share, True).tolist() == [0, 100, 255]
    assert allowed_by(share, False).tolist() == [255, 155, 0]


def test_a_whole_volume_is_held_slice_by_slice():
    wall = np.zeros(GRID.shape, np.uint8)
    wall[:, :, :2] = 255
    full = Coverage.from_dense(GRID, np.full(GRID.shape, 255, np.uint8))
    empty = Coverage(GRID)
    assert np.array_equal(held_coverage(empty, full, Coverage.from_dense(GRID, wall), True).dense(), wall)
    assert np.array_equal(held_coverage(empty, full, Coverage.from_dense(GRID, wall), False).dense(), 255 - wall)
    assert np.array_equal(held_coverage(full, empty, Coverage.from_dense(GRID, wall), True).dense(), 255 - wall)
