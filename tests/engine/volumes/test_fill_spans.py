"""A slab that opens to the side counts as inside; what lies beyond stays outside."""

import numpy as np

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.tidy import fill_spans


def test_a_gap_between_two_slabs_is_filled_and_the_couch_below_stays_out():
    grid = Grid((0, 0, 0), (1, 1, 1), (1, 12, 10))
    data = np.zeros(grid.shape, dtype=np.uint8)
    data[0, 1:3, 2:8] = 255
    data[0, 6:9, 2:8] = 200
    filled = fill_spans(Coverage.from_dense(grid, data)).dense()
    assert (filled[0, 3:6, 2:8] == 200).all()
    assert (filled[0, 1:3, 2:8] == 255).all()
    assert not filled[0, 9:].any()
    assert not filled[0, :, :2].any()
    assert fill_spans(Coverage(grid)).is_empty
