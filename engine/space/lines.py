"""Reading a volume along straight lines, compiled."""

from __future__ import annotations

import numpy as np
from numba import njit

from engine.base.apart import fetch, put, read_back, send_for

_LAST = 1.001


@njit(cache=True, nogil=True, error_model="numpy")
def trilinear(values, at, dz, dy, dx, fz, fy, fx):  # type: ignore[no-untyped-def]
    """Return the value between eight of a flat array: at `at` and one step further along each axis.

    dz, dy, dx : steps in the array (uint64), fz, fy, fx : shares of the way; x first, then y, then z
    """
    beside, below = at + dy, at + dz
    across = below + dy
    a = fetch(values, at) + (fetch(values, at + dx) - fetch(values, at)) * fx
    b = fetch(values, beside) + (fetch(values, beside + dx) - fetch(values, beside)) * fx
    c = fetch(values, below) + (fetch(values, below + dx) - fetch(values, below)) * fx
    d = fetch(values, across) + (fetch(values, across + dx) - fetch(values, across)) * fx
    a, c = a + (b - a) * fy, c + (d - c) * fy
    return a + (c - a) * fz


@njit(cache=True, nogil=True, error_model="numpy")
def add_line(values, shape, start, step, gain, out):  # type: ignore[no-untyped-def]
    """Add `gain` times the values of a volume at start, start + step, ... to `out` (n,); trilinear.

    values : flat, of `shape` (planes, rows, columns), at least two each; what lies outside reads the rim
    start, step : fractional index (plane, row, column), float32 each
    """
    f, zero = np.float32, np.float32(0.0)
    row, plane, one = np.uint64(shape[2]), np.uint64(shape[1] * shape[2]), np.uint64(1)
    z0, y0, x0 = start
    dz, dy, dx = step
    last_z, last_y, last_x = f(shape[0] - _LAST), f(shape[1] - _LAST), f(shape[2] - _LAST)
    for n in range(np.uint32(out.size)):
        c = f(np.int32(n))
        z = min(max(z0 + dz * c, zero), last_z)
        y = min(max(y0 + dy * c, zero), last_y)
        x = min(max(x0 + dx * c, zero), last_x)
        k, j, i = np.int32(z), np.int32(y), np.int32(x)
        fz, fy, fx = z - f(k), y - f(j), x - f(i)
        at = np.uint64(k) * plane + np.uint64(j) * row + np.uint64(i)
        value = trilinear(values, at, plane, row, one, fz, fy, fx)
        put(out, n, read_back(out, n) + gain * value)


@njit(cache=True, nogil=True, error_model="numpy")
def send_for_line(values, shape, start, step, count):  # type: ignore[no-untyped-def]
    """Have the memory that ``add_line`` would read brought near; worth it where it lies far apart."""
    f, zero = np.float32, np.float32(0.0)
    row, plane = np.uint64(shape[2]), np.uint64(shape[1] * shape[2])
    z0, y0, x0 = start
    dz, dy, dx = step
    last_z, last_y, last_x = f(shape[0] - _LAST), f(shape[1] - _LAST), f(shape[2] - _LAST)
    for n in range(count):
        c = f(n)
        z = min(max(z0 + dz * c, zero), last_z)
        y = min(max(y0 + dy * c, zero), last_y)
        x = min(max(x0 + dx * c, zero), last_x)
        at = np.uint64(np.int32(z)) * plane + np.uint64(np.int32(y)) * row + np.uint64(np.int32(x))
        send_for(values, at)
        send_for(values, at + row)
        send_for(values, at + plane)
        send_for(values, at + plane + row)
