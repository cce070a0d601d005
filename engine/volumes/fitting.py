"""Lines moved until they cover what their slice says.

A half-level line crosses the lines between pixel centres nearly where the edge does, but a short chord cuts every bend and
every corner. Here its points are moved until the area it covers of each pixel is that pixel's share again: points on
lines between centres slide along them, bends get a point on their arc, and where shares still differ that point leaves
the arc. No point leaves its square of four centres, so that lines stay closed, never cross and enclose the same centres.

The step is that of simultaneous algebraic reconstruction (Andersen and Kak 1984): each point takes the mean of what the
pixels beside it lack, by the area it moves in them.

Only shares of a sharp edge are areas. A pixel whose neighbours are not both full and empty lies in a blurred edge or a
tip, and a stair of pixels wholly inside or outside has no share between: there the line stays as it was.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.volumes.corners import sharpened
from engine.volumes.settled import RIM, settled, share_at

ROUNDS = 6  # exact areas, then STEPS with their change taken as linear; the first two keep to arcs
STEPS = 10
BENT = 0.004  # pixels by which a chord may cut a bend
NOTICED = 0.012  # of a pixel's area: what lacks less stays, since shares and areas are hardly known better
SMALL = 48  # points: lines of fewer notice less, where little in each pixel is much of the whole
STIFF = 2.0  # keeps points from long ways that gain little area
CORNER = 0.03  # what lacks more although the line is round has a corner beside it
SHORT = 0.08  # edges that short turn by much when an end moves by little: their ends stay
SLIDE = 0.1  # no point between two centres moves further from where the half-level line has it

Lines = tuple[NDArray[np.float64], NDArray[np.int64]]
Floats = NDArray[np.float64]


@njit(cache=True, nogil=True, inline="always")
def _cuts(y0: float, x0: float, y1: float, x1: float) -> tuple[float, float]:
    """Return where (0..1, in order) an edge passes from pixel to pixel; it passes at most one face each way."""
    a, b = 1.0, 1.0
    if math.floor(y0 + 0.5) != math.floor(y1 + 0.5):
        a = (max(math.floor(y0 + 0.5), math.floor(y1 + 0.5)) - 0.5 - y0) / (y1 - y0)
    if math.floor(x0 + 0.5) != math.floor(x1 + 0.5):
        b = (max(math.floor(x0 + 0.5), math.floor(x1 + 0.5)) - 0.5 - x0) / (x1 - x0)
    return min(a, b), max(a, b)


@njit(cache=True, nogil=True)
def _blurred(alpha: NDArray[np.uint8]) -> NDArray[np.bool_]:
    """Return which partly covered pixels have no full or no empty one among their neighbours."""
    rows, columns = alpha.shape
    out = np.zeros((rows, columns), np.bool_)
    for r in range(rows):
        for c in range(columns):
            if 0 < alpha[r, c] < 255:
                least, most = 255, 0
                for i in range(r - 1, r + 2):
                    for k in range(c - 1, c + 2):
                        share = share_at(alpha, i, k)
                        least, most = min(least, share), max(most, share)
                out[r, c] = least > 4 or most < 251
    return out


@njit(cache=True, nogil=True)
def _missing(
    p: Floats,
    after: NDArray[np.int64],
    alpha: NDArray[np.uint8],
    blurred: NDArray[np.bool_],
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
) -> None:
    """Set `lacks` (a frame of one pixel about alpha) to what pixels lack of their share.

    What is `blurred` lacks nothing; empty: all are looked at.

    Only pixels that the lines pass are set, which `met` tells; both are wider than alpha, by eights.
    """
    rows, columns = alpha.shape
    met[:] = 0
    for i in range(p.shape[0]):
        j = after[i]
        y0, x0, dy, dx = p[i, 0], p[i, 1], p[j, 0] - p[i, 0], p[j, 1] - p[i, 1]
        first, second = _cuts(y0, x0, p[j, 0], p[j, 1])
        begin = 0.0
        for part in range(3):
            end = first if part == 0 else (second if part == 1 else 1.0)
            if end <= begin:
                continue
            m = 0.5 * (begin + end)
            y, x = y0 + m * dy + 1.5, x0 + m * dx + 1.5
            r, c = int(y), int(x)
            for beside in range(c, c + 2):
                if met[r, beside] == 0:
                    met[r, beside] = 1
                    lacks[r, beside] = 0.0
            low = (end - begin) * dy
            lacks[r, c] += low * (1.0 - (x - c))
            lacks[r, c + 1] += low * (x - c)
            begin = end
    words = met.view(np.uint64)
    for r in range(rows + 2):
        share = np.float32(0.0)
        for word in range(words.shape[1]):
            if words[r, word] == 0:
                continue
            for c in range(8 * word, 8 * word + 8):
                if met[r, c] == 0:
                    continue
                share += lacks[r, c]
                lacks[r, c] = share
                if 0 < r <= rows and 0 < c <= columns:
                    if blurred.size > 0 and blurred[r - 1, c - 1]:
                        lacks[r, c] = 0.0
                        continue
                    lacks[r, c] += alpha[r - 1, c - 1] * np.float32(1.0 / 255.0)


@njit(cache=True, nogil=True)
def _bulge(p: Floats, s: int, e: int, i: int) -> float:
    """Return how far off the middle of the edge from point i, in its lengths, a point holds the area of the arc around.

    That is four thirds of how far off the arc lies there.
    """
    n = e - s
    if n < 8:
        return 0.0
    j = s + (i - s + 1) % n
    a, d = s + (i - s - 2) % n, s + (i - s + 3) % n
    dy, dx = p[j, 0] - p[i, 0], p[j, 1] - p[i, 1]
    uy, ux = p[i, 0] - p[a, 0], p[i, 1] - p[a, 1]
    vy, vx = p[d, 0] - p[j, 0], p[d, 1] - p[j, 1]
    long = math.sqrt(dy * dy + dx * dx)
    far = long + 0.5 * (math.sqrt(uy * uy + ux * ux) + math.sqrt(vy * vy + vx * vx))
    cross, along = uy * vx - ux * vy, uy * vy + ux * vx
    if abs(cross) * long * long < 8.0 * BENT * far * math.sqrt(cross * cross + along * along):
        return 0.0
    return long * math.atan2(cross, along) / (6.0 * far)


@njit(cache=True, nogil=True)
def _put_between(
    points: Floats, starts: NDArray[np.int64], soft: NDArray[np.bool_]
) -> tuple[Floats, NDArray[np.int64], NDArray[np.int64], NDArray[np.bool_]]:
    """Return the points with one more on each bent edge, their loops, which point follows, and which are the new ones."""
    n = points.shape[0]
    p = np.empty((2 * n, 2))
    new = np.zeros(2 * n, np.bool_)
    begins, after = starts.copy(), np.empty(2 * n, np.int64)
    k = 0
    for loop in range(starts.size - 1):
        s, e = starts[loop], starts[loop + 1]
        begins[loop] = k
        for i in range(s, e):
            j = i + 1 if i + 1 < e else s
            p[k] = points[i]
            k += 1
            bulge = _bulge(points, s, e, i) if soft[i] or soft[j] else 0.0
            if bulge != 0.0:
                y, x = 0.5 * (points[i, 0] + points[j, 0]), 0.5 * (points[i, 1] + points[j, 1])
                low, left = math.floor(y), math.floor(x)
                p[k, 0] = min(low + 1.0 - RIM, max(low + RIM, y + bulge * (points[j, 1] - points[i, 1])))
                p[k, 1] = min(left + 1.0 - RIM, max(left + RIM, x - bulge * (points[j, 0] - points[i, 0])))
                new[k] = True
                k += 1
        for i in range(begins[loop], k):
            after[i] = i + 1
        after[k - 1] = begins[loop]
    begins[starts.size - 1] = k
    return p[:k], begins, after[:k], new[:k]


@njit(cache=True, nogil=True)
def _moved(
    p: Floats,
    home: Floats,
    after: NDArray[np.int64],
    new: NDArray[np.bool_],
    way: Floats,
    free: bool,
    lacks: NDArray[np.float32],
    reach: NDArray[np.float32],
    noticed: float,
) -> bool:
    """Move the points beside pixels that lack something; say whether there are any.

    New points go half with each neighbour, and along their own way if `free`.
    """
    n = p.shape[0]
    width = lacks.shape[1]
    flat = lacks.ravel()
    active = np.zeros(n, np.bool_)
    cells, lengths, middles = np.empty((n, 3), np.int64), np.zeros((n, 3)), np.empty((n, 3))
    any_active = False
    for i in range(n):
        j = after[i]
        dy, dx = p[j, 0] - p[i, 0], p[j, 1] - p[i, 1]
        first, second = _cuts(p[i, 0], p[i, 1], p[j, 0], p[j, 1])
        begin = 0.0
        for part in range(3):
            end = first if part == 0 else (second if part == 1 else 1.0)
            if end > begin:
                m = 0.5 * (begin + end)
                cell = int(p[i, 0] + m * dy + 1.5) * width + int(p[i, 1] + m * dx + 1.5)
                cells[i, part], lengths[i, part], middles[i, part] = cell, end - begin, m
                reach[cell] = 0.0
                if abs(flat[cell]) > noticed:
                    active[i] = active[j] = any_active = True
                begin = end
    if not any_active:
        return False
    # A step of point i along its way moves new neighbours by half of it, so its area reaches over their edges too.
    step, weight, done = np.zeros(n), np.zeros(n), np.zeros(n)
    rates = np.zeros((n, 3, 4))
    ends = np.empty((n, 4), np.int64)
    edges = np.empty(n, np.int64)
    count = 0
    for i in range(n):
        # The points whose steps move this edge: its ends, and beyond a new end that one's other neighbour.
        ends[i, 0], ends[i, 1] = i, after[i]
        ends[i, 2] = ends[i, 3] = -1
    for i in range(n):
        j = after[i]
        if new[j]:
            ends[i, 3] = after[j]
            ends[j, 2] = i
    for i in range(n):
        j = after[i]
        touched = False
        for k in range(4):
            touched |= ends[i, k] >= 0 and active[ends[i, k]]
        if not touched:
            continue
        edges[count] = i
        count += 1
        dy, dx = p[j, 0] - p[i, 0], p[j, 1] - p[i, 1]
        for part in range(3):
            long = lengths[i, part]
            if long == 0.0:
                continue
            at_i, at_j = 1.0 - middles[i, part], middles[i, part]
            for k in range(4):
                a = ends[i, k]
                if a < 0 or not active[a] or (new[a] and not free):
                    continue
                share = at_i if k == 0 else (at_j if k == 1 else 0.0)
                if not new[a]:
                    share += 0.5 * at_i * (new[i] and k != 0) + 0.5 * at_j * (new[j] and k != 1)
                rate = long * share * (way[a, 1] * dy - way[a, 0] * dx)
                rates[i, part, k] = rate
                reach[cells[i, part]] += abs(rate)
    for _ in range(STEPS):
        step[:] = 0.0
        weight[:] = 0.0
        for q in range(count):
            i = edges[q]
            for part in range(3):
                if lengths[i, part] == 0.0:
                    continue
                off = flat[cells[i, part]] / max(reach[cells[i, part]], np.float32(0.05))
                for k in range(4):
                    rate = rates[i, part, k]
                    if rate != 0.0:
                        step[ends[i, k]] += rate * off
                        weight[ends[i, k]] += abs(rate)
        for q in range(count):
            i = edges[q]
            for part in range(3):
                for k in range(4):
                    rate = rates[i, part, k]
                    if rate != 0.0 and weight[ends[i, k]] > 1e-3:
                        flat[cells[i, part]] -= rate * step[ends[i, k]] / (weight[ends[i, k]] + STIFF)
        for a in range(n):
            if weight[a] > 1e-3:
                done[a] += step[a] / (weight[a] + STIFF)
    _step(p, home, after, new, way, done)
    return True


@njit(cache=True, nogil=True)
def _step(p: Floats, home: Floats, after: NDArray[np.int64], new: NDArray[np.bool_], way: Floats, done: Floats) -> None:
    """Move points along their ways, new ones with their neighbours too, each within its square and near its home."""
    n = p.shape[0]
    old = p.copy()
    for kind in range(2):
        for i in range(n):
            j = after[i]
            if kind == 0 and not new[i] and done[i] != 0.0:
                for axis in range(2):
                    if way[i, axis] != 0.0:
                        low = math.floor(old[i, axis])
                        to = max(home[i, axis] - SLIDE, min(home[i, axis] + SLIDE, old[i, axis] + done[i] * way[i, axis]))
                        p[i, axis] = min(low + 1.0 - RIM, max(low + RIM, to))
            elif kind == 1 and new[j]:
                k = after[j]
                for axis in range(2):
                    low = math.floor(old[j, axis])
                    by = 0.5 * (p[i, axis] - old[i, axis] + p[k, axis] - old[k, axis]) + done[j] * way[j, axis]
                    p[j, axis] = min(low + 1.0 - RIM, max(low + RIM, old[j, axis] + by))


@njit(cache=True, nogil=True)
def _free(
    p: Floats,
    after: NDArray[np.int64],
    new: NDArray[np.bool_],
    way: Floats,
    lacks: NDArray[np.float32],
    met: NDArray[np.uint8],
) -> None:
    """Let new points move across their edge where the pixels beside still lack much: there is a corner."""
    for i in range(p.shape[0]):
        j = after[i]
        if not new[j] or way[j, 0] != 0.0 or way[j, 1] != 0.0:
            continue
        k = after[j]
        worst = np.float32(0.0)
        for a in (i, j, k):
            r, c = int(p[a, 0] + 1.5), int(p[a, 1] + 1.5)
            if met[r, c] > 0:
                worst = max(worst, abs(lacks[r, c]))
        if worst > CORNER:
            dy, dx = p[k, 0] - p[i, 0], p[k, 1] - p[i, 1]
            long = max(1e-9, math.sqrt(dy * dy + dx * dx))
            way[j, 0], way[j, 1] = -dx / long, dy / long


@njit(cache=True, nogil=True)
def fitted(points: Floats, starts: NDArray[np.int64], alpha: NDArray[np.uint8], corners: bool) -> Lines:
    """Return half-level lines of `alpha` (see ``raster.half_level``) moved so that they cover what it says.

    corners : whether corners are put back, with points of their own (``corners``)
    """
    n = points.shape[0]
    blurred = _blurred(alpha)
    soft, partly, slides = np.zeros(n, np.bool_), np.zeros(n, np.bool_), np.zeros(n, np.int64)
    for i in range(n):
        r, c = math.floor(points[i, 0]), math.floor(points[i, 1])
        slides[i] = 1 if points[i, 0] == r else 0
        for k in range(2):
            y, x = r + k * (1 - slides[i]), c + k * slides[i]
            if 0 < share_at(alpha, y, x) < 255:
                partly[i] = True
                soft[i] = not blurred[y, x]
                if blurred[y, x]:
                    break
    if not soft.any():
        return points, starts
    points = settled(points, starts, slides, partly, alpha)
    for loop in range(starts.size - 1):
        s, e = starts[loop], starts[loop + 1]
        for i in range(s, e):
            j = i + 1 if i + 1 < e else s
            if abs(points[i, 0] - points[j, 0]) + abs(points[i, 1] - points[j, 1]) < SHORT:
                slides[i] = slides[j] = -1
    p, begins, after, new = _put_between(points, starts, soft)
    way, home = np.zeros(p.shape), p.copy()
    i = 0
    for k in range(p.shape[0]):
        if not new[k]:
            if soft[i] and slides[i] >= 0:
                way[k, slides[i]] = 1.0
            i += 1
    noticed = NOTICED if n >= SMALL else 0.3 * NOTICED
    frame = (alpha.shape[0] + 2, (alpha.shape[1] + 10) // 8 * 8)
    lacks, reach, met = np.empty(frame, np.float32), np.empty(frame[0] * frame[1], np.float32), np.empty(frame, np.uint8)
    for turn in range(ROUNDS):
        _missing(p, after, alpha, blurred, lacks, met)
        if turn >= 2:
            _free(p, after, new, way, lacks, met)
        if not _moved(p, home, after, new, way, turn >= 2, lacks, reach, noticed):
            break
    if not corners:
        return p, begins
    _missing(p, after, alpha, np.empty((0, 0), np.bool_), lacks, met)
    return sharpened(p, begins, alpha, blurred, lacks, met)
