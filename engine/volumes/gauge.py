"""How far from a line in units of a margin, and what margins reach from slice to slice.

The line of a slice is taken as straight between its points (``outline``). The gauge of a pixel is the way from the line
divided by the margin in that way's direction, quarters of ellipses between the four directions of the slice: 1 on the line
grown by the margin, negative inside. It is known in a band about the line, beyond which it stays at the band's edge.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.values import read_only
from engine.volumes.fitting import fitted
from engine.volumes.raster import half_level

Map = NDArray[np.float32]
Floats = NDArray[np.float64]
Reach = tuple[float, float, float, float]
BAND_PX = 3.5  # known so far beyond the margin outside, and so far inside
LEAST_PX = 0.02  # a margin of nothing is as little as this
UNKNOWN = np.empty((0, 0), np.float32)  # distances nobody needs


def gauge_of(alpha: NDArray[np.uint8], reach_px: Reach) -> Map | None:
    """Return the gauge of each pixel of a slice, float32; None where no pixel is half covered.

    `reach_px` is the margin towards (lower rows, higher rows, lower columns, higher columns).
    """
    alpha = read_only(alpha)
    points, starts = fitted(*half_level(alpha), alpha, False)
    if len(points) == 0:
        return None
    up, down, left, right = (max(float(m), LEAST_PX) for m in reach_px)
    return _band(alpha, points, starts, up, down, left, right, BAND_PX)


def gauge_of_map(level_map: Map, reach_px: Reach) -> Map | None:
    """Return the gauge from the line where a map of distances passes zero; negative is inside; None for none."""
    alpha = read_only(np.where(level_map < 0, np.uint8(255), np.uint8(0)))
    points, starts = half_level(alpha)
    if len(points) == 0:
        return None
    _onto_zero(points, level_map)
    up, down, left, right = (max(float(m), LEAST_PX) for m in reach_px)
    return _band(alpha, points, starts, up, down, left, right, BAND_PX)


@njit(cache=True, nogil=True)
def _onto_zero(points: Floats, level_map: Map) -> None:
    """Slide points between pixel centres to where the map, linear there, is zero."""
    rows, columns = level_map.shape
    for i in range(points.shape[0]):
        r, c = math.floor(points[i, 0]), math.floor(points[i, 1])
        along = 1 if points[i, 0] == r else 0
        s, d = r + (1 - along), c + along
        if r < 0 or c < 0 or s >= rows or d >= columns:
            continue
        a, b = np.float64(level_map[r, c]), np.float64(level_map[s, d])
        points[i, along] = (c if along == 1 else r) + min(0.99, max(0.01, a / (a - b)))


def gauge_of_point(shape: tuple[int, int], at: tuple[float, float], reach_px: Reach) -> Map:
    """Return the gauge of each pixel from one point (row, column) that has no inside."""
    up, down, left, right = (max(float(m), LEAST_PX) for m in reach_px)
    r = np.arange(shape[0])[:, None] - at[0]
    c = np.arange(shape[1])[None, :] - at[1]
    out = np.hypot(np.where(r > 0, r / down, r / up), np.where(c > 0, c / right, c / left))
    return out.astype(np.float32)


@njit(cache=True, nogil=True, fastmath=True)
def _near_edge(
    out: Map,
    edge: tuple[float, float, float, float],
    reach: tuple[float, float],
    low: tuple[float, float],
    box: tuple[int, int, int, int],
) -> None:
    """Lower squared gauges to those from one edge, the same margin on both sides; single precision, eight at a time."""
    y0, x0, y1, x1 = edge
    vy, vx = (y1 - y0) / reach[0], (x1 - x0) / reach[1]
    long = vy * vy + vx * vx
    back = 1.0 / long if long > 1e-18 else 0.0
    one, nothing, per = np.float32(1.0), np.float32(0.0), np.float32(1.0 / reach[1])
    wy, wx, at = np.float32(vy), np.float32(vx), np.float32(vx * back)
    for r in range(box[0], box[1] + 1):
        # Of the row only what lies within the band of the edge.
        off = max(0.0, max(min(y0, y1) - r, r - max(y0, y1))) / low[0]
        wide = low[1] * math.sqrt(max(0.0, 1.0 - off * off)) + 1.0
        first = max(box[2], math.ceil(min(x0, x1) - wide))
        last = min(box[3], math.floor(max(x0, x1) + wide))
        py = np.float32((r - y0) / reach[0])
        start, row = np.float32((first - x0) / reach[1]), np.float32((r - y0) / reach[0] * vy * back)
        for c in range(last - first + 1):
            px = start + np.float32(c) * per
            t = min(one, max(nothing, row + px * at))
            dy, dx = py - t * wy, px - t * wx
            out[r, first + c] = min(out[r, first + c], dy * dy + dx * dx)


@njit(cache=True, nogil=True)
def _band(
    alpha: NDArray[np.uint8],
    points: Floats,
    starts: NDArray[np.int64],
    up: float,
    down: float,
    left: float,
    right: float,
    band: float,
) -> Map:
    rows, columns = alpha.shape
    out = np.full((rows, columns), np.float32(1e12))
    outer = 1.0 + band / max(max(up, down), max(left, right))  # no pixel beyond the band has less
    # Outside, a pixel lies towards `down` of the line where it is lower; inside, the line lies so from the pixel.
    same = up == down and left == right
    low_r = max(down, up) + band
    low_c = max(left, right) + band
    for loop in range(starts.size - 1):
        s, e = starts[loop], starts[loop + 1]
        for i in range(s, e):
            j = i + 1 if i + 1 < e else s
            y0, x0, y1, x1 = points[i, 0], points[i, 1], points[j, 0], points[j, 1]
            r0 = max(0, math.ceil(min(y0, y1) - low_r))
            r1 = min(rows - 1, math.floor(max(y0, y1) + low_r))
            c0 = max(0, math.ceil(min(x0, x1) - low_c))
            c1 = min(columns - 1, math.floor(max(x0, x1) + low_c))
            if same:
                _near_edge(out, (y0, x0, y1, x1), (up, left), (low_r, low_c), (r0, r1, c0, c1))
                continue
            for r in range(r0, r1 + 1):
                for c in range(c0, c1 + 1):
                    turn = -1.0 if alpha[r, c] > 127 else 1.0
                    t = 0.5
                    g = 0.0
                    for _ in range(2):
                        wy, wx = turn * (r - y0 - t * (y1 - y0)), turn * (c - x0 - t * (x1 - x0))
                        my, mx = (down if wy > 0.0 else up), (right if wx > 0.0 else left)
                        vy, vx = (y1 - y0) / my, (x1 - x0) / mx
                        py, px = (r - y0) / my, (c - x0) / mx
                        long = vy * vy + vx * vx
                        t = min(1.0, max(0.0, (py * vy + px * vx) / long)) if long > 1e-18 else 0.0
                    wy, wx = turn * (r - y0 - t * (y1 - y0)), turn * (c - x0 - t * (x1 - x0))
                    my, mx = (down if wy > 0.0 else up), (right if wx > 0.0 else left)
                    g = (wy / my) ** 2 + (wx / mx) ** 2
                    out[r, c] = min(out[r, c], np.float32(g))
    for r in range(rows):
        for c in range(columns):
            g = math.sqrt(out[r, c]) if out[r, c] < 1e12 else outer
            # Inside, a gentler way than those looked at may lead to a line further off.
            out[r, c] = -min(g, outer) if alpha[r, c] > 127 else g
    return out


@njit(cache=True, nogil=True)
def reach_from(
    best: Map, low: tuple[Map, Map], high: tuple[Map, Map], heights: tuple[float, float], sign: float, deep: float
) -> None:
    """Lower `best` to what margins reach from a stretch between two levels.

    `low` and `high` are the gauges of the levels and the signed distances to their lines in any unit (empty if not known).
    Gauges run linear from level to level; where a pixel changes sides they pass zero when the line comes by, that is where
    the distances do: a gauge of a margin that is next to nothing on one side says nothing of when that is.
    `heights` are the ways along z from the plane of `best` in units of the margin that way, both on one side. A level at z
    reaches where its gauge is under w = sqrt(1 - z^2); the least of gauge - w is kept, so that `best` is zero on the line;
    under `deep` it need not be lower still. `sign` -1 takes gauges with the other sign: the outside grows.
    """
    from_z, to_z = heights
    if min(abs(from_z), abs(to_z)) >= 1.0:
        return
    step = to_z - from_z
    # Only the part of the stretch within reach.
    first, last = 0.0, 1.0
    if abs(to_z) > 1.0:
        last = ((1.0 if to_z > 0.0 else -1.0) - from_z) / step
    if abs(from_z) > 1.0:
        first = ((1.0 if from_z > 0.0 else -1.0) - from_z) / step
    w_most = math.sqrt(1.0 - min(abs(from_z), abs(to_z)) ** 2)
    rows, columns = best.shape
    known = low[1].size > 0 and high[1].size > 0
    for r in range(rows):
        for c in range(columns):
            found = best[r, c]
            if found < deep:
                continue
            a, b = sign * low[0][r, c], sign * high[0][r, c]
            if min(a, b) - w_most >= found:
                continue
            if known and (a < 0.0) != (b < 0.0):
                p, q = abs(np.float64(low[1][r, c])), abs(np.float64(high[1][r, c]))
                t = p / (p + q) if p + q > 0.0 else 0.5
                found = min(found, _least(a, 0.0, from_z, step, 0.0, t, first, last))
                found = min(found, _least(0.0, b, from_z, step, t, 1.0, first, last))
            else:
                found = min(found, _least(a, b, from_z, step, 0.0, 1.0, first, last))
            best[r, c] = found


@njit(cache=True, nogil=True)
def _least(a: float, b: float, from_z: float, step: float, start: float, end: float, first: float, last: float) -> float:
    """Return the least gauge - sqrt(1 - z^2) of a gauge that runs from a at `start` to b at `end`, from first to last."""
    low, high = max(start, first), min(end, last)
    if low > high:
        return 1e9
    rise = (b - a) / (end - start) if end > start else 0.0
    g_low, g_high = a + rise * (low - start), b - rise * (end - high)
    z_low, z_high = from_z + low * step, from_z + high * step
    least = min(g_low - math.sqrt(max(0.0, 1.0 - z_low * z_low)), g_high - math.sqrt(max(0.0, 1.0 - z_high * z_high)))
    if step != 0.0 and rise != 0.0:
        slope = -rise / step
        z = slope / math.sqrt(1.0 + slope * slope)
        t = (z - from_z) / step
        if low < t < high:
            least = min(least, a + rise * (t - start) - math.sqrt(max(0.0, 1.0 - z * z)))
    return least
