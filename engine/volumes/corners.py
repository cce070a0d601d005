"""Corners and tips put back where the shares show them.

A line that is fitted point by point stays round at a corner: its points keep to their squares. Where pixels still lack
much, the two sides beside are straightened on until they meet, and the meeting point is moved until the pixels around
lack least (Gauss and Newton's way). What no two straight sides explain gets one point that moves freely. A change is kept
only where pixels lack clearly less for it, and where no other line is in its way; all else stays as it was.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.volumes.corner_shares import box_of, foggy, keep, lack_of, settle, window_of

LACKS = 0.03  # of a pixel: what lacks more has a corner beside it
MUCH = 0.045  # and so much, where no sides tell of a corner
BETTER = 0.75  # the most that may be left of the worst lack
REACH, LEAST = 4.0, 0.8  # pixels of a side that tell its way, and how many must
STRAIGHT = 0.08  # pixels off a straight line that a side may be
NEAR = 0.8  # pixels: how far a point is from a pixel that is its own, in small shapes
PASSES = 5
MOST = 600  # places looked at in a slice: with more of them it holds noise and not corners

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@njit(cache=True, nogil=True)
def _side(p: Floats, mine: Bools, s: int, n: int, start: int, step: int) -> tuple[bool, float, float, float, float]:
    """Return whether a side is straight beyond a point, and a point and the way of it (towards the corner)."""
    none = False, 0.0, 0.0, 0.0, 0.0
    j, far, count = start % n, 0.0, 1
    points = np.empty((64, 2))
    points[0] = p[s + j]
    while far < REACH and count < 64:
        k = (j + step) % n
        if mine[k]:
            break
        far += math.hypot(p[s + k, 0] - p[s + j, 0], p[s + k, 1] - p[s + j, 1])
        points[count] = p[s + k]
        count += 1
        j = k
    if count < 2 or far < LEAST:
        return none
    my, mx, syy, sxx, sxy = 0.0, 0.0, 0.0, 0.0, 0.0
    for i in range(count):
        my += points[i, 0] / count
        mx += points[i, 1] / count
    for i in range(count):
        y, x = points[i, 0] - my, points[i, 1] - mx
        syy += y * y
        sxx += x * x
        sxy += x * y
    angle = 0.5 * math.atan2(2 * sxy, sxx - syy)
    dx, dy = math.cos(angle), math.sin(angle)
    if (points[0, 0] - points[count - 1, 0]) * dy + (points[0, 1] - points[count - 1, 1]) * dx < 0:
        dx, dy = -dx, -dy
    for i in range(count):
        if abs((points[i, 1] - mx) * dy - (points[i, 0] - my) * dx) > STRAIGHT:
            return none
    return True, my, mx, dy, dx


@njit(cache=True, nogil=True)
def _meeting(p: Floats, mine: Bools, s: int, n: int, i: int, count: int) -> tuple[bool, float, float]:
    """Return whether the sides beside `count` points of a loop from i on meet beyond them, and where."""
    there, ay, ax, ady, adx = _side(p, mine, s, n, i - 1, -1)
    here, by, bx, bdy, bdx = _side(p, mine, s, n, i + count, 1)
    size = adx * bdy - ady * bdx
    if not (there and here) or abs(size) < 0.2:
        return False, 0.0, 0.0
    far = ((bx - ax) * bdy - (by - ay) * bdx) / size
    y, x = ay + far * ady, ax + far * adx
    a, b = p[s + (i - 1) % n], p[s + (i + count) % n]
    beyond = (y - a[0]) * ady + (x - a[1]) * adx > -0.2 and (y - b[0]) * bdy + (x - b[1]) * bdx > -0.2
    return beyond, y, x


@njit(cache=True, nogil=True)
def _inside(a: Floats, b: Floats, c: Floats, y: float, x: float) -> bool:
    one = (b[0] - a[0]) * (x - a[1]) - (b[1] - a[1]) * (y - a[0])
    two = (c[0] - b[0]) * (x - b[1]) - (c[1] - b[1]) * (y - b[0])
    three = (a[0] - c[0]) * (x - c[1]) - (a[1] - c[1]) * (y - c[0])
    return (one > 0 and two > 0 and three > 0) or (one < 0 and two < 0 and three < 0)


@njit(cache=True, nogil=True)
def _added(p: Floats, s: int, n: int, first: int, count: int, x: Floats, y: float, z: float) -> bool:
    """Return whether a place lies in what a corner adds or takes."""
    found = False
    for k in range(count + 1):
        found |= _inside(p[s + (first + k) % n], p[s + (first + k + 1) % n], x, y, z)
    return found


@njit(cache=True, nogil=True)
def _in_the_way(p: Floats, s: int, n: int, first: int, count: int, x: Floats, free: bool) -> bool:
    """Return whether another line or, of a `free` point, a pixel's centre lies in what a corner adds or takes."""
    low, high = box_of(p, first, count, s, n, x)
    for i in range(p.shape[0]):
        y, z = p[i, 0], p[i, 1]
        if y < low[0] or y > high[0] or z < low[1] or z > high[1]:
            continue
        if not (s <= i < s + n and (i - s - first) % n <= count + 1) and _added(p, s, n, first, count, x, y, z):
            return True
    if free:
        for r in range(math.ceil(low[0]), math.floor(high[0]) + 1):
            for c in range(math.ceil(low[1]), math.floor(high[1]) + 1):
                if _added(p, s, n, first, count, x, float(r), float(c)):
                    return True
    return False


