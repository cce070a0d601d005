import platform

import numpy as np
import pytest
from numba import njit

from engine.base.small_numbers import as_before, let_vanish

SMALL = np.full(4, 1e-30, np.float32)


@njit
def fade(values, out):
    before = let_vanish()
    for i in range(values.size):
        out[i] = values[i] * values[i]
        out[i] = out[i] + np.float32(1e-40)
    as_before(before)


@njit
def plain(values, out):
    for i in range(values.size):
        out[i] = values[i] * np.float32(1e-10)


@pytest.mark.skipif(platform.machine().lower() not in ("x86_64", "amd64"), reason="a mark of x86 processors")
def test_what_is_too_small_becomes_nothing():
    out = np.ones(4, np.float32)
    fade(SMALL, out)
    assert np.all(out == 0)


def test_afterwards_all_is_as_it_was():
    out = np.ones(4, np.float32)
    fade(SMALL, out)
    plain(SMALL, out)
    assert np.all(out > 0)
    assert np.float32(1e-30) * np.float32(1e-10) > 0
