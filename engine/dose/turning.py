"""Volumes with another axis first, and back; compiled, so that neither waits for the interpreter nor holds it."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.apart import fetch, put, read_back

Volume = NDArray[np.float32]

# The order of axes with each one first, and how a volume so turned goes back.
ORDER = {0: (0, 1, 2), 1: (1, 0, 2), 2: (2, 0, 1)}
# Columns that are turned together: their rows of one plane stay in the nearest cache.
_TOGETHER = 16


@njit(cache=True, nogil=True, error_model="numpy")
def _turn(values, shape, axis, out):  # type: ignore[no-untyped-def]
    planes, rows, columns = shape
    if axis == 1:
        for j in range(rows):
            for k in range(planes):
                here, there = (k * rows + j) * columns, (j * planes + k) * columns
                for i in range(columns):
                    put(out, there + i, fetch(values, here + i))
        return
    for first in range(0, columns, _TOGETHER):
        for k in range(planes):
            for i in range(first, min(first + _TOGETHER, columns)):
                here, there = k * rows * columns + i, (i * planes + k) * rows
                for j in range(rows):
                    put(out, there + j, fetch(values, here + j * columns))


@njit(cache=True, nogil=True, error_model="numpy")
def _add_back(values, shape, axis, out):  # type: ignore[no-untyped-def]
    planes, rows, columns = shape
    if axis < 2:
        for k in range(planes):
            for j in range(rows):
                here = (k * rows + j) * columns
                there = here if axis == 0 else (j * planes + k) * columns
                for i in range(columns):
                    put(out, here + i, read_back(out, here + i) + fetch(values, there + i))
        return
    for first in range(0, columns, _TOGETHER):
        for k in range(planes):
            for i in range(first, min(first + _TOGETHER, columns)):
                here, there = k * rows * columns + i, (i * planes + k) * rows
                for j in range(rows):
                    at = here + j * columns
                    put(out, at, read_back(out, at) + fetch(values, there + j))


def turned(values: Volume, axis: int) -> Volume:
    """Return a volume with one axis (0, 1, 2) first, the others in order; itself for the first."""
    if axis == 0:
        return np.ascontiguousarray(values)
    out = np.empty([values.shape[a] for a in ORDER[axis]], np.float32)
    turn: Any = _turn
    turn(np.ascontiguousarray(values).reshape(-1), values.shape, axis, out.reshape(-1))
    return out


def add_back(values: Volume, axis: int, out: Volume) -> None:
    """Add a volume that is ``turned`` to one that is not."""
    add: Any = _add_back
    add(values.reshape(-1), out.shape, axis, out.reshape(-1))
