"""Values between voxels: trilinear sampling at points, and box averages on another grid."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.space.grid import Grid

Floats = NDArray[np.floating]


def trilinear(data: Floats, grid: Grid, points_mm: NDArray[np.float64], outside: float = 0.0) -> NDArray[np.float64]:
    """Return values at points by linear interpolation between voxel centres.

    Parameters
    ----------
    data : (planes, rows, columns) on `grid`
    points_mm : (..., 3) as (x, y, z)
    outside : value beyond the outer faces; between the outermost centres and the faces the edge value holds
    """
    index = grid.index(points_mm)
    shape = np.array(data.shape)
    inside = np.all((index >= -0.5) & (index <= shape - 0.5), axis=-1)
    index = np.clip(index, 0, shape - 1)
    low = np.minimum(index.astype(np.intp), np.maximum(shape - 2, 0))
    high = np.minimum(low + 1, shape - 1)
    f = index - low
    total = np.zeros(index.shape[:-1])
    for corner in range(8):
        at, weight = [], np.ones(index.shape[:-1])
        for axis in range(3):
            upper = bool(corner >> axis & 1)
            at.append((high if upper else low)[..., axis])
            weight = weight * (f[..., axis] if upper else 1 - f[..., axis])
        total += weight * data[tuple(at)]
    return np.where(inside, total, outside)


def on_grid(data: Floats, grid: Grid, target: Grid) -> NDArray[np.float32]:
    """Return values at the voxel centres of another grid, linear between centres as ``trilinear``, one axis at a time.

    Beyond the outermost centres, outside the faces too, the edge value holds: whoever asks sees to the extents.
    """
    out = np.asarray(data, dtype=np.float32)
    for axis, (here, there) in enumerate(((grid.z_mm, target.z_mm), (grid.y_mm, target.y_mm), (grid.x_mm, target.x_mm))):
        at = np.clip((there - here[0]) / grid.spacing_mm[2 - axis], 0, len(here) - 1)
        low = np.minimum(at.astype(np.intp), max(len(here) - 2, 0))
        high = np.minimum(low + 1, len(here) - 1)
        share = (at - low).astype(np.float32).reshape([-1 if a == axis else 1 for a in range(3)])
        first, second = np.take(out, low, axis=axis), np.take(out, high, axis=axis)
        second -= first
        second *= share
        out = first + second
    return np.ascontiguousarray(out)


def overlap(source_low: float, source_step: float, count: int, low: float, step: float, target: int) -> Floats:
    """Return the matrix (target, count) of the share of each target cell that each source cell covers, along one axis.

    Rows sum to 1 inside the source's extent, to less where a target cell reaches beyond it.
    """
    edges = (low + step * np.arange(target + 1) - source_low) / source_step
    cells = np.arange(count)
    upper = np.minimum(edges[1:, None], cells + 1.0)
    lower = np.maximum(edges[:-1, None], cells)
    return np.maximum(upper - lower, 0.0) * (source_step / step)


def box_average(data: Floats, grid: Grid, target: Grid, outside: float = 0.0) -> NDArray[np.float32]:
    """Return the mean of `data` over each voxel of `target`, so that mass is conserved whatever the two spacings are.

    Parameters
    ----------
    data : (planes, rows, columns) on `grid`, constant inside each voxel
    outside : value of the space beyond `grid`
    """
    lo, target_lo = grid.bounds_mm[0], target.bounds_mm[0]
    weights = [
        overlap(lo[a], grid.spacing_mm[a], grid.shape[2 - a], target_lo[a], target.spacing_mm[a], target.shape[2 - a])
        for a in range(3)
    ]
    used = [np.flatnonzero(w.any(axis=0)) for w in weights]
    if any(u.size == 0 for u in used):
        return np.full(target.shape, outside, dtype=np.float32)
    cut = [slice(int(u[0]), int(u[-1]) + 1) for u in used]
    wx, wy, wz = (np.ascontiguousarray(w[:, c], dtype=np.float32) for w, c in zip(weights, cut, strict=True))
    part = np.asarray(data[cut[2], cut[1], cut[0]], dtype=np.float32)
    if outside:
        part = part - np.float32(outside)
    part = np.matmul(wy, np.matmul(part, wx.T))
    mean = (wz @ part.reshape(part.shape[0], -1)).reshape(target.shape)
    return mean + np.float32(outside) if outside else np.ascontiguousarray(mean)
