"""Volumes turned and added back, against numpy's transpose."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.dose.turning import ORDER, add_back, turned

SIDES = st.integers(1, 40)


@settings(max_examples=40, deadline=None)
@given(st.tuples(SIDES, SIDES, SIDES), st.integers(0, 2), st.integers(0, 2**32 - 1))
def test_turned_is_the_transpose_and_goes_back_to_the_last_bit(shape, axis, seed):
    rng = np.random.default_rng(seed)
    values, total = (rng.normal(size=shape).astype(np.float32) for _ in range(2))
    there = turned(values, axis)
    assert there.flags.c_contiguous
    assert np.array_equal(there, values.transpose(ORDER[axis]))
    wanted = total + values
    add_back(there, axis, total)
    assert np.array_equal(total, wanted)


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_a_volume_that_is_not_in_order_in_memory_is_turned_too(axis):
    values = np.arange(24, dtype=np.float32).reshape(4, 3, 2).transpose(2, 0, 1)
    assert np.array_equal(turned(values, axis), values.transpose(ORDER[axis]))
