"""Distances from the half-level line of a slice, to a fraction of a pixel.

The line is known where it crosses the lines of pixel centres, along rows and along columns. Each map is the smaller of
two separable passes: along rows from the row crossings, then over columns; and the other way round. Thus the distance
is that to the nearest crossing: exact for edges along the axes, and too long by at most (gap^2)/(8 distance) between
crossings, which lie no further than one pixel apart.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.volumes.labels import label
from engine.volumes.raster import half_plane_area

FAR = np.float32(1e12)
DOT_PX = 9  # fewer pixels than this are a dot
Map = NDArray[np.float32]


@njit(cache=True, nogil=True)
def _along_rows(alpha: NDArray[np.uint8], step: float) -> Map:
    """Return the squared distance along each row from the inside, columns `step` mm apart."""
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
            else:
                out[r, c] = min(np.float64(out[r, c]), ((c - edge) * step) ** 2)
        edge = 1e9
        for c in range(columns - 1, -1, -1):
            if alpha[r, c] > 127:
                before = np.float64(alpha[r, c - 1]) if c > 0 else 0.0
                if before < 127.5:
                    edge = c - (alpha[r, c] - 127.5) / (alpha[r, c] - before)
            else:
                out[r, c] = min(np.float64(out[r, c]), ((edge - c) * step) ** 2)
    return out


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
    straight = _envelope(_along_rows(alpha, dc), dr)
    turned = _envelope(_along_rows(np.ascontiguousarray(alpha.T), dr), dc)
    return np.sqrt(np.minimum(straight, turned.T))


def signed_distance_mm(alpha: NDArray[np.uint8], spacing_rc_mm: tuple[float, float]) -> Map:
    """Return the distance to the half-level line, negative inside, float32 mm; huge if the slice is empty.

    The array's rim is no edge: what touches it is taken to go on, so pad where the shape ends there.
    """
    padded = np.pad(alpha, 1, mode="edge")
    outside = _one_side(padded, spacing_rc_mm)
    inside = _one_side(np.uint8(255) - padded, spacing_rc_mm)
    return (outside - inside)[1:-1, 1:-1]


def is_dot(alpha: NDArray[np.uint8]) -> bool:
    """Whether a slice is one piece of a few pixels, whose line between pixel centres says less than its area and middle."""
    return 0 < int(alpha.sum(dtype=np.int64)) < DOT_PX * 255 and label(alpha > 0, corners=True)[1] == 1


def distance_mm(alpha: NDArray[np.uint8], spacing_rc_mm: tuple[float, float]) -> Map:
    """Return signed distances to the line of a slice; a dot of a few pixels counts as a disc."""
    if not is_dot(alpha):
        return signed_distance_mm(alpha, spacing_rc_mm)
    dr, dc = spacing_rc_mm
    total = float(alpha.sum(dtype=np.int64))
    rows, columns = (np.arange(n, dtype=np.float64) for n in alpha.shape)
    row, column = float((alpha.sum(axis=1) * rows).sum() / total), float((alpha.sum(axis=0) * columns).sum() / total)
    away = np.hypot((rows[:, None] - row) * dr, (columns[None, :] - column) * dc)
    return (away - np.sqrt(total / 255 * dr * dc / np.pi)).astype(np.float32)


@njit(cache=True, nogil=True)
def share_below(level_map: Map, level: float, most_r: float = 1e30, most_c: float = 1e30) -> NDArray[np.uint8]:
    """Return the share of each pixel (uint8) in which a smooth map lies below `level`, its edge taken as straight.

    `most_r` and `most_c` are how much the map can rise from row to row and from column to column; what rises by more is
    torn there.
    """
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
                    gr = max(gr, min(most_r, abs(other - here)))
                else:
                    gc = max(gc, min(most_c, abs(other - here)))
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


@njit(cache=True, nogil=True)
def share_kinked(
    level_map: Map, level: float, most_r: float = 1e30, most_c: float = 1e30, least: float = 0.0
) -> NDArray[np.uint8]:
    """Return the share of each pixel (uint8) below `level` of a map that may be much steeper on one side of its line.

    As ``share_below``, but a pixel on the gentle side of the line is read from those on the steep side, whose values tell
    where the line is: what rises gently up to a line and steeply behind it says nothing about it before. `most_r` and
    `most_c` as there. `least` is how much the map rises from pixel to pixel at least: where it is nearly `level` the line
    is near, whatever is read from a steep side when the line runs along the pixels.
    """
    rows, columns = level_map.shape
    out = np.zeros((rows, columns), np.uint8)
    for r in range(rows):
        for c in range(columns):
            here = np.float64(level_map[r, c])
            if here >= 1e5:
                continue
            gr, gc, deep = 0.0, 0.0, here
            for side in range(4):
                dr, dc = (side == 0) - (side == 1), (side == 2) - (side == 3)
                i, j = r + dr, c + dc
                if i < 0 or j < 0 or i >= rows or j >= columns:
                    continue
                other = np.float64(level_map[i, j])
                if other >= 1e5:
                    continue
                most = most_r if side < 2 else most_c
                rise = min(most, abs(other - here))
                if (here < level) == (other < level) and abs(other - level) > abs(here - level):
                    continue  # it leads away from the line
                if (here < level) != (other < level) and 0 <= i + dr < rows and 0 <= j + dc < columns:
                    further = np.float64(level_map[i + dr, j + dc])
                    if further < 1e5 and min(most, abs(further - other)) > rise:
                        rise = min(most, abs(further - other))
                        read = other - rise if further > other else other + rise
                        if least > 0.0:
                            near = abs(here - level) * max(1.0, rise / least)
                            read = min(level + near, max(level - near, read))
                        deep = min(deep, read) if here < level else max(deep, read)
                if side < 2:
                    gr = max(gr, rise)
                else:
                    gc = max(gc, rise)
            out[r, c] = int(half_plane_area(level - deep, 0.5 * gr, 0.5 * gc) * 255.0 + 0.5)
    return out
