"""What a corner does to the shares of the pixels around it, in a small window, and where it does most good."""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.volumes.settled import share_at

WINDOW = 12  # pixels that a corner may change, each way
MOST_IN_TIP = 6  # of the nine pixels about one in a tip, partly covered
NEEDLE = 0.7  # cosine of the sharpest angle of a corner that no sides tell
TRIES = 5
_STEP, _FAR = 0.05, 0.4

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@njit(cache=True, nogil=True)
def lack_of(lacks: NDArray[np.float32], met: NDArray[np.uint8], alpha: NDArray[np.uint8], r: int, c: int) -> float:
    """Return what a pixel lacks; one that no line meets is whole or empty for the line."""
    if not (0 <= r < alpha.shape[0] and 0 <= c < alpha.shape[1]):
        return 0.0
    if met[r + 1, c + 1]:
        return lacks[r + 1, c + 1]
    share = alpha[r, c] / 255.0
    return share if share < 0.5 else share - 1.0


@njit(cache=True, nogil=True)
def foggy(alpha: NDArray[np.uint8], blurred: Bools, r: int, c: int) -> bool:
    """Return whether a pixel lies in a blurred edge: not in a tip, beside which few are partly covered."""
    if not (0 <= r < alpha.shape[0] and 0 <= c < alpha.shape[1] and blurred[r, c]):
        return False
    count = 0
    for i in range(r - 1, r + 2):
        for k in range(c - 1, c + 2):
            count += 4 < share_at(alpha, i, k) < 251
    return count > MOST_IN_TIP


@njit(cache=True, nogil=True)
def _add(window: Floats, y0: float, x0: float, y1: float, x1: float, sign: float) -> None:
    """Add what an edge takes off the shares of a window's pixels, whose first has its middle at (0, 0)."""
    rows, columns = window.shape
    dy, dx = y1 - y0, x1 - x0
    r, c = math.floor(y0 + 0.5), math.floor(x0 + 0.5)
    down, right = 1 if dy > 0 else -1, 1 if dx > 0 else -1
    # Where along the edge the next face of each kind is met.
    to_row = (r + 0.5 * down - y0) / dy if dy != 0.0 else 2.0
    to_column = (c + 0.5 * right - x0) / dx if dx != 0.0 else 2.0
    begin = 0.0
    while begin < 1.0:
        end = min(1.0, min(to_row, to_column))
        if end > begin and 0 <= r < rows and 0 <= c < columns:
            along = x0 + 0.5 * (begin + end) * dx + 0.5 - c
            low = sign * (end - begin) * dy
            window[r, c] += low * (1.0 - along)
            if c + 1 < columns:
                window[r, c + 1] += low * along
        if to_row <= to_column:
            r += down
            to_row += abs(1.0 / dy) if dy != 0.0 else 2.0
        else:
            c += right
            to_column += abs(1.0 / dx) if dx != 0.0 else 2.0
        begin = end


@njit(cache=True, nogil=True)
def _change(window: Floats, p: Floats, first: int, count: int, s: int, n: int, at: Floats, y: float, x: float) -> None:
    """Fill how much less pixels lack if the `count` points of a loop after `first` give way to one at (y, x)."""
    window[:] = 0.0
    a, b = s + first % n, s + (first + count + 1) % n
    _add(window, p[a, 0] - at[0], p[a, 1] - at[1], y - at[0], x - at[1], 1.0)
    _add(window, y - at[0], x - at[1], p[b, 0] - at[0], p[b, 1] - at[1], 1.0)
    for k in range(count + 1):
        i, j = s + (first + k) % n, s + (first + k + 1) % n
        _add(window, p[i, 0] - at[0], p[i, 1] - at[1], p[j, 0] - at[0], p[j, 1] - at[1], -1.0)
    for r in range(window.shape[0]):
        total = 0.0
        for c in range(window.shape[1]):
            total += window[r, c]
            window[r, c] = total