@njit(cache=True, nogil=True)
def _lacking(
    p: Floats,
    alpha: NDArray[np.uint8],
    blurred: Bools,
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
    near: float,
    much: float,
) -> tuple[Bools, NDArray[np.int64]]:
    """Return which points have a pixel that lacks `much` beside them, no further than `near`, and which lacks most."""
    flags, worst = np.zeros(p.shape[0], np.bool_), np.full((p.shape[0], 2), -1, np.int64)
    for i in range(p.shape[0]):
        r, c = math.floor(p[i, 0] + 0.5), math.floor(p[i, 1] + 0.5)
        # A stair of whole pixels is no corner.
        most, partly = much, False
        for y in range(max(0, r - 1), min(alpha.shape[0], r + 2)):
            for x in range(max(0, c - 1), min(alpha.shape[1], c + 2)):
                partly |= 0 < alpha[y, x] < 255
                lack = abs(lack_of(lacks, met, alpha, y, x))
                if lack > most and math.hypot(p[i, 0] - y, p[i, 1] - x) < near and not foggy(alpha, blurred, y, x):
                    most = lack
                    worst[i, 0], worst[i, 1] = y, x
        flags[i] = partly and most > much
    return flags, worst


@njit(cache=True, nogil=True)
def _rebuilt(
    p: Floats, starts: NDArray[np.int64], gone: Bools, behind: Bools, corner: Floats
) -> tuple[Floats, NDArray[np.int64]]:
    """Return the lines without the points that are gone, and with the corners behind points."""
    out, begins = np.empty((p.shape[0] + int(behind.sum()), 2)), starts.copy()
    k = 0
    for loop in range(starts.size - 1):
        begins[loop] = k
        for i in range(starts[loop], starts[loop + 1]):
            if not gone[i]:
                out[k] = p[i]
                k += 1
            if behind[i]:
                out[k] = corner[i]
                k += 1
    begins[starts.size - 1] = k
    return out[:k], begins


@njit(cache=True, nogil=True)
def sharpened(
    p: Floats,
    starts: NDArray[np.int64],
    alpha: NDArray[np.uint8],
    blurred: Bools,
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
) -> tuple[Floats, NDArray[np.int64]]:
    """Return lines with corners where their pixels lack much.

    Parameters
    ----------
    blurred : partly covered pixels without a full or an empty one beside (``fitting``)
    lacks, met : of pixels with a frame of one, see ``fitting``; changed
    """
    tries = np.array([MOST])
    for turn in range(PASSES):
        # First the sides are taken well off the corner; then, in small shapes, from right beside it.
        flags, worst = _lacking(p, alpha, blurred, lacks, met, NEAR if turn == 1 else 3.0, LACKS if turn < 2 else MUCH)
        if not flags.any():
            if turn == 1:
                continue
            break
        gone, behind, corner = np.zeros(p.shape[0], np.bool_), np.zeros(p.shape[0], np.bool_), np.zeros(p.shape)
        for loop in range(starts.size - 1):
            s, n = starts[loop], starts[loop + 1] - starts[loop]
            mine = flags[s : s + n]
            if n < 8 or not mine.any():
                continue
            if turn < 2:
                _by_sides(p, mine, s, n, alpha, blurred, lacks, met, gone, behind, corner, tries)
            else:
                _freely(p, mine, worst, s, n, alpha, blurred, lacks, met, gone, behind, corner, tries)
        if behind.any():
            p, starts = _rebuilt(p, starts, gone, behind, corner)
        elif turn > 1:
            break
    return p, starts


