"""The surface of a volume as triangles in mm, and how far one surface lies from another."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.volumes.coverage import Coverage
from engine.volumes.nearest import Tree, along_curve, squared_distances, tree_of

Floats = NDArray[np.float64]

_AT_ONCE = 32000  # points between two reports of progress
# Takes half of the points; starts its thread when first asked.
_BESIDE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="halfshade-surfaces")


@dataclass(frozen=True)
class Surface:
    """Triangles of a closed surface.

    Parameters
    ----------
    corners_mm : float64 (n, 3, 3): triangle, corner, (x, y, z) in patient axes
    """

    corners_mm: Floats

    @cached_property
    def middles_mm(self) -> Floats:
        """Centres of the triangles, (n, 3)."""
        out: Floats = (self.corners_mm[:, 0] + self.corners_mm[:, 1] + self.corners_mm[:, 2]) / 3
        return out

    @cached_property
    def order(self) -> NDArray[np.intp]:
        """An order of the triangles in which neighbours lie near each other."""
        return along_curve(self.middles_mm)

    @cached_property
    def tree(self) -> Tree:
        """The triangles sorted, to find the nearest to a point."""
        return tree_of(self.corners_mm, self.order)

    @property
    def areas_mm2(self) -> Floats:
        """Areas of the triangles, (n,)."""
        out: Floats = _areas(self.corners_mm)
        return out


@njit(cache=True, nogil=True)
def _areas(corners):  # type: ignore[no-untyped-def]
    out = np.empty(len(corners))
    for t in range(len(corners)):
        ax, ay, az = corners[t, 0, 0], corners[t, 0, 1], corners[t, 0, 2]
        ux, uy, uz = corners[t, 1, 0] - ax, corners[t, 1, 1] - ay, corners[t, 1, 2] - az
        vx, vy, vz = corners[t, 2, 0] - ax, corners[t, 2, 1] - ay, corners[t, 2, 2] - az
        x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        out[t] = 0.5 * np.sqrt(x * x + y * y + z * z)
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


def distances_mm(
    points_mm: Floats, surface: Surface, report: Report = quiet, order: NDArray[np.intp] | None = None
) -> Floats:
    """Return how far each point (n, 3) lies from a surface that has triangles, exact to the triangle.

    `order` is one in which near points follow each other, if it is known already.
    """
    out = np.empty(len(points_mm))
    order = along_curve(points_mm) if order is None else order
    tree = surface.tree
    for start in range(0, len(points_mm), _AT_ONCE):
        report(start / len(points_mm), "Measuring from surface to surface")
        some = order[start : start + _AT_ONCE]
        near = points_mm[some]
        half = len(some) // 2
        later = _BESIDE.submit(squared_distances, near[half:], tree)
        out[some[:half]] = np.sqrt(squared_distances(near[:half], tree))
        out[some[half:]] = np.sqrt(later.result())
    return out
