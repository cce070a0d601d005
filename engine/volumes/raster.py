"""Exact areas of pixels under discs, strips and polygons: the serial kernels behind painting and filling.

A disc or an ellipse is mapped to the unit circle by dividing rows and columns by their radius; the share of a pixel
that is covered does not change under such a map, so one closed form serves square and oblong pixels.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

SUBLINES = 16


@njit(cache=True, nogil=True, inline="always")
def half_plane_area(d: float, a: float, b: float) -> float:
    """Share of a rectangle where n.x <= d: d is measured from its centre, a and b are |n| times its half sides."""
    if d >= a + b:
        return 1.0
    if d <= -(a + b):
        return 0.0
    big, small = max(a, b), min(a, b)
    e = abs(d)
    if e <= big - small:
        outside = 0.5 - e / (2.0 * big)
    else:
        t = big + small - e
        outside = t * t / (8.0 * big * small)
    return 1.0 - outside if d > 0 else outside


@njit(cache=True, nogil=True)
def _under_arc(x: float) -> float:
    return 0.5 * (x * math.sqrt(max(0.0, 1.0 - x * x)) + math.asin(min(1.0, max(-1.0, x))))


@njit(cache=True, nogil=True)
def _above(x0: float, x1: float, y: float) -> float:
    """Area of the unit disc with x0 < x < x1 that lies above y."""
    if y >= 1.0:
        return 0.0
    c = math.sqrt(max(0.0, 1.0 - y * y)) if abs(y) < 1.0 else 0.0
    p, q = max(x0, -c), min(x1, c)
    cap = _under_arc(q) - _under_arc(p) - abs(y) * (q - p) if q > p else 0.0
    if y >= 0.0:
        return cap
    p, q = max(x0, -1.0), min(x1, 1.0)
    whole = 2.0 * (_under_arc(q) - _under_arc(p)) if q > p else 0.0
    return whole - cap


@njit(cache=True, nogil=True)
def disc_area(u: float, v: float, hu: float, hv: float) -> float:
    """Share of the rectangle centred at (u, v) with half sides (hu, hv) inside the unit disc."""
    area = _above(u - hu, u + hu, v - hv) - _above(u - hu, u + hu, v + hv)
    return min(1.0, max(0.0, area / (4.0 * hu * hv)))


@njit(cache=True, nogil=True)
def _sampled(u: float, v: float, du: float, dv: float, length: float, hu: float, hv: float) -> float:
    """Share of a pixel inside a stroke of radius 1 from 16 x 16 points."""
    hits = 0
    for i in range(16):
        p = u + hu * (i - 7.5) / 8.0
        for j in range(16):
            q = v + hv * (j - 7.5) / 8.0
            near = min(length, max(0.0, p * du + q * dv))
            # Points on the edge count, whichever way rounding leans, so that a stroke and its reverse are one.
            hits += (p - near * du) ** 2 + (q - near * dv) ** 2 <= 1.0 + 1e-9
    return hits / 256.0


@njit(cache=True, nogil=True)
def capsule(
    data: NDArray[np.uint8],
    only: NDArray[np.bool_],
    use_only: bool,
    ends: tuple[float, float, float, float],
    radii: tuple[float, float],
    value: int,
    dirty: NDArray[np.int64],
) -> None:
    """Sweep a disc from one point to another; widen `dirty` (r0, r1, c0, c1) by the pixels that changed.

    `value` > 0 raises pixels to value times the covered share, 0 lowers them to 255 times the share left free.
    """
    r_from, c_from, r_to, c_to = ends
    rr, rc = radii
    rows, columns = data.shape
    hu, hv = 0.5 / rr, 0.5 / rc
    reach = math.sqrt(hu * hu + hv * hv)
    u0, v0 = r_from / rr, c_from / rc
    du, dv = (r_to - r_from) / rr, (c_to - c_from) / rc
    length = math.sqrt(du * du + dv * dv)
    if length > 0.0:
        du /= length
        dv /= length
    a, b = abs(dv) * hu, abs(du) * hv
    first = max(0, math.floor(min(r_from, r_to) - rr - 0.5))
    last = min(rows - 1, math.ceil(max(r_from, r_to) + rr + 0.5))
    left = max(0, math.floor(min(c_from, c_to) - rc - 0.5))
    right = min(columns - 1, math.ceil(max(c_from, c_to) + rc + 0.5))
    inner = max(0.0, 1.0 - reach) ** 2 if reach < 1.0 else -1.0
    outer = (1.0 + reach) ** 2
    done = 255 if value > 0 else 0
    for r in range(first, last + 1):
        u = r / rr - u0
        for c in range(left, right + 1):
            if use_only and not only[r, c]:
                continue
            if data[r, c] == done:
                continue
            v = c / rc - v0
            along = u * du + v * dv
            near = min(length, max(0.0, along))
            pu, pv = u - near * du, v - near * dv
            d2 = pu * pu + pv * pv
            if d2 >= outer:
                continue
            if d2 <= inner:
                share = 1.0
            elif reach <= along <= length - reach:
                side = u * dv - v * du
                share = half_plane_area(1.0 - side, a, b) + half_plane_area(1.0 + side, a, b) - 1.0
            elif length == 0.0 or along <= -reach or along >= length + reach:
                share = disc_area(pu, pv, hu, hv)
            else:
                # A pixel cut by the line between round end and straight part; its share is at least that of either end.
                share = max(disc_area(u, v, hu, hv), disc_area(u - length * du, v - length * dv, hu, hv))
                share = max(share, _sampled(u, v, du, dv, length, hu, hv))
            old = data[r, c]
            if value > 0:
                new = int(share * value + 0.5)
                if new <= old:
                    continue
            else:
                new = 255 - int(share * 255.0 + 0.5)
                if new >= old:
                    continue
            data[r, c] = new
            if r < dirty[0]:
                dirty[0] = r
            if r + 1 > dirty[1]:
                dirty[1] = r + 1
            if c < dirty[2]:
                dirty[2] = c
            if c + 1 > dirty[3]:
                dirty[3] = c + 1


@njit(cache=True, nogil=True)
def polygons(shape: tuple[int, int], points: NDArray[np.float64], starts: NDArray[np.int64]) -> NDArray[np.uint8]:
    """Return area coverage of closed loops by the even-odd rule.

    `points` (n, 2) row, column; loop i is points[starts[i]:starts[i + 1]]. Each row is cut into bands at SUBLINES even
    steps and at every vertex; a band's middle line is crossed exactly and covers pixels exactly along the columns. A
    loop's area is thereby exact, its share within one pixel good to about 1/SUBLINES^2.
    """
    rows, columns = shape
    out = np.zeros((rows, columns), np.uint8)
    n = points.shape[0]
    if n == 0:
        return out
    low, high = points[:, 0].min(), points[:, 0].max()
    first = max(0, math.floor(low + 0.5))
    last = min(rows - 1, math.floor(high + 0.5))
    if last < first:
        return out
    top, bottom = first - 0.5, last + 0.5
    steps = (last - first + 1) * SUBLINES
    cuts = np.empty(steps + 1 + n)
    for i in range(steps + 1):
        cuts[i] = top + i / SUBLINES
    m = steps + 1
    for i in range(n):
        y = points[i, 0]
        if top < y < bottom:
            cuts[m] = y
            m += 1
    cuts = np.sort(cuts[:m])
    count = np.zeros(m, np.int64)
    for sweep in range(2):
        if sweep == 1:
            total = 0
            for i in range(m):
                k = count[i]
                count[i] = total
                total += k
            crossings = np.empty(total)
        for loop in range(starts.size - 1):
            s, e = starts[loop], starts[loop + 1]
            for i in range(s, e):
                j = i + 1 if i + 1 < e else s
                y0, x0, y1, x1 = points[i, 0], points[i, 1], points[j, 0], points[j, 1]
                if y0 == y1:
                    continue
                if y0 > y1:
                    y0, x0, y1, x1 = y1, x1, y0, x0
                k0 = np.searchsorted(cuts, max(y0, top))
                k1 = np.searchsorted(cuts, min(y1, bottom))
                for k in range(k0, k1):
                    if sweep == 0:
                        count[k] += 1
                    else:
                        y = 0.5 * (cuts[k] + cuts[k + 1])
                        crossings[count[k]] = x0 + (x1 - x0) * (y - y0) / (y1 - y0)
                        count[k] += 1
    line = np.zeros(columns + 2)
    row = first
    begin = 0
    for k in range(m - 1):
        end = count[k]
        height = cuts[k + 1] - cuts[k]
        if end > begin and height > 0.0:
            xs = crossings[begin:end]
            if end - begin > 16:
                xs = np.sort(xs)
            else:  # nearly always two: in place, because an array of its own would cost more than the rest
                for i in range(1, end - begin):
                    j = i
                    while j > 0 and xs[j - 1] > xs[j]:
                        xs[j - 1], xs[j] = xs[j], xs[j - 1]
                        j -= 1
            sign = 1.0
            for x in xs:
                edge = min(max(x + 0.5, 0.0), float(columns))
                c = int(edge)
                f = edge - c
                line[c] += sign * height * (1.0 - f)
                line[c + 1] += sign * height * f
                sign = -sign
        begin = end
        if k + 2 == m or cuts[k + 1] >= row + 0.5:
            share = 0.0
            for c in range(columns):
                share += line[c]
                out[row, c] = int(min(1.0, max(0.0, share)) * 255.0 + 0.5)
            line[:] = 0.0
            row += 1
    return out


@njit(cache=True, nogil=True)
def _passing(before: int, p: int, q: int, beyond: int) -> float:
    """Return how far from p towards q (0..1) the edge lies; four pixels in a row, twice their shares.

    Where the row begins full and ends empty it is as long as it is covered, whatever way a straight edge crosses it.
    Elsewhere the shares are taken as linear between the two.
    """
    if (before >= 508 and beyond <= 2) or (before <= 2 and beyond >= 508):
        covered = (before + p + q + beyond) / 510.0 - 1.5
        return min(0.98, max(0.02, covered if p > q else 1.0 - covered))
    return (255.0 - p) / (q - p)


@njit(cache=True, nogil=True)
def half_level(alpha: NDArray[np.uint8]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Return the closed lines where alpha passes one half, as points (n, 2) row, column and the start of each loop.

    Outside the array alpha is zero. Where a square of four pixels is ambiguous, its mean decides whether the inside
    is joined. Lines run with the inside on one fixed side: outer loops have a positive area in (column, row), holes a
    negative one.
    """
    rows, columns = alpha.shape
    pr, pc = rows + 2, columns + 2
    level = np.int32(255)
    padded = np.zeros((pr, pc), np.int32)
    for r in range(rows):
        for c in range(columns):
            padded[r + 1, c + 1] = 2 * np.int32(alpha[r, c])
    # Edge numbers: 2 * pixel for the edge to the next column, 2 * pixel + 1 for the edge to the next row.
    follow = np.full(2 * pr * pc, -1, np.int32)
    found = 0
    for r in range(pr - 1):
        for c in range(pc - 1):
            p, q, s, t = padded[r, c], padded[r, c + 1], padded[r + 1, c + 1], padded[r + 1, c]
            case = (p > level) | ((q > level) << 1) | ((s > level) << 2) | ((t > level) << 3)
            if case == 0 or case == 15:
                continue
            here = r * pc + c
            north, south, west, east = 2 * here, 2 * (here + pc), 2 * here + 1, 2 * (here + 1) + 1
            found += 1
            if case == 1:
                follow[north] = west
            elif case == 2:
                follow[east] = north
            elif case == 3:
                follow[east] = west
            elif case == 4:
                follow[south] = east
            elif case == 6:
                follow[south] = north
            elif case == 7:
                follow[south] = west
            elif case == 8:
                follow[west] = south
            elif case == 9:
                follow[north] = south
            elif case == 11:
                follow[east] = south
            elif case == 12:
                follow[west] = east
            elif case == 13:
                follow[north] = east
            elif case == 14:
                follow[west] = north
            else:
                found += 1
                joined = p + q + s + t > 4 * level
                if case == 5 and joined:
                    follow[north] = east
                    follow[south] = west
                elif case == 5:
                    follow[north] = west
                    follow[south] = east
                elif joined:
                    follow[west] = north
                    follow[east] = south
                else:
                    follow[east] = north
                    follow[west] = south
    points = np.empty((found, 2))
    starts = np.empty(found + 1, np.int64)
    loops, n = 0, 0
    for edge in range(follow.size):
        if follow[edge] < 0:
            continue
        starts[loops] = n
        loops += 1
        at = edge
        while follow[at] >= 0:
            pixel = at // 2
            r, c = pixel // pc, pixel % pc
            dr, dc = at % 2, 1 - at % 2
            before = padded[r - dr, c - dc] if r >= dr and c >= dc else 0
            beyond = padded[r + 2 * dr, c + 2 * dc] if r + 2 * dr < pr and c + 2 * dc < pc else 0
            way = _passing(before, padded[r, c], padded[r + dr, c + dc], beyond)
            points[n, 0] = r - 1.0 + dr * way
            points[n, 1] = c - 1.0 + dc * way
            n += 1
            after = follow[at]
            follow[at] = -1
            at = after
    starts[loops] = n
    return points[:n], starts[: loops + 1]