@njit(cache=True, nogil=True)
def settle(
    p: Floats, first: int, count: int, s: int, n: int, at: Floats, lack: Floats, heard: Floats, x: Floats, free: bool
) -> float:
    """Move a corner until the pixels of a window lack least; return what share of the worst lack is left.

    lack : what its pixels lack now; heard : 0 for those that do not count, which a `free` point leaves alone
    """
    window, side = np.empty(lack.shape), np.empty((2, *lack.shape))
    for _ in range(TRIES):
        _change(window, p, first, count, s, n, at, x[0], x[1])
        for axis in range(2):
            step = _STEP if axis == 0 else 0.0
            _change(side[axis], p, first, count, s, n, at, x[0] + step, x[1] + _STEP - step)
        g0, g1, h00, h01, h11 = 0.0, 0.0, 1e-3, 0.0, 1e-3
        for r in range(lack.shape[0]):
            for c in range(lack.shape[1]):
                if heard[r, c] > 0.0:
                    left = lack[r, c] + window[r, c]
                    d0, d1 = (side[0, r, c] - window[r, c]) / _STEP, (side[1, r, c] - window[r, c]) / _STEP
                    g0 += left * d0
                    g1 += left * d1
                    h00 += d0 * d0
                    h01 += d0 * d1
                    h11 += d1 * d1
        size = h00 * h11 - h01 * h01
        by0, by1 = (h01 * g1 - h11 * g0) / size, (h01 * g0 - h00 * g1) / size
        x[0] += min(_FAR, max(-_FAR, by0))
        x[1] += min(_FAR, max(-_FAR, by1))
        if abs(by0) + abs(by1) < 0.01:
            break
    _change(window, p, first, count, s, n, at, x[0], x[1])
    before, after = 1e-9, 0.0
    for r in range(lack.shape[0]):
        for c in range(lack.shape[1]):
            if heard[r, c] > 0.0 and abs(window[r, c]) > 1e-3:
                before, after = max(before, abs(lack[r, c])), max(after, abs(lack[r, c] + window[r, c]))
            elif free and heard[r, c] == 0.0 and abs(window[r, c]) > 0.02:
                return 1.0
    if free:
        # Nothing tells that there is a needle.
        a, b = p[s + first % n], p[s + (first + count + 1) % n]
        ay, ax, by, bx = a[0] - x[0], a[1] - x[1], b[0] - x[0], b[1] - x[1]
        if ay * by + ax * bx > NEEDLE * math.sqrt((ay * ay + ax * ax) * (by * by + bx * bx)):
            return 1.0
    return after / before


@njit(cache=True, nogil=True)
def box_of(p: Floats, first: int, count: int, s: int, n: int, x: Floats) -> tuple[Floats, Floats]:
    """Return the box around a corner, the points it stands for (`count` of a loop after `first`) and their neighbours."""
    low, high = x.copy(), x.copy()
    for k in range(count + 2):
        for axis in range(2):
            low[axis] = min(low[axis], p[s + (first + k) % n, axis])
            high[axis] = max(high[axis], p[s + (first + k) % n, axis])
    return low, high


@njit(cache=True, nogil=True)
def window_of(
    p: Floats,
    first: int,
    count: int,
    s: int,
    n: int,
    alpha: NDArray[np.uint8],
    blurred: Bools,
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
    x: Floats,
) -> tuple[Floats, Floats, Floats]:
    """Return the first pixel of the window a corner may change, what its pixels lack, and which count; empty if large."""
    low, high = box_of(p, first, count, s, n, x)
    low, high = np.minimum(low, x - 1.0), np.maximum(high, x + 1.0)
    at = np.floor(low + 0.5) - 1.0
    rows, columns = int(math.floor(high[0] + 0.5) - at[0]) + 2, int(math.floor(high[1] + 0.5) - at[1]) + 2
    if max(rows, columns) > WINDOW:
        return at, np.zeros((0, 0)), np.zeros((0, 0))
    lack, heard = np.zeros((rows, columns)), np.ones((rows, columns))
    for r in range(rows):
        for c in range(columns):
            y, z = int(at[0]) + r, int(at[1]) + c
            lack[r, c] = lack_of(lacks, met, alpha, y, z)
            if foggy(alpha, blurred, y, z):
                heard[r, c] = 0.0
    return at, lack, heard


@njit(cache=True, nogil=True)
def keep(
    p: Floats,
    first: int,
    count: int,
    s: int,
    n: int,
    at: Floats,
    alpha: NDArray[np.uint8],
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
    x: Floats,
    shape: tuple[int, int],
) -> None:
    """Write what pixels lack with the corner."""
    window = np.empty(shape)
    _change(window, p, first, count, s, n, at, x[0], x[1])
    for r in range(shape[0]):
        for c in range(shape[1]):
            y, z = int(at[0]) + r, int(at[1]) + c
            if window[r, c] != 0.0 and 0 <= y < alpha.shape[0] and 0 <= z < alpha.shape[1]:
                lacks[y + 1, z + 1] = lack_of(lacks, met, alpha, y, z) + window[r, c]
                met[y + 1, z + 1] = 1
