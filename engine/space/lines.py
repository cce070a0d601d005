"""Reading a volume along straight lines, compiled."""

from __future__ import annotations

import numpy as np
from numba import njit

from engine.base.apart import fetch, fetch_pair, put, read_back, send_for

_LAST = 1.001


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def trilinear(values, at, dz, dy, dx, fz, fy, fx):  # type: ignore[no-untyped-def]
    """Return the value between eight of a flat array: at `at` and one step further along each axis.

    at, dz, dy, dx : place and steps in the array (int32: more of them are worked out and read at once than of 64 bits)
    fz, fy, fx : shares of the way; x first, then y, then z
    """
    whole = np.int32
    beside, below = whole(at + dy), whole(at + dz)
    across = whole(below + dy)
    a = fetch(values, at) + (fetch(values, whole(at + dx)) - fetch(values, at)) * fx
    b = fetch(values, beside) + (fetch(values, whole(beside + dx)) - fetch(values, beside)) * fx
    c = fetch(values, below) + (fetch(values, whole(below + dx)) - fetch(values, below)) * fx
    d = fetch(values, across) + (fetch(values, whole(across + dx)) - fetch(values, across)) * fx
    a, c = a + (b - a) * fy, c + (d - c) * fy
    return a + (c - a) * fz


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def add_line(values, shape, start, step, gain, out):  # type: ignore[no-untyped-def]
    """Add `gain` times the values of a volume at start, start + step, ... to `out` (n,); trilinear.

    values : flat, of `shape` (planes, rows, columns), at least two each, fewer than 2^31; what lies outside reads the rim
    start, step : fractional index (plane, row, column), float32 each
    """
    f, whole, zero = np.float32, np.int32, np.float32(0.0)
    row, plane = whole(shape[2]), whole(shape[1] * shape[2])
    z0, y0, x0 = start
    dz, dy, dx = step
    last_z, last_y, last_x = f(shape[0] - _LAST), f(shape[1] - _LAST), f(shape[2] - _LAST)
    for n in range(np.uint32(out.size)):
        c = f(whole(n))
        z = min(max(z0 + dz * c, zero), last_z)
        y = min(max(y0 + dy * c, zero), last_y)
        x = min(max(x0 + dx * c, zero), last_x)
        k, j, i = whole(z), whole(y), whole(x)
        fz, fy, fx = z - f(k), y - f(j), x - f(i)
        at = whole(whole(k * plane) + whole(whole(j * row) + i))
        below = whole(at + plane)
        a0, a1 = fetch_pair(values, at)
        b0, b1 = fetch_pair(values, whole(at + row))
        c0, c1 = fetch_pair(values, below)
        d0, d1 = fetch_pair(values, whole(below + row))
        a, b, c, d = a0 + (a1 - a0) * fx, b0 + (b1 - b0) * fx, c0 + (c1 - c0) * fx, d0 + (d1 - d0) * fx
        a, c = a + (b - a) * fy, c + (d - c) * fy
        put(out, n, read_back(out, n) + gain * (a + (c - a) * fz))


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
