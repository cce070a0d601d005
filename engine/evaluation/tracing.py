"""Compiled marching squares of ``isodose``. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def _cross(dose, edge, level, point):  # type: ignore[no-untyped-def]
    columns = dose.shape[1]
    cell = edge >> 1
    r, c = cell // columns, cell % columns
    a = dose[r, c]
    if edge & 1:
        t = (level - a) / (dose[r + 1, c] - a)
        point[0], point[1] = r + t, c
    else:
        t = (level - a) / (dose[r, c + 1] - a)
        point[0], point[1] = r, c + t


@njit(cache=True, nogil=True)
def _link(near, touched, count, a, b):  # type: ignore[no-untyped-def]
    for one, other in ((a, b), (b, a)):
        if near[one, 0] < 0:
            near[one, 0] = other
            touched[count] = one
            count += 1
        else:
            near[one, 1] = other
    return count


@njit(cache=True, nogil=True)
def _ends_of_rows(dose):  # type: ignore[no-untyped-def]
    rows, columns = dose.shape
    least, most = np.empty(rows, dose.dtype), np.empty(rows, dose.dtype)
    for r in range(rows):
        row = dose[r]
        low, high = row[0], row[0]
        for c in range(columns):
            low = min(low, row[c])
            high = max(high, row[c])
        least[r], most[r] = low, high
    return least, most


@njit(cache=True, nogil=True)
def _segments(dose, level, least, most, near, touched):  # type: ignore[no-untyped-def]
    # Edge 2 k runs from vertex k to the right, edge 2 k + 1 from vertex k down; near[] holds the (at most two) edges
    # that the line passes next.
    rows, columns = dose.shape
    count = 0
    for r in range(rows - 1):
        if max(most[r], most[r + 1]) < level or min(least[r], least[r + 1]) >= level:
            continue  # no line passes between these rows
        left = (dose[r, 0] >= level) + 2 * (dose[r + 1, 0] >= level)
        for c in range(columns - 1):
            right = (dose[r, c + 1] >= level) + 2 * (dose[r + 1, c + 1] >= level)
            kind = left + 4 * right
            left = right
            if kind == 0 or kind == 15:
                continue
            k = r * columns + c
            up, down, west, east = 2 * k, 2 * (k + columns), 2 * k + 1, 2 * (k + 1) + 1
            # bits: 1 upper left, 2 lower left, 4 upper right, 8 lower right
            if kind == 1 or kind == 14:
                count = _link(near, touched, count, up, west)
            elif kind == 2 or kind == 13:
                count = _link(near, touched, count, west, down)
            elif kind == 4 or kind == 11:
                count = _link(near, touched, count, up, east)
            elif kind == 8 or kind == 7:
                count = _link(near, touched, count, east, down)
            elif kind == 3 or kind == 12:
                count = _link(near, touched, count, up, down)
            elif kind == 5 or kind == 10:
                count = _link(near, touched, count, west, east)
            else:
                mean = 0.25 * (dose[r, c] + dose[r, c + 1] + dose[r + 1, c] + dose[r + 1, c + 1])
                if (kind == 9) == (mean >= level):
                    count = _link(near, touched, count, up, east)
                    count = _link(near, touched, count, west, down)
                else:
                    count = _link(near, touched, count, up, west)
                    count = _link(near, touched, count, east, down)
    return count


@njit(cache=True, nogil=True)
def trace(dose, levels):  # type: ignore[no-untyped-def]
    edges = 2 * dose.shape[0] * dose.shape[1]
    near = np.full((edges, 2), -1, dtype=np.int32)
    touched = np.empty(edges, dtype=np.int32)
    room = 1024
    points = np.empty((room, 2))
    starts = np.empty(room // 2 + 1, dtype=np.int64)
    owner = np.empty(room // 2, dtype=np.int64)
    n, lines_found = 0, 0
    starts[0] = 0
    least, most = _ends_of_rows(dose)
    for i in range(levels.shape[0]):
        count = _segments(dose, levels[i], least, most, near, touched)
        # First the lines that end at the border, then the closed ones.
        for only_ends in (True, False):
            for j in range(count):
                edge = touched[j]
                if near[edge, 0] < 0 or (only_ends and near[edge, 1] >= 0):
                    continue
                if n + count + 2 > room or lines_found + 2 > owner.shape[0]:
                    room = 2 * (room + count)
                    bigger = np.empty((room, 2))
                    bigger[:n] = points[:n]
                    points = bigger
                    more = np.empty(room // 2 + 1, dtype=np.int64)
                    more[: lines_found + 1] = starts[: lines_found + 1]
                    starts = more
                    owners = np.empty(room // 2, dtype=np.int64)
                    owners[:lines_found] = owner[:lines_found]
                    owner = owners
                begin = n
                while edge >= 0:
                    _cross(dose, edge, levels[i], points[n])
                    # A line through a grid point meets it on several edges.
                    if n == begin or abs(points[n, 0] - points[n - 1, 0]) + abs(points[n, 1] - points[n - 1, 1]) > 1e-9:
                        n += 1
                    a, b = near[edge, 0], near[edge, 1]
                    near[edge, 0] = -1
                    near[edge, 1] = -1
                    following = a if near[a, 0] >= 0 else b
                    if following >= 0 and near[following, 0] < 0:
                        following = -1
                    edge = following
                if not only_ends and n - begin >= 2:
                    points[n] = points[begin]
                    n += 1
                if n - begin < 2:
                    n = begin
                    continue
                owner[lines_found] = i
                lines_found += 1
                starts[lines_found] = n
    return points[:n].copy(), starts[: lines_found + 1].copy(), owner[:lines_found].copy()
