"""Where a half-level line passes between pixel centres, told by more than the two shares beside it.

A row that turns from full to empty within four pixels is as long as it is covered, whatever way a straight edge crosses
it (``raster.half_level``): its point is known. An edge that bends is not at its mean over the pixel's height but off by a
twenty-fourth of its second derivative, which the points around tell. Where an edge runs along its row instead, four pixels
do not hold it; the columns that it crosses are known then, and its point is taken from these.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
RIM = 0.02  # no point comes nearer to a pixel's centre
SHARPEST = 1.0  # radians a pixel: what bends by more is a corner
MOST_BENT = 1.2  # pixels: no larger second derivative is believed


@njit(cache=True, nogil=True)
def share_at(alpha: NDArray[np.uint8], r: int, c: int) -> int:
    """Return the share of a pixel, 0 outside the slice."""
    return int(alpha[r, c]) if 0 <= r < alpha.shape[0] and 0 <= c < alpha.shape[1] else 0


@njit(cache=True, nogil=True)
def settled(
    points: Floats, starts: NDArray[np.int64], axis: NDArray[np.int64], wanted: NDArray[np.bool_], alpha: NDArray[np.uint8]
) -> Floats:
    """Return half-level lines (``raster.half_level``) whose `wanted` points are settled along their free axis (0 or 1)."""
    out = points.copy()
    known = np.zeros(len(points), np.bool_)
    for i in range(len(points)):
        r, c = math.floor(points[i, 0]), math.floor(points[i, 1])
        dr, dc = 1 - axis[i], axis[i]
        before, beyond = share_at(alpha, r - dr, c - dc), share_at(alpha, r + 2 * dr, c + 2 * dc)
        known[i] = (before >= 254 and beyond <= 1) or (before <= 1 and beyond >= 254)
    for loop in range(starts.size - 1):
        s, e = starts[loop], starts[loop + 1]
        if e - s < 8:
            continue
        for i in range(s, e):
            if known[i] and wanted[i]:
                _unbend(out, points, s, e, i, axis[i])
        for i in range(s, e):
            if wanted[i] and not known[i]:
                _from_beside(out, points, known, axis, s, e, i)
    return out


@njit(cache=True, nogil=True)
def _unbend(out: Floats, points: Floats, s: int, e: int, i: int, k: int) -> None:
    """Move a mean over a pixel's height to where a bent edge passes in its middle."""
    n = e - s
    h, j = s + (i - s - 2) % n, s + (i - s + 2) % n
    uy, ux = points[i, 0] - points[h, 0], points[i, 1] - points[h, 1]
    vy, vx = points[j, 0] - points[i, 0], points[j, 1] - points[i, 1]
    cross, along = uy * vx - ux * vy, uy * vy + ux * vx
    far = 0.5 * (math.sqrt(uy * uy + ux * ux) + math.sqrt(vy * vy + vx * vx))
    # Along the way that is not free, and along the free one.
    run, rise = (uy + vy, ux + vx) if k == 1 else (ux + vx, uy + vy)
    if run == 0.0 or far == 0.0:
        return
    bend = math.atan2(cross, along) / far
    if abs(bend) > SHARPEST:
        return
    steep = 1.0 + (rise / run) ** 2
    second = min(MOST_BENT, abs(bend) * steep * math.sqrt(steep))
    # Turning from the first axis to the second, the line bends towards more columns where it runs down.
    towards = 1.0 if (bend > 0.0) == ((run > 0.0) == (k == 1)) else -1.0
    low = math.floor(points[i, k])
    out[i, k] = min(low + 1.0 - RIM, max(low + RIM, points[i, k] - towards * second / 24.0))


@njit(cache=True, nogil=True)
def _from_beside(
    out: Floats, points: Floats, known: NDArray[np.bool_], axis: NDArray[np.int64], s: int, e: int, i: int
) -> None:
    """Put a point where the line through two known ones on both sides passes, or that through one where two are not."""
    n = e - s
    k = axis[i]
    g, h, j, m = s + (i - s - 2) % n, s + (i - s - 1) % n, s + (i - s + 1) % n, s + (i - s + 2) % n
    if not (known[h] and known[j]) or axis[h] == k or axis[j] == k:
        return
    way = points[j, k] - points[h, k]
    a, b, at = out[h, 1 - k], out[j, 1 - k], points[i, 1 - k]
    if abs(way) != 1.0 or (a - at) * (b - at) >= 0.0:
        return
    t = (at - a) / (b - a)
    if known[g] and known[m] and points[g, k] == points[h, k] - way and points[m, k] == points[j, k] + way:
        before, beyond = out[g, 1 - k], out[m, 1 - k]
        for _ in range(3):
            cubic = a * (t + 1.0) * (t - 1.0) * (t - 2.0) / 2.0 - b * (t + 1.0) * t * (t - 2.0) / 2.0
            cubic += beyond * (t + 1.0) * t * (t - 1.0) / 6.0 - before * t * (t - 1.0) * (t - 2.0) / 6.0
            t = min(1.0 - RIM, max(RIM, t - (cubic - at) / (b - a)))
    out[i, k] = points[h, k] + way * min(1.0 - RIM, max(RIM, t))
