"""Compiled loops of ``quick_view``. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit

# Rays keep so far inside the box, in cells: more than what fixed point loses on the way.
_EDGE = 0.01


@njit(cache=True, nogil=True, fastmath=True)
def sum_rays(box, start, corner, along, down, spacing, rows, out):  # type: ignore[no-untyped-def]
    """Sum a box along rays, plane by plane of its first axis, linear within each plane (Joseph, IEEE Trans Med Imaging
    1 (1982) 192).

    Parameters
    ----------
    box : uint8 (a, b, c), its rim zero
    start : where the rays start, fractional index (a, b, c)
    corner, along, down : the ray of pixel (r, c) passes through corner + c * along + r * down, fractional index
    spacing : mm of a step along each axis
    rows : first and past-the-last row to fill
    out : float32 (rows, columns); mean value times length in mm
    """
    na, nb, nc = box.shape
    flat = box.ravel()
    plane = nb * nc
    for r in range(rows[0], rows[1]):
        for c in range(out.shape[1]):
            da = corner[0] + c * along[0] + r * down[0] - start[0]
            db = corner[1] + c * along[1] + r * down[1] - start[1]
            dc = corner[2] + c * along[2] + r * down[2] - start[2]
            out[r, c] = 0.0
            if abs(da) < 1e-9:
                continue
            # Index b and c on plane a: at zero and for each plane further on.
            sb, sc = db / da, dc / da
            b0, c0 = start[1] - start[0] * sb, start[2] - start[0] * sc
            first, last = 0.0, na - 1.0
            if da > 0:
                first = max(first, start[0])
            else:
                last = min(last, start[0])
            for base, slope, size in ((b0, sb, nb), (c0, sc, nc)):
                if abs(slope) < 1e-9:
                    if base < _EDGE or base > size - 1.0 - _EDGE:
                        last = -1.0
                else:
                    lo, hi = (_EDGE - base) / slope, (size - 1.0 - _EDGE - base) / slope
                    first, last = max(first, min(lo, hi)), min(last, max(lo, hi))
            i0, i1 = int(np.ceil(first)), int(np.floor(last))
            if i1 < i0:
                continue
            # Fixed point with 16 bits below the dot: cheaper than turning floats to indices at every step.
            fb, fc = np.int64((b0 + i0 * sb) * 65536.0), np.int64((c0 + i0 * sc) * 65536.0)
            gb, gc = np.int64(sb * 65536.0), np.int64(sc * 65536.0)
            total = np.int64(0)
            at = i0 * plane
            for _ in range(i0, i1 + 1):
                j = at + (fb >> 16) * nc + (fc >> 16)
                wb, wc = (fb >> 8) & 255, (fc >> 8) & 255
                v0 = np.int64(flat[j]) * (256 - wc) + np.int64(flat[j + 1]) * wc
                v1 = np.int64(flat[j + nc]) * (256 - wc) + np.int64(flat[j + nc + 1]) * wc
                total += v0 * (256 - wb) + v1 * wb
                fb += gb
                fc += gc
                at += plane
            length = np.sqrt(spacing[0] ** 2 + (sb * spacing[1]) ** 2 + (sc * spacing[2]) ** 2)
            out[r, c] = total * (length / 65536.0)
