import numpy as np
import pytest

from engine.dose.fan import Fan
from engine.dose.gather import gather
from engine.dose.sight import sight_of
from engine.space.grid import Grid
from tests.support.dose import beam

COARSE = Grid((-60.0, -60.0, -60.0), (5.0, 5.0, 5.0), (25, 25, 25))
NONE = np.empty((0, 0, 0), np.float32)


def one(grid):
    return np.ones(grid.shape, np.float32)


@pytest.mark.parametrize("spacing", [1.0, 2.5, 5.0, 7.0])
def test_a_linear_dose_is_read_exactly(spacing):
    x, y, z = np.meshgrid(COARSE.x_mm, COARSE.y_mm, COARSE.z_mm, indexing="ij")
    coarse = (100 + x - 0.5 * y + 0.2 * z).transpose(2, 1, 0).astype(np.float32)
    grid = Grid((-20.3, -11.0, 3.7), (spacing,) * 3, (4, 5, 6))
    out = gather(grid, coarse, COARSE, NONE, NONE, None, sight_of(beam(100), "HFS", 1000.0), one(grid))
    truth = 100 + grid.x_mm[None, None, :] - 0.5 * grid.y_mm[None, :, None] + 0.2 * grid.z_mm[:, None, None]
    assert np.allclose(out, truth, rtol=1e-5)


def test_nothing_is_read_outside():
    grid = Grid((-100.0, 0.0, 0.0), (5.0, 5.0, 5.0), (2, 2, 20))
    out = gather(grid, one(COARSE), COARSE, NONE, NONE, None, sight_of(beam(100), "HFS", 1000.0), one(grid))
    assert np.all(out[:, :, grid.x_mm < -63] == 0)
    assert np.all(out[:, :, grid.x_mm > -60] == 1)


@pytest.mark.parametrize(("gantry", "collimator", "couch"), [(0.0, 0.0, 0.0), (40.0, 20.0, 0.0), (275.0, 110.0, 30.0)])
def test_the_fan_is_read_where_its_cells_lie(gantry, collimator, couch):
    sight = sight_of(beam(100, (2.0, 3.0, -4.0), gantry, collimator, couch), "HFS", 1000.0)
    step = 2.0
    fan = Fan(step, (-0.03, -0.024, 960.0), (40, 25, 31))
    t = 960.0 * np.exp(step / 1000 * np.arange(40))[:, None, None]
    q = (-0.024 + step / 1000 * np.arange(25))[None, :, None]
    p = (-0.03 + step / 1000 * np.arange(31))[None, None, :]
    cells = (5 + 0.01 * (t - 1000) + 30 * p - 20 * q).astype(np.float32)
    grid = Grid((-13.0, -11.0, -14.0), (3.0, 2.5, 2.0), (9, 8, 7))
    factor = np.full(grid.shape, 2.0, np.float32)
    out = gather(grid, 0 * one(COARSE), COARSE, cells, np.ones_like(cells), fan, sight, factor)
    index = np.stack(np.meshgrid(*(np.arange(n) for n in grid.shape), indexing="ij"), axis=-1)
    device = (grid.point(index.astype(float)) - sight.isocentre_mm) @ sight.to_device.T
    t = 1000 - device[..., 2]
    truth = 5 + 0.01 * (t - 1000) + 30 * device[..., 0] / t - 20 * device[..., 1] / t
    assert np.allclose(out, 2 * truth, atol=2e-3)


def test_beside_the_fan_only_the_coarse_grid_counts():
    sight = sight_of(beam(100), "HFS", 1000.0)
    fan = Fan(2.0, (-0.01, -0.01, 990.0), (11, 11, 11))
    grid = Grid((-40.0, 0.0, 0.0), (4.0, 4.0, 4.0), (1, 1, 21))
    out = gather(
        grid, one(COARSE), COARSE, np.ones(fan.shape, np.float32), np.ones(fan.shape, np.float32), fan, sight, one(grid)
    )
    assert np.all(out[0, 0, np.abs(grid.x_mm) > 12] == 1)
    assert np.all(out[0, 0, np.abs(grid.x_mm) < 10] == 2)


def test_dose_between_cells_goes_with_the_matter_passed():
    # The dose rises by one per cell of matter; a cell a quarter full before the surface must not shift it.
    sight = sight_of(beam(100, (0.0, 0.0, 0.0)), "HFS", 1000.0)
    step = 2.0
    eta = step / 1000
    fan = Fan(step, (-0.01, -0.01, 990.0), (11, 11, 11))
    rho = np.ones(fan.shape, np.float32)
    rho[:3], rho[3] = 0.0, 0.25
    middle = np.cumsum(rho, axis=0) - 0.5 * rho
    t = 990.0 * np.exp(eta * np.arange(11))
    grid = Grid((0.0, -6.0, 0.0), (1.0, 0.25, 1.0), (1, 60, 1))
    out = gather(grid, 0 * one(COARSE), COARSE, middle.astype(np.float32), rho, fan, sight, one(grid))[0, :, 0]
    at = 1000 + grid.y_mm
    border = 990.0 * np.exp(eta * 3.5)
    inside = (at > border) & (at < t[-1])
    truth = 0.25 + np.log(at / border) / eta
    assert np.allclose(out[inside], truth[inside], atol=0.01)
