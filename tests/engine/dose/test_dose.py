import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import own_array
from engine.dose.dose import Dose, weighted_sum
from engine.space.grid import Grid

GRID = Grid((0, 0, 0), (2, 2, 2), (3, 4, 5))


def filled(value, grid=GRID, quality="fine"):
    return Dose(own_array(np.full(grid.shape, value, dtype=np.float32)), grid, "x", quality)


def test_a_sum_weights_each_beam_and_keeps_the_worst_quality():
    total = weighted_sum([filled(0.01), filled(0.02, quality="quick")], [100.0, 50.0])
    assert np.allclose(total.gy, 2.0)
    assert total.quality == "quick"


def test_sums_need_one_grid_and_one_factor_each():
    other = Grid((1, 0, 0), (2, 2, 2), (3, 4, 5))
    for doses, factors in (([], []), ([filled(1)], [1, 2]), ([filled(1), filled(1, other)], [1, 1])):
        with pytest.raises(GeometryError):
            weighted_sum(doses, factors)


def test_an_array_of_another_shape_or_type_is_refused():
    for bad in (np.zeros((3, 4, 4), np.float32), np.zeros(GRID.shape, np.float64)):
        with pytest.raises(GeometryError):
            Dose(own_array(bad), GRID)
