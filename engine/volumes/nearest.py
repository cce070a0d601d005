"""The nearest triangle to a point: boxes within boxes over triangles sorted along a curve that fills space.

Sorting by the interleaved bits of the middles (Morton 1966) puts near triangles near each other in memory; boxes around
every four, and around pairs of boxes up to one, then exclude almost all of them. Points are looked at a handful at a
time, because near points visit the same boxes. The answer is exact, whatever the order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
LEAF = 2
TOGETHER = 16  # points that go through the tree as one
_BITS = 20  # an axis is cut into so many halves for sorting
_NOWHERE = 1e150  # the corner of a box that holds nothing; its square is still a number
_FLAT = 1e-24  # a triangle whose squared area is a smaller share of its sides' is a line
# Sums in any order, so that the processor takes several points at once. No value here is infinite or no number.
_FAST = {"reassoc", "contract", "nnan", "ninf", "nsz"}


@dataclass(frozen=True)
class Tree:
    """Triangles in their sorted order, and boxes: node 1 holds all, nodes 2 i and 2 i + 1 make up node i.

    Parameters
    ----------
    triangles : (n, 16) first corner, ways to the second and the third, unit normal, one over the squared lengths of the
        sides (first to second, first to third, second to third; 0 for none), squared double area (-1 for a line)
    boxes : (nodes, 6) lowest x, y, z and highest x, y, z; the second half of the nodes are leaves of LEAF triangles
    """

    triangles: Floats
    boxes: Floats


def along_curve(points: Floats) -> NDArray[np.intp]:
    """Return an order of points (n, 3) in which neighbours lie near each other."""
    low = points.min(axis=0)
    size = max(float((points.max(axis=0) - low).max()), 1e-9)
    return np.argsort(_interleaved(np.ascontiguousarray(points), low, (2**_BITS - 1) / size), kind="stable")


def tree_of(corners: Floats, order: NDArray[np.intp] | None = None) -> Tree:
    """Return the tree of triangles (n, 3, 3), n at least one, sorted already by `order` if that is known."""
    if order is None:
        order = along_curve(corners[:, 0] + corners[:, 1] + corners[:, 2])
    ordered = np.ascontiguousarray(corners[order])
    leaves = 1
    while leaves * LEAF < len(ordered):
        leaves *= 2
    return Tree(_sides(ordered), _boxes(ordered, leaves))


def squared_distances(points: Floats, tree: Tree) -> Floats:
    """Return the squared distance of each point (n, 3) to the nearest triangle; quickest when near points follow."""
    out: Floats = _nearest(np.ascontiguousarray(points), tree.triangles, tree.boxes)
    return out


@njit(cache=True, nogil=True)
def _interleaved(points, low, steps):  # type: ignore[no-untyped-def]
    out = np.empty(len(points), np.uint64)
    for i in range(len(points)):
        code = np.uint64(0)
        for axis in range(3):
            at = np.uint64((points[i, axis] - low[axis]) * steps)
            for bit in range(_BITS):
                code |= ((at >> np.uint64(bit)) & np.uint64(1)) << np.uint64(3 * bit + axis)
        out[i] = code
    return out


@njit(cache=True, nogil=True)
def _sides(corners):  # type: ignore[no-untyped-def]
    out = np.zeros((len(corners), 16))
    for t in range(len(corners)):
        uu = vv = uv = 0.0
        for axis in range(3):
            u, v = corners[t, 1, axis] - corners[t, 0, axis], corners[t, 2, axis] - corners[t, 0, axis]
            out[t, axis], out[t, 3 + axis], out[t, 6 + axis] = corners[t, 0, axis], u, v
            uu, vv, uv = uu + u * u, vv + v * v, uv + u * v
        for side, square in enumerate((uu, vv, uu + vv - 2.0 * uv)):
            out[t, 12 + side] = 1.0 / square if square > 0.0 else 0.0
        nx = out[t, 4] * out[t, 8] - out[t, 5] * out[t, 7]
        ny = out[t, 5] * out[t, 6] - out[t, 3] * out[t, 8]
        nz = out[t, 3] * out[t, 7] - out[t, 4] * out[t, 6]
        area = nx * nx + ny * ny + nz * nz
        out[t, 15] = -1.0
        if area > _FLAT * uu * vv:
            long = np.sqrt(area)
            out[t, 9], out[t, 10], out[t, 11], out[t, 15] = nx / long, ny / long, nz / long, area
    return out


@njit(cache=True, nogil=True)
def _boxes(corners, leaves):  # type: ignore[no-untyped-def]
    out = np.empty((2 * leaves, 6))
    out[:, :3], out[:, 3:] = _NOWHERE, -_NOWHERE
    for t in range(len(corners)):
        node = leaves + t // LEAF
        for corner in range(3):
            for axis in range(3):
                v = corners[t, corner, axis]
                out[node, axis] = min(out[node, axis], v)
                out[node, 3 + axis] = max(out[node, 3 + axis], v)
    for node in range(leaves - 1, 0, -1):
        for axis in range(3):
            out[node, axis] = min(out[2 * node, axis], out[2 * node + 1, axis])
            out[node, 3 + axis] = max(out[2 * node, 3 + axis], out[2 * node + 1, 3 + axis])
    return out


@njit(cache=True, nogil=True)
def _nearest(points, triangles, boxes):  # type: ignore[no-untyped-def]
    out = np.empty(len(points))
    leaves = len(boxes) // 2
    nodes = np.empty(128, np.int64)
    some, best = np.empty((3, TOGETHER)), np.empty(TOGETHER)
    last = 0  # a triangle near the points before: it is not far from these
    for start in range(0, len(points), TOGETHER):
        count = min(TOGETHER, len(points) - start)
        for j in range(TOGETHER):
            for axis in range(3):
                some[axis, j] = points[start + min(j, count - 1), axis]
        best[:] = 3.0 * _NOWHERE * _NOWHERE
        _approach(some, best, triangles, last)
        nodes[0], n = 1, 1
        while n > 0:
            n -= 1
            node = nodes[n]
            if node < leaves:
                one, two = 2 * node, 2 * node + 1
                a, b = _nearer(some, best, boxes, one), _nearer(some, best, boxes, two)
                if a < b:
                    one, two, a, b = two, one, b, a
                if a < 0.0:
                    nodes[n] = one
                    n += 1
                if b < 0.0:
                    nodes[n] = two
                    n += 1
            elif _nearer(some, best, boxes, node) < 0.0:  # once more: it may have waited long
                last = (node - leaves) * LEAF
                for t in range(last, min(last + LEAF, len(triangles))):
                    _approach(some, best, triangles, t)
        out[start : start + count] = best[:count]
    return out


@njit(cache=True, nogil=True, fastmath=_FAST)
def _nearer(some, best, boxes, node):  # type: ignore[no-untyped-def]
    """Return by how much a box lies nearer to points (3, n) than what they have found (squared, all together); 0 if not."""
    x0, y0, z0 = boxes[node, 0], boxes[node, 1], boxes[node, 2]
    x1, y1, z1 = boxes[node, 3], boxes[node, 4], boxes[node, 5]
    gain = 0.0
    for j in range(best.size):
        dx = max(max(x0 - some[0, j], some[0, j] - x1), 0.0)
        dy = max(max(y0 - some[1, j], some[1, j] - y1), 0.0)
        dz = max(max(z0 - some[2, j], some[2, j] - z1), 0.0)
        gain += min(0.0, dx * dx + dy * dy + dz * dz - best[j])
    return gain


@njit(cache=True, nogil=True, fastmath=_FAST)
def _approach(some, best, triangles, t):  # type: ignore[no-untyped-def]
    """Lower the squared distances of points (3, n) to that to a triangle: its plane's where the foot lies inside it.

    Elsewhere it is that to the nearest of the three sides. There are no branches, so that points go through together.
    """
    ax, ay, az = triangles[t, 0], triangles[t, 1], triangles[t, 2]
    ux, uy, uz = triangles[t, 3], triangles[t, 4], triangles[t, 5]
    vx, vy, vz = triangles[t, 6], triangles[t, 7], triangles[t, 8]
    nx, ny, nz = triangles[t, 9], triangles[t, 10], triangles[t, 11]
    per_uu, per_vv, per_ww, area = triangles[t, 12], triangles[t, 13], triangles[t, 14], triangles[t, 15]
    wx, wy, wz = vx - ux, vy - uy, vz - uz
    uu, vv, uv = ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, ux * vx + uy * vy + uz * vz
    for j in range(best.size):
        x, y, z = some[0, j] - ax, some[1, j] - ay, some[2, j] - az
        xu, xv = x * ux + y * uy + z * uz, x * vx + y * vy + z * vz
        s = min(1.0, max(0.0, xu * per_uu))
        dx, dy, dz = x - s * ux, y - s * uy, z - s * uz
        least = dx * dx + dy * dy + dz * dz
        s = min(1.0, max(0.0, xv * per_vv))
        dx, dy, dz = x - s * vx, y - s * vy, z - s * vz
        least = min(least, dx * dx + dy * dy + dz * dz)
        s = min(1.0, max(0.0, (xv - xu - uv + uu) * per_ww))
        dx, dy, dz = x - ux - s * wx, y - uy - s * wy, z - uz - s * wz
        least = min(least, dx * dx + dy * dy + dz * dz)
        off = x * nx + y * ny + z * nz
        # The shares of the second and the third corner in the foot, times the squared double area.
        second, third = vv * xu - uv * xv, uu * xv - uv * xu
        inside = (second >= 0.0) & (third >= 0.0) & (second + third <= area)
        best[j] = min(best[j], off * off if inside else least)
