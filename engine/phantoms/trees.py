"""Branching trees of vessels and airways that fill a region, thinning as they divide."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.solids import Triple, Tube


def scatter(canvas: Canvas, region: Region, count: int, depth_mm: float, seed: int) -> NDArray[np.float64]:
    """Return `count` points (n, 3) spread evenly at random at least `depth_mm` below a region's surface."""
    rng = np.random.default_rng(seed)
    inside = np.flatnonzero(region.distance.ravel() < -depth_mm)
    if inside.size == 0:
        return np.zeros((0, 3))
    picked = np.unravel_index(rng.choice(inside, size=min(4 * count, inside.size), replace=False), region.distance.shape)
    corner = np.array([s.start for s in region.box])
    index = np.stack(picked, axis=-1) + corner + rng.uniform(-0.5, 0.5, (len(picked[0]), 3))
    points = canvas.grid.point(index)
    kept: list[int] = []
    volume = inside.size * canvas.grid.voxel_cm3 * 1000.0
    apart = 0.75 * (volume / count) ** (1 / 3)
    tree = cKDTree(points)
    blocked = np.zeros(len(points), dtype=bool)
    for i in range(len(points)):
        if not blocked[i]:
            kept.append(i)
            blocked[tree.query_ball_point(points[i], apart)] = True
            if len(kept) == count:
                break
    return np.asarray(points[kept])


def grow_tree(
    root: Triple, tips: NDArray[np.float64], tip_mm: float, exponent: float, most_mm: float, seed: int
) -> list[Tube]:
    """Return a tree from `root` to all tips, as in nature wide at the root (radius ^ exponent adds up at forks).

    Every tip, the nearest to the root first, is joined to the place of the tree that makes the way short without
    turning back; a way is broken in two with a small random bend.
    """
    rng = np.random.default_rng(seed)
    origin = np.asarray(root, dtype=np.float64)
    order = np.argsort(np.linalg.norm(tips - origin, axis=1))
    nodes, parent, way = [origin], [-1], [0.0]
    for tip in tips[order]:
        have = np.array(nodes)
        gap = np.linalg.norm(have - tip, axis=1)
        best = int(np.argmin(gap + 0.18 * np.array(way)))
        start, last = nodes[best], best
        pieces = max(1, min(5, int(gap[best] / 7.0)))
        bend = rng.normal(0, 0.07 * gap[best], 3)
        for i in range(1, pieces + 1):
            t = i / pieces
            nodes.append(start + t * (tip - start) + bend * 4 * t * (1 - t))
            parent.append(last)
            way.append(way[last] + gap[best] / pieces)
            last = len(nodes) - 1
    leaves = np.zeros(len(nodes))
    leaves[-1] = 0
    children = np.bincount(np.array(parent[1:]), minlength=len(nodes))
    leaves[children == 0] = 1
    for i in range(len(nodes) - 1, 0, -1):
        leaves[parent[i]] += leaves[i]
    radius = np.minimum(tip_mm * leaves ** (1 / exponent), most_mm)
    return [
        Tube(np.array((nodes[parent[i]], nodes[i])), np.array((min(radius[parent[i]], radius[i] * 1.25), radius[i])))
        for i in range(1, len(nodes))
    ]
