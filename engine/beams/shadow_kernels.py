"""Compiled loops of ``silhouette`` and ``conform``. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True, error_model="numpy")
def see_slabs(points, isocentre, to_beam, sad, half, low, middle, high):  # type: ignore[no-untyped-def]
    """Fill where points (n, 3), and those `half` below and above them in z, are seen on the isocentre plane, (n, 2) each.

    Returns how near to the source the nearest comes (beam Z), and the least and greatest of low and high: x, y, x, y.
    """
    nearest, x0, y0, x1, y1 = -np.inf, np.inf, np.inf, -np.inf, -np.inf
    for i in range(points.shape[0]):
        x, y, z = points[i, 0] - isocentre[0], points[i, 1] - isocentre[1], points[i, 2] - isocentre[2]
        u = to_beam[0, 0] * x + to_beam[0, 1] * y + to_beam[0, 2] * z
        v = to_beam[1, 0] * x + to_beam[1, 1] * y + to_beam[1, 2] * z
        t = to_beam[2, 0] * x + to_beam[2, 1] * y + to_beam[2, 2] * z
        by = sad / (sad - t)
        middle[i, 0], middle[i, 1] = u * by, v * by
        for side in (-1.0, 1.0):
            lift = side * half
            here = t + to_beam[2, 2] * lift
            nearest, by = max(nearest, here), sad / (sad - here)
            a, b = (u + to_beam[0, 2] * lift) * by, (v + to_beam[1, 2] * lift) * by
            x0, y0, x1, y1 = min(x0, a), min(y0, b), max(x1, a), max(y1, b)
            if side < 0:
                low[i, 0], low[i, 1] = a, b
            else:
                high[i, 0], high[i, 1] = a, b
    return nearest, x0, y0, x1, y1


@njit(cache=True, nogil=True)
def fill_sides(low, high, following, mask):  # type: ignore[no-untyped-def]
    rows, columns = mask.shape
    px = np.empty(4)
    py = np.empty(4)
    for i in range(low.shape[0]):
        j = following[i]
        px[0], py[0] = low[i, 0], low[i, 1]
        px[1], py[1] = low[j, 0], low[j, 1]
        px[2], py[2] = high[j, 0], high[j, 1]
        px[3], py[3] = high[i, 0], high[i, 1]
        r0 = max(0, int(np.ceil(min(min(py[0], py[1]), min(py[2], py[3])) - 1e-9)))
        r1 = min(rows - 1, int(np.floor(max(max(py[0], py[1]), max(py[2], py[3])) + 1e-9)))
        for r in range(r0, r1 + 1):
            left, right = 1e30, -1e30
            for a in range(4):
                b = (a + 1) % 4
                lo, hi = min(py[a], py[b]), max(py[a], py[b])
                if r < lo - 1e-9 or r > hi + 1e-9:
                    continue
                if hi - lo < 1e-12:
                    left, right = min(left, px[a], px[b]), max(right, px[a], px[b])
                else:
                    t = min(1.0, max(0.0, (r - py[a]) / (py[b] - py[a])))
                    x = px[a] + t * (px[b] - px[a])
                    left, right = min(left, x), max(right, x)
            for c in range(max(0, int(np.ceil(left - 1e-9))), min(columns - 1, int(np.floor(right + 1e-9))) + 1):
                mask[r, c] = 1


@njit(cache=True, nogil=True)
def fill_sections(middle, following, starts, mask):  # type: ignore[no-untyped-def]
    rows, columns = mask.shape
    for s in range(starts.shape[0] - 1):
        a, b = starts[s], starts[s + 1]
        if b <= a:
            continue
        top = middle[a:b, 1].max()
        bottom = middle[a:b, 1].min()
        r0, r1 = max(0, int(np.ceil(bottom))), min(rows - 1, int(np.floor(top)))
        if r1 < r0:
            continue
        # Counting sort of the crossings by row, then the even-odd rule along each row.
        number = np.zeros(r1 - r0 + 2, dtype=np.int64)
        for i in range(a, b):
            j = following[i]
            y0, y1 = min(middle[i, 1], middle[j, 1]), max(middle[i, 1], middle[j, 1])
            for r in range(max(r0, int(np.ceil(y0))), min(r1, int(np.ceil(y1)) - 1) + 1):
                number[r - r0 + 1] += 1
        at = np.cumsum(number)
        crossings = np.empty(at[-1])
        place = at[:-1].copy()
        for i in range(a, b):
            j = following[i]
            y0, y1 = min(middle[i, 1], middle[j, 1]), max(middle[i, 1], middle[j, 1])
            for r in range(max(r0, int(np.ceil(y0))), min(r1, int(np.ceil(y1)) - 1) + 1):
                t = (r - middle[i, 1]) / (middle[j, 1] - middle[i, 1])
                crossings[place[r - r0]] = middle[i, 0] + t * (middle[j, 0] - middle[i, 0])
                place[r - r0] += 1
        for r in range(r0, r1 + 1):
            row = np.sort(crossings[at[r - r0] : at[r - r0 + 1]])
            for k in range(0, row.shape[0] - 1, 2):
                for c in range(max(0, int(np.ceil(row[k]))), min(columns - 1, int(np.floor(row[k + 1]))) + 1):
                    mask[r, c] = 1


@njit(cache=True, nogil=True)
def strip_extents(points, edges, left, right, down, up):  # type: ignore[no-untyped-def]
    """Return (lowest x, highest x) within each strip of y of ovals about points (n, 2).

    An oval reaches `left` and `right`, `down` and `up` from its point, its quarters are parts of ellipses; four equal
    reaches make a disc. Strips that no oval meets get (inf, -inf).
    """
    strips = edges.shape[0] - 1
    lo = np.full(strips, np.inf)
    hi = np.full(strips, -np.inf)
    for i in range(points.shape[0]):
        x, y = points[i, 0], points[i, 1]
        first = max(0, np.searchsorted(edges, y - down, side="right") - 1)
        for s in range(first, strips):
            if edges[s] > y + up:
                break
            above, below = max(0.0, edges[s] - y), max(0.0, y - edges[s + 1])
            if above > up or below > down:
                continue
            share = above / up if above > 0 else below / down if below > 0 else 0.0
            wide = np.sqrt(max(0.0, 1.0 - share * share))
            lo[s] = min(lo[s], x - left * wide)
            hi[s] = max(hi[s], x + right * wide)
    return lo, hi
