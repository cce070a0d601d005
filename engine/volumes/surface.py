"""The surface of a volume as triangles in mm, and how far one surface lies from another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.volumes.coverage import Coverage

Floats = NDArray[np.float64]

# Of the triangles whose middles lie nearest to a point, the nearest one is among so many: neighbours share their corners.
_NEIGHBOURS = 16
_AT_ONCE = 8000  # points between two reports of progress


@dataclass(frozen=True)
class Surface:
    """Triangles of a closed surface.

    Parameters
    ----------
    corners_mm : float64 (n, 3, 3): triangle, corner, (x, y, z) in patient axes
    """

    corners_mm: Floats

    @property
    def middles_mm(self) -> Floats:
        """Centres of the triangles, (n, 3)."""
        out: Floats = self.corners_mm.mean(axis=1)
        return out

    @property
    def areas_mm2(self) -> Floats:
        """Areas of the triangles, (n,)."""
        a, b, c = (self.corners_mm[:, i] for i in range(3))
        out: Floats = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
        return out


def surface_of(coverage: Coverage) -> Surface:
    """Return where the covered share passes one half, linear between voxel centres (marching cubes, Lewiner et al. 2003).

    Beyond its first and last slice, and beyond the image, a volume is taken to end: the surface is closed. Empty volumes
    have no triangle.
    """
    from skimage.measure import marching_cubes

    solid = [t for t in coverage.tiles if (t.alpha > 127).any()]
    if not solid:
        return Surface(np.empty((0, 3, 3)))
    first, last = solid[0].plane, solid[-1].plane
    r0, c0 = min(t.row for t in solid), min(t.column for t in solid)
    r1 = max(t.row + t.alpha.shape[0] for t in solid)
    c1 = max(t.column + t.alpha.shape[1] for t in solid)
    field = np.zeros((last - first + 3, r1 - r0 + 2, c1 - c0 + 2), np.float32)
    for t in solid:
        r, c = t.row - r0 + 1, t.column - c0 + 1
        field[t.plane - first + 1, r : r + t.alpha.shape[0], c : c + t.alpha.shape[1]] = t.alpha
    corners, faces, _, _ = marching_cubes(field, 127.5, allow_degenerate=False)  # type: ignore[no-untyped-call]
    points = coverage.grid.point(corners.astype(np.float64) + (first - 1, r0 - 1, c0 - 1))
    return Surface(points[faces])


def distances_mm(points_mm: Floats, surface: Surface, report: Report = quiet) -> Floats:
    """Return how far each point (n, 3) lies from a surface that has triangles, exact to the triangle."""
    from scipy.spatial import cKDTree

    count = min(_NEIGHBOURS, len(surface.corners_mm))
    tree = cKDTree(surface.middles_mm)
    out = np.empty(len(points_mm))
    for start in range(0, len(points_mm), _AT_ONCE):
        report(start / len(points_mm), "Measuring from surface to surface")
        some = points_mm[start : start + _AT_ONCE]
        _, near = tree.query(some, k=count)
        out[start : start + _AT_ONCE] = _to_triangles(
            some, surface.corners_mm, near.reshape(len(some), count).astype(np.int64)
        )
    return out


@njit(cache=True, nogil=True)
def _to_triangles(points: Floats, corners: Floats, near: NDArray[np.int64]) -> Floats:
    out = np.empty(len(points))
    for i in range(len(points)):
        best = np.inf
        for j in near[i]:
            best = min(best, _squared(points[i], corners[j, 0], corners[j, 1], corners[j, 2]))
        out[i] = np.sqrt(best)
    return out


@njit(cache=True, nogil=True)
def _squared(p: Floats, a: Floats, b: Floats, c: Floats) -> float:
    """Squared distance from a point to a triangle, by the region its foot falls into (Ericson 2005, section 5.1.5)."""
    ab, ac, ap = b - a, c - a, p - a
    d1, d2 = ab.dot(ap), ac.dot(ap)
    if d1 <= 0.0 and d2 <= 0.0:
        return ap.dot(ap)
    bp = p - b
    d3, d4 = ab.dot(bp), ac.dot(bp)
    if d3 >= 0.0 and d4 <= d3:
        return bp.dot(bp)
    vc = d1 * d4 - d3 * d2
    if vc <= 0.0 and d1 >= 0.0 and d3 <= 0.0:
        foot = ap - ab * (d1 / (d1 - d3))
        return foot.dot(foot)
    cp = p - c
    d5, d6 = ab.dot(cp), ac.dot(cp)
    if d6 >= 0.0 and d5 <= d6:
        return cp.dot(cp)
    vb = d5 * d2 - d1 * d6
    if vb <= 0.0 and d2 >= 0.0 and d6 <= 0.0:
        foot = ap - ac * (d2 / (d2 - d6))
        return foot.dot(foot)
    va = d3 * d6 - d5 * d4
    if va <= 0.0 and d4 - d3 >= 0.0 and d5 - d6 >= 0.0:
        foot = bp - (c - b) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)))
        return foot.dot(foot)
    whole = va + vb + vc
    foot = ap - ab * (vb / whole) - ac * (vc / whole)
    return foot.dot(foot)