@njit(cache=True, nogil=True)
def _by_sides(p, mine, s, n, alpha, blurred, lacks, met, gone, behind, corner, tries):  # type: ignore[no-untyped-def]
    """Put corners where straight sides meet, in a loop whose points `mine` lack much."""
    for i in range(n):
        if not mine[i] and mine[i - 1] and mine[(i + 1) % n]:
            mine[i] = True
    if mine.all():
        return
    for i in range(n):
        if not mine[i] or mine[i - 1] or tries[0] <= 0:
            continue
        tries[0] -= 1
        count = 1
        while mine[(i + count) % n]:
            count += 1
        meet, y, x = _meeting(p, mine, s, n, i, count)
        if not meet:
            continue
        place = np.array([y, x])
        at, lack, heard = window_of(p, i - 1, count, s, n, alpha, blurred, lacks, met, place)
        if lack.size == 0 or settle(p, i - 1, count, s, n, at, lack, heard, place, False) > BETTER:
            continue
        if _in_the_way(p, s, n, i - 1, count, place, False):
            continue
        keep(p, i - 1, count, s, n, at, alpha, lacks, met, place, lack.shape)
        for k in range(count):
            gone[s + (i + k) % n] = True
        corner[s + (i - 1) % n], behind[s + (i - 1) % n] = place, True


@njit(cache=True, nogil=True)
def _freely(p, mine, worst, s, n, alpha, blurred, lacks, met, gone, behind, corner, tries):  # type: ignore[no-untyped-def]
    """Let one point move freely beside each pixel that lacks much, in place of up to three or between two."""
    taken = np.zeros(n, np.bool_)
    for i in range(n):
        if not mine[i] or tries[0] <= 0:
            continue
        r, c = worst[s + i]
        if abs(lack_of(lacks, met, alpha, r, c)) <= MUCH:
            continue
        here = math.hypot(p[s + i, 0] - r, p[s + i, 1] - c)
        last, next_ = s + (i - 1) % n, s + (i + 1) % n
        if math.hypot(p[last, 0] - r, p[last, 1] - c) < here or math.hypot(p[next_, 0] - r, p[next_, 1] - c) < here:
            continue
        tries[0] -= 1
        best, best_first, best_count, best_place = BETTER, 0, -1, np.zeros(2)
        for first, count in ((i - 1, 0), (i, 0), (i - 1, 1), (i - 2, 2), (i - 1, 2), (i - 2, 3)):
            free = True
            for k in range(count + 2):
                free &= not taken[(first + k) % n]
            if not free:
                continue
            place = np.zeros(2)
            for k in range(count + 2):
                place += p[s + (first + k) % n] / (count + 2)
            at, lack, heard = window_of(p, first, count, s, n, alpha, blurred, lacks, met, place)
            if lack.size == 0:
                continue
            left = settle(p, first, count, s, n, at, lack, heard, place, True)
            if left < best and not _in_the_way(p, s, n, first, count, place, True):
                best, best_first, best_count, best_place = left, first, count, place
        if best_count < 0:
            continue
        at, lack, heard = window_of(p, best_first, best_count, s, n, alpha, blurred, lacks, met, best_place)
        if lack.size == 0:
            continue
        keep(p, best_first, best_count, s, n, at, alpha, lacks, met, best_place, lack.shape)
        for k in range(best_count + 2):
            taken[(best_first + k) % n] = True
        for k in range(best_count):
            gone[s + (best_first + 1 + k) % n] = True
        corner[s + best_first % n], behind[s + best_first % n] = best_place, True
