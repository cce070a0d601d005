"""The ball brush: its volume, its shares at the edge, its way through thick slices."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.space.grid import Grid
from engine.volumes.ball import planes_of_ball, sweep_ball

GRID = Grid((-40.0, -30.0, -45.0), (1.0, 1.25, 3.0), (31, 49, 81))


def painted(start, stop, radius, data=None, erase=False):
    data = np.zeros(GRID.shape, np.uint8) if data is None else data
    for k in planes_of_ball(GRID, start, stop, radius):
        sweep_ball(data[k], k, GRID, start, stop, radius, erase)
    return data


def cm3(data):
    return data.sum(dtype=np.int64) / 255 * GRID.voxel_cm3


@pytest.mark.parametrize("radius", [1.0, 2.0, 4.5, 10.0, 20.0])
def test_a_dab_has_the_volume_of_its_ball(radius):
    data = painted((0.3, 0.4, 0.7), (0.3, 0.4, 0.7), radius)
    assert cm3(data) == pytest.approx(4 / 3 * np.pi * radius**3 / 1000, rel=0.03 if radius < 2 else 0.012)


@pytest.mark.parametrize("stop", [(12.0, 0.0, 0.0), (0.0, 9.0, 12.0), (0.0, 0.0, 15.0)])
def test_a_stroke_has_the_volume_of_its_way(stop):
    radius, length = 8.0, float(np.linalg.norm(stop))
    data = painted((0.0, 0.0, 0.0), stop, radius)
    wanted = np.pi * radius**2 * length + 4 / 3 * np.pi * radius**3
    assert cm3(data) == pytest.approx(wanted / 1000, rel=0.012)


def test_shares_at_the_edge_are_those_of_the_ball():
    radius, centre = 7.0, np.array([0.2, 0.1, 0.0])
    data = painted(tuple(centre), tuple(centre), radius)
    rng = np.random.default_rng(3)
    offsets = (rng.random((4000, 3)) - 0.5) * GRID.spacing_mm
    for k, r, c in ((15, 24, 46), (17, 24, 41), (13, 27, 42), (16, 20, 38)):
        points = GRID.point((k, r, c)) + offsets
        share = (((points - centre) ** 2).sum(axis=1) <= radius**2).mean()
        assert data[k, r, c] / 255 == pytest.approx(share, abs=0.05)


def test_erasing_takes_the_same_ball_away():
    full = np.full(GRID.shape, 255, np.uint8)
    painted((0, 0, 0), (5, 0, 3), 9.0, full, erase=True)
    assert np.array_equal(255 - full, painted((0, 0, 0), (5, 0, 3), 9.0))


def test_the_box_that_changed_and_what_lies_outside():
    data = np.zeros(GRID.shape[1:], np.uint8)
    dirty = sweep_ball(data, 15, GRID, (0, 0, 0), (0, 0, 0), 6.0)
    rows, columns = np.nonzero(data)
    assert dirty == (rows.min(), rows.max() + 1, columns.min(), columns.max() + 1)
    assert sweep_ball(data, 15, GRID, (0, 0, 0), (0, 0, 0), 6.0) == (0, 0, 0, 0)
    assert len(planes_of_ball(GRID, (0, 0, 500), (0, 0, 500), 6.0)) == 0
    only = np.zeros(data.shape, np.bool_)
    assert sweep_ball(data, 15, GRID, (0, 0, 0), (0, 0, 0), 20.0, only=only) == (0, 0, 0, 0)


def test_no_ball_without_a_radius():
    with pytest.raises(GeometryError):
        sweep_ball(np.zeros(GRID.shape[1:], np.uint8), 0, GRID, (0, 0, 0), (0, 0, 0), 0.0)


def test_a_mask_that_does_not_fit_is_refused():
    with pytest.raises(GeometryError, match="mask"):
        sweep_ball(np.zeros(GRID.shape[1:], np.uint8), 15, GRID, (0, 0, 0), (0, 0, 0), 6.0, only=np.ones((3, 3), bool))
