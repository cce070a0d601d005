"""The nearest triangle to a point: boxes within boxes over triangles sorted along a curve that fills space.

Sorting by the interleaved bits of the middles (Morton 1966) puts near triangles near each other in memory; boxes around
every four, and around pairs of boxes up to one, then exclude almost all of them. The answer is exact, whatever the order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

Floats = NDArray[np.float64]
LEAF = 2
_BITS = 20  # an axis is cut into so many halves for sorting


@dataclass(frozen=True)
class Tree:
    """Triangles in their sorted order, and boxes: node 1 holds all, nodes 2 i and 2 i + 1 make up node i.

    Parameters
    ----------
    corners : (n, 3, 3)
    boxes : (nodes, 6) lowest x, y, z and highest x, y, z; the second half of the nodes are leaves of LEAF triangles
    """

    corners: Floats
    boxes: Floats


def along_curve(points: Floats) -> NDArray[np.intp]:
    """Return an order of points (n, 3) in which neighbours lie near each other."""
    low = points.min(axis=0)
    size = max(float((points.max(axis=0) - low).max()), 1e-9)
    return np.argsort(_interleaved(np.ascontiguousarray(points), low, (2**_BITS - 1) / size), kind="stable")


def tree_of(corners: Floats) -> Tree:
    """Return the tree of triangles (n, 3, 3), n at least one."""
    ordered = np.ascontiguousarray(corners[along_curve(corners[:, 0] + corners[:, 1] + corners[:, 2])])
    leaves = 1
    while leaves * LEAF < len(ordered):
        leaves *= 2
    return Tree(ordered, _boxes(ordered, leaves))


def squared_distances(points: Floats, tree: Tree) -> Floats:
    """Return the squared distance of each point (n, 3) to the nearest triangle; quickest when near points follow."""
    out: Floats = _nearest(np.ascontiguousarray(points), tree.corners, tree.boxes)
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
def _boxes(corners, leaves):  # type: ignore[no-untyped-def]
    out = np.empty((2 * leaves, 6))
    out[:, :3], out[:, 3:] = np.inf, -np.inf
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
def _to_box(x, y, z, boxes, node):  # type: ignore[no-untyped-def]
    dx = max(boxes[node, 0] - x, x - boxes[node, 3], 0.0)
    dy = max(boxes[node, 1] - y, y - boxes[node, 4], 0.0)
    dz = max(boxes[node, 2] - z, z - boxes[node, 5], 0.0)
    return dx * dx + dy * dy + dz * dz


@njit(cache=True, nogil=True)
def _nearest(points, corners, boxes):  # type: ignore[no-untyped-def]
    out = np.empty(len(points))
    leaves = len(boxes) // 2
    nodes, ways = np.empty(128, np.int64), np.empty(128)
    last = 0  # the triangle nearest to the point before: it is not far from the nearest to this one
    for i in range(len(points)):
        x, y, z = points[i, 0], points[i, 1], points[i, 2]
        best = _squared(x, y, z, corners, last)
        nodes[0], ways[0], n = 1, _to_box(x, y, z, boxes, 1), 1
        while n > 0:
            n -= 1
            node = nodes[n]
            if ways[n] >= best:
                continue
            if node >= leaves:
                first = (node - leaves) * LEAF
                for t in range(first, min(first + LEAF, len(corners))):
                    d = _squared(x, y, z, corners, t)
                    if d < best:
                        best, last = d, t
                continue
            one, two = 2 * node, 2 * node + 1
            a, b = _to_box(x, y, z, boxes, one), _to_box(x, y, z, boxes, two)
            if a < b:
                one, two, a, b = two, one, b, a
            if a < best:
                nodes[n], ways[n] = one, a
                n += 1
            if b < best:
                nodes[n], ways[n] = two, b
                n += 1
        out[i] = best
    return out


@njit(cache=True, nogil=True)
def _squared(x, y, z, corners, t):  # type: ignore[no-untyped-def]
    """Squared distance from a point to a triangle, by the region its foot falls into (Ericson 2005, section 5.1.5)."""
    ax, ay, az = x - corners[t, 0, 0], y - corners[t, 0, 1], z - corners[t, 0, 2]
    bx, by, bz = x - corners[t, 1, 0], y - corners[t, 1, 1], z - corners[t, 1, 2]
    cx, cy, cz = x - corners[t, 2, 0], y - corners[t, 2, 1], z - corners[t, 2, 2]
    ux, uy, uz = ax - bx, ay - by, az - bz  # from the first corner to the second
    vx, vy, vz = ax - cx, ay - cy, az - cz  # and to the third
    d1, d2 = ux * ax + uy * ay + uz * az, vx * ax + vy * ay + vz * az
    if d1 <= 0.0 and d2 <= 0.0:
        return ax * ax + ay * ay + az * az
    d3, d4 = ux * bx + uy * by + uz * bz, vx * bx + vy * by + vz * bz
    if d3 >= 0.0 and d4 <= d3:
        return bx * bx + by * by + bz * bz
    vc = d1 * d4 - d3 * d2
    if vc <= 0.0 and d1 >= 0.0 and d3 <= 0.0:
        s = d1 / (d1 - d3)
        px, py, pz = ax - ux * s, ay - uy * s, az - uz * s
        return px * px + py * py + pz * pz
    d5, d6 = ux * cx + uy * cy + uz * cz, vx * cx + vy * cy + vz * cz
    if d6 >= 0.0 and d5 <= d6:
        return cx * cx + cy * cy + cz * cz
    vb = d5 * d2 - d1 * d6
    if vb <= 0.0 and d2 >= 0.0 and d6 <= 0.0:
        s = d2 / (d2 - d6)
        px, py, pz = ax - vx * s, ay - vy * s, az - vz * s
        return px * px + py * py + pz * pz
    va = d3 * d6 - d5 * d4
    if va <= 0.0 and d4 - d3 >= 0.0 and d5 - d6 >= 0.0:
        s = (d4 - d3) / ((d4 - d3) + (d5 - d6))
        px, py, pz = bx - (vx - ux) * s, by - (vy - uy) * s, bz - (vz - uz) * s
        return px * px + py * py + pz * pz
    whole = va + vb + vc
    s, w = vb / whole, vc / whole
    px, py, pz = ax - ux * s - vx * w, ay - uy * s - vy * w, az - uz * s - vz * w
    return px * px + py * py + pz * pz
