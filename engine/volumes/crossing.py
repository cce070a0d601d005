"""Closed lines that cross themselves or each other: their inside is not what was meant."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.words import say_count
from engine.volumes.evidence import CROSSING, Evidence, Limits
from engine.volumes.volume import Volume

Floats = NDArray[np.float64]


def of_lines(volume: Volume, limits: Limits) -> list[Evidence]:
    """Tell the slices on which lines that a volume came in with cross; edited volumes have none left."""
    by_height: dict[float, list[Floats]] = {}
    for contour in volume.original:
        if len(contour.points_mm) >= 3:
            by_height.setdefault(round(float(np.median(contour.points_mm[:, 2])), 2), []).append(contour.points_mm)
    grid = volume.coverage.grid
    planes, count, point = set(), 0, None
    for z, loops in sorted(by_height.items()):
        at = crossings([loop[:, :2] for loop in loops], limits.crossing_mm)
        if len(at):
            planes.add(grid.plane_at(z))
            count += len(at)
            point = point or (float(at[0, 0]), float(at[0, 1]), z)
    if not count:
        return []
    words = say_count(
        "the lines it came in with cross in {count} place, on {slices}",
        "the lines it came in with cross in {count} places, on {slices}",
        count,
        slices=say_count("{count} slice", "{count} slices", len(planes)),
    )
    return [Evidence(CROSSING, volume.key, tuple(sorted(planes)), point, float(count), words)]


def crossings(loops: list[Floats], tolerance: float = 0.0) -> Floats:
    """Return where the closed lines of one plane cross, (n, 2), each crossing once.

    Lines that touch, or run along each other as the two sides of a keyhole's channel do, do not cross.

    Parameters
    ----------
    loops : (m, 2) each, first point not repeated (a repeated one does no harm)
    tolerance : how far both ends of both legs must lie from the other one, in the unit of the points
    """
    legs = np.concatenate([np.hstack((loop, np.roll(loop, -1, axis=0))) for loop in loops]).astype(np.float64)
    legs = legs[(legs[:, :2] != legs[:, 2:]).any(axis=1)]
    legs = legs[np.argsort(np.minimum(legs[:, 0], legs[:, 2]), kind="stable")]
    return _cross(np.ascontiguousarray(legs), max(tolerance, 1e-9))


@njit(cache=True, nogil=True)
def _cross(legs: Floats, tolerance: float) -> Floats:
    """Sweep along x: only legs whose ranges of x and y meet are looked at."""
    found = []
    n = len(legs)
    for i in range(n):
        ax, ay, bx, by = legs[i]
        right, low, high = max(ax, bx), min(ay, by), max(ay, by)
        ux, uy = bx - ax, by - ay
        long = np.sqrt(ux * ux + uy * uy)
        for j in range(i + 1, n):
            cx, cy, dx, dy = legs[j]
            if min(cx, dx) > right:
                break
            if max(cy, dy) < low or min(cy, dy) > high:
                continue
            c, d = (ux * (cy - ay) - uy * (cx - ax)) / long, (ux * (dy - ay) - uy * (dx - ax)) / long
            if abs(c) <= tolerance or abs(d) <= tolerance or (c > 0) == (d > 0):
                continue
            vx, vy = dx - cx, dy - cy
            other = np.sqrt(vx * vx + vy * vy)
            a, b = (vx * (ay - cy) - vy * (ax - cx)) / other, (vx * (by - cy) - vy * (bx - cx)) / other
            if abs(a) <= tolerance or abs(b) <= tolerance or (a > 0) == (b > 0):
                continue
            t = a / (a - b)
            found.append((ax + t * ux, ay + t * uy))
    out = np.empty((len(found), 2))
    for k in range(len(found)):
        out[k, 0], out[k, 1] = found[k]
    return out
