"""Voxels a straight line crosses, with the exact length inside each."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.space.grid import Grid, Point


def crossings(grid: Grid, start_mm: Point, stop_mm: Point) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    """Return the voxels that the segment from `start_mm` to `stop_mm` crosses, in order, and the length in each.

    Parameters
    ----------
    start_mm, stop_mm : (x, y, z); either may lie outside the grid

    Returns
    -------
    index : (n, 3) as (plane, row, column)
    length_mm : (n,), summing to the length of the segment inside the grid

    Notes
    -----
    All crossings of voxel faces are sorted along the line (after Siddon, Med. Phys. 12 (1985) 252 [memory]). A line
    that runs in a face is counted in the voxel on its upper side, except at the last face of the grid.
    """
    a, b = np.asarray(start_mm, dtype=np.float64), np.asarray(stop_mm, dtype=np.float64)
    way = b - a
    length = float(np.linalg.norm(way))
    lo, hi = (np.asarray(v) for v in grid.bounds_mm)
    first, last = 0.0, 1.0
    steps = [np.empty(0)]
    for axis in range(3):
        if abs(way[axis]) < 1e-9:
            if not lo[axis] <= a[axis] <= hi[axis]:
                return np.empty((0, 3), dtype=np.intp), np.empty(0)
            continue
        faces = lo[axis] + grid.spacing_mm[axis] * np.arange(grid.shape[2 - axis] + 1)
        at = (faces - a[axis]) / way[axis]
        first, last = max(first, float(at.min())), min(last, float(at.max()))
        steps.append(at)
    if length < 1e-9 or first >= last:
        return np.empty((0, 3), dtype=np.intp), np.empty(0)
    inner = np.concatenate(steps)
    cuts = np.unique(np.concatenate([[first, last], inner[(inner > first) & (inner < last)]]))
    middle = a + 0.5 * (cuts[1:] + cuts[:-1])[:, None] * way
    cell = np.floor((middle - lo) / grid.spacing_mm)[:, ::-1].astype(np.intp)
    return np.clip(cell, 0, np.array(grid.shape) - 1), np.diff(cuts) * length


def line_integral(data: NDArray[np.floating], grid: Grid, start_mm: Point, stop_mm: Point) -> float:
    """Return the integral of a voxel-wise constant quantity along a segment (unit of `data` times mm)."""
    index, length = crossings(grid, start_mm, stop_mm)
    return float(np.dot(data[index[:, 0], index[:, 1], index[:, 2]].astype(np.float64), length))
