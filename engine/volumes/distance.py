"""Distances from the half-level line of a slice, to a fraction of a pixel.

The line is known where it crosses the lines of pixel centres, along rows and along columns. Each map is the smaller of
two separable passes: along rows from the row crossings, then over columns; and the other way round. Thus the distance
is that to the nearest crossing: exact for edges along the axes, and too long by at most (gap^2)/(8 distance) between
crossings, which lie no further than one pixel apart.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.volumes.raster import half_plane_area

FAR = np.float32(1e12)
Map = NDArray[np.float32]


@njit(cache=True, nogil=True)
def _along_rows(alpha: NDArray[np.uint8], less: float, more: float, beyond: float) -> Map:
    """Squared gauge distance along each row from the inside: (pixels / `more`)^2 towards higher columns.

    Followed `beyond` pixels further than the gauge's reach.
    """
    rows, columns = alpha.shape
    out = np.full((rows, columns), FAR, np.float32)
    for r in range(rows):
        edge = -1e9
        for c in range(columns):
            if alpha[r, c] > 127:
                out[r, c] = 0.0
                following = np.float64(alpha[r, c + 1]) if c + 1 < columns else 0.0
                if following < 127.5:
                    edge = c + (alpha[r, c] - 127.5) / (alpha[r, c] - following)
            elif more > 0.0:
                d = (c - edge) / more
                if c - edge < more + beyond:
                    out[r, c] = min(out[r, c], d * d)
        edge = 1e9
        for c in range(columns - 1, -1, -1):
            if alpha[r, c] > 127:
                before = np.float64(alpha[r, c - 1]) if c > 0 else 0.0
                if before < 127.5:
                    edge = c - (alpha[r, c] - 127.5) / (alpha[r, c] - before)
            elif less > 0.0:
                d = (edge - c) / less
                if edge - c < less + beyond:
                    out[r, c] = min(out[r, c], d * d)
    return out


@njit(cache=True, nogil=True)
def _runs(first: Map, low: np.float32, high: np.float32) -> tuple[NDArray[np.int64], NDArray[np.int32]]:
    """Return where along its row each run of values between `low` and `high`, both excluded, begins and ends.

    As (rows + 1,) places of the rows in a list of (begin, end).
    """
    rows, columns = first.shape
    at = np.zeros(rows + 1, np.int64)
    runs = np.empty((rows * (columns // 2 + 1), 2), np.int32)
    n = 0
    for r in range(rows):
        c = 0
        while c < columns:
            while c < columns and not low < first[r, c] < high:
                c += 1
            if c < columns:
                runs[n, 0] = c
                while c < columns and low < first[r, c] < high:
                    c += 1
                runs[n, 1] = c
                n += 1
        at[r + 1] = n
    return at, runs[:n].copy()


@njit(cache=True, nogil=True)
def _over_columns(first: Map, less: float, more: float) -> Map:
    """Spread row distances over the columns, two pixels further than the gauge's reach.

    Only what is near the line is looked at: pixels inside are 0 already, and those the rows do not reach lower nothing.
    """
    rows = len(first)
    out = first.copy()
    from_at, sources = _runs(first, np.float32(-1.0), FAR)
    to_at, targets = _runs(first, np.float32(0.0), np.float32(np.inf))
    for way in range(2):
        reach = more if way == 0 else less
        for step in range(1, math.ceil(reach) + 3 if reach > 0.0 else 1):
            f = np.float32((step / reach) ** 2)
            for r in range(rows):
                s = r - step if way == 0 else r + step
                if s < 0 or s >= rows:
                    continue
                i, j = from_at[s], to_at[r]
                while i < from_at[s + 1] and j < to_at[r + 1]:
                    for c in range(max(sources[i, 0], targets[j, 0]), min(sources[i, 1], targets[j, 1])):
                        out[r, c] = min(out[r, c], first[s, c] + f)
                    if sources[i, 1] < targets[j, 1]:
                        i += 1
                    else:
                        j += 1
    return out


def gauge_map(alpha: NDArray[np.uint8], reach_px: tuple[float, float, float, float]) -> Map:
    """Return the squared gauge of each pixel's way from the inside, float32; FAR where it is much above 1.

    `reach_px` (lower rows, higher rows, lower columns, higher columns) are the half axes of four quarter ellipses: the
    gauge is 1 on the line grown by that much. A reach of zero forbids that direction altogether.
    """
    up, down, left, right = (float(m) for m in reach_px)
    straight = _over_columns(_along_rows(alpha, left, right, 2.0), up, down)
    turned = _over_columns(_along_rows(np.ascontiguousarray(alpha.T), up, down, 2.0), left, right)
    return np.minimum(straight, turned.T)


@njit(cache=True, nogil=True)
def lower(lowest: Map, gauge: Map, more: np.float32) -> None:
    """Lower a map to `gauge` + `more` where that is less."""
    rows, columns = lowest.shape
    for r in range(rows):
        for c in range(columns):
            lowest[r, c] = min(lowest[r, c], gauge[r, c] + more)


@njit(cache=True, nogil=True)
def _envelope(first: Map, step: float) -> Map:
    """Spread squared distances over the columns, any distance: lower envelope of parabolas (Felzenszwalb 2012)."""
    rows, columns = first.shape
    out = np.full((rows, columns), FAR, np.float32)
    at = np.empty(rows, np.int64)
    cut = np.empty(rows + 1)
    s2 = step * step
    for c in range(columns):
        k = -1
        for q in range(rows):
            fq = np.float64(first[q, c])
            if fq >= 1e11:
                continue
            x = -1e18
            while k >= 0:
                p = at[k]
                x = ((fq + s2 * q * q) - (np.float64(first[p, c]) + s2 * p * p)) / (2.0 * s2 * (q - p))
                if x > cut[k]:
                    break
                k -= 1
                x = -1e18
            k += 1
            at[k] = q
            cut[k] = x
        if k < 0:
            continue
        n = 0
        for q in range(rows):
            while n < k and cut[n + 1] < q:
                n += 1
            p = at[n]
            out[q, c] = first[p, c] + s2 * (q - p) * (q - p)
    return out


def _one_side(alpha: NDArray[np.uint8], spacing: tuple[float, float]) -> Map:
    dr, dc = spacing
    straight = _envelope(_along_rows(alpha, 1.0 / dc, 1.0 / dc, math.inf), dr)
    turned = _envelope(_along_rows(np.ascontiguousarray(alpha.T), 1.0 / dr, 1.0 / dr, math.inf), dc)
    return np.sqrt(np.minimum(straight, turned.T))


def signed_distance_mm(alpha: NDArray[np.uint8], spacing_rc_mm: tuple[float, float]) -> Map:
    """Return the distance to the half-level line, negative inside, float32 mm; huge if the slice is empty.

    The array's rim is no edge: what touches it is taken to go on, so pad where the shape ends there.
    """
    padded = np.pad(alpha, 1, mode="edge")
    outside = _one_side(padded, spacing_rc_mm)
    inside = _one_side(np.uint8(255) - padded, spacing_rc_mm)
    return (outside - inside)[1:-1, 1:-1]


@njit(cache=True, nogil=True)
def share_below(level_map: Map, level: float) -> NDArray[np.uint8]:
    """Return the share of each pixel (uint8) in which a smooth map lies below `level`, its edge taken as straight."""
    rows, columns = level_map.shape
    out = np.zeros((rows, columns), np.uint8)
    for r in range(rows):
        for c in range(columns):
            here = np.float64(level_map[r, c])
            if here >= 1e5:
                continue
            gr, gc = 0.0, 0.0
            for side in range(4):
                i = r + (side == 0) - (side == 1)
                j = c + (side == 2) - (side == 3)
                if i < 0 or j < 0 or i >= rows or j >= columns:
                    continue
                other = np.float64(level_map[i, j])
                if other >= 1e5:
                    continue
                if side < 2:
                    gr = max(gr, abs(other - here))
                else:
                    gc = max(gc, abs(other - here))
            out[r, c] = int(half_plane_area(level - here, 0.5 * gr, 0.5 * gc) * 255.0 + 0.5)
    return out


@njit(cache=True, nogil=True)
def share_crossed(level_map: Map, level: float) -> NDArray[np.uint8]:
    """Return the share of each pixel (uint8) below `level` of any map, steep or not, its line between pixel centres.

    Unlike ``share_below`` only neighbours on the other side of the line count: a slope that leads away from it does not.
    """
    rows, columns = level_map.shape
    out = np.zeros((rows, columns), np.uint8)
    for r in range(rows):
        for c in range(columns):
            d = level - np.float64(level_map[r, c])
            gr, gc = 0.0, 0.0
            for side in range(4):
                i = r + (side == 0) - (side == 1)
                j = c + (side == 2) - (side == 3)
                if i < 0 or j < 0 or i >= rows or j >= columns:
                    continue
                other = level - np.float64(level_map[i, j])
                if (other >= 0.0) == (d >= 0.0):
                    continue
                if side < 2:
                    gr = max(gr, abs(other - d))
                else:
                    gc = max(gc, abs(other - d))
            out[r, c] = int(half_plane_area(d, 0.5 * gr, 0.5 * gc) * 255.0 + 0.5)
    return out
