"""Planes across any axis: reading them, writing them back, places on them."""

from __future__ import annotations

import numpy as np
import pytest

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.planes import in_plane, out_of_plane, pixel_mm, plane_of, slice_of, with_plane

GRID = Grid((-10.0, -20.0, 5.0), (1.0, 2.0, 3.0), (6, 9, 11))


def some(seed: int = 0) -> Coverage:
    rng = np.random.default_rng(seed)
    data = np.where(rng.random(GRID.shape) < 0.2, rng.integers(1, 256, GRID.shape), 0).astype(np.uint8)
    data[2] = 0
    return Coverage.from_dense(GRID, data)


@pytest.mark.parametrize(("axis", "index"), [("z", 0), ("z", 2), ("x", 0), ("x", 10), ("y", 4)])
def test_a_plane_written_is_the_plane_read_and_nothing_else_changes(axis, index):
    before = some()
    data = slice_of(some(1), axis, index)
    after = with_plane(before, axis, index, data)
    wanted = before.dense()
    plane_of(wanted, axis, index)[:] = data
    assert np.array_equal(after.dense(), wanted)
    # as small as it can be: the same tiles as from the dense stack
    assert after == Coverage.from_dense(GRID, wanted)


@pytest.mark.parametrize("axis", ["x", "y"])
def test_an_emptied_plane_and_an_unchanged_one(axis):
    whole = np.zeros(GRID.shape, np.uint8)
    plane_of(whole, axis, 3)[:] = 200
    lone = Coverage.from_dense(GRID, whole)
    assert with_plane(lone, axis, 3, np.zeros_like(slice_of(lone, axis, 3))).is_empty
    same = with_plane(lone, axis, 3, slice_of(lone, axis, 3))
    assert all(a is b for a, b in zip(same.tiles, lone.tiles))


@pytest.mark.parametrize(("axis", "index"), [("z", 4), ("x", 4), ("y", 4)])
def test_places_go_there_and_back(axis, index):
    point = out_of_plane(GRID, axis, index, (1.5, 2.25))
    assert in_plane(GRID, axis, point) == pytest.approx((1.5, 2.25))
    assert pixel_mm(GRID, axis) == {"z": (2.0, 1.0), "x": (3.0, 2.0), "y": (3.0, 1.0)}[axis]
