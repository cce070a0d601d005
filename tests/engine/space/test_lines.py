import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.ndimage import map_coordinates

from engine.space.lines import add_line

VALUES = np.random.default_rng(3).random((7, 9, 11)).astype(np.float32)
place = st.floats(-12, 18)


@settings(deadline=None, max_examples=60)
@given(st.tuples(place, place, place), st.tuples(*(st.floats(-1, 1),) * 3), st.integers(1, 40))
def test_a_line_reads_what_a_general_library_reads(start, step, count):
    out = np.ones(count, np.float32)
    add_line(VALUES.reshape(-1), VALUES.shape, *(tuple(map(np.float32, v)) for v in (start, step)), np.float32(0.5), out)
    points = np.array(start)[:, None] + np.array(step)[:, None] * np.arange(count)
    wanted = map_coordinates(VALUES, points, order=1, mode="nearest")
    # Near its far faces a line reads a thousandth of a voxel before them.
    assert out == pytest.approx(1 + 0.5 * wanted, abs=2e-3)


def test_two_planes_rows_and_columns_are_enough():
    tiny = np.arange(8, dtype=np.float32)
    out = np.zeros(3, np.float32)
    zero, half = np.float32(0.0), np.float32(0.5)
    add_line(tiny, (2, 2, 2), (zero, zero, zero), (half, half, half), np.float32(1.0), out)
    assert out == pytest.approx([0.0, 3.5, 7.0], abs=0.01)
