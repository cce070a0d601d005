"""Weighted sums of beam doses, as much of them as is looked at: a plane, a point, the highest voxel, the whole."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.values import FrozenArray
from engine.base.words import say
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

BLOCK = 4
_FEW = 16
Plane = tuple[NDArray[np.float32], NDArray[np.float64], NDArray[np.float64]]


# The planes of the beams, float32 (pixels,) each, by axis and place.
Cuts = OrderedDict[tuple[int, float], tuple[FrozenArray, ...]]
_CUTS_KEPT = 8


def plane_sum(
    doses: Sequence[FrozenArray],
    factors: Sequence[float],
    grid: Grid,
    axis: str,
    position_mm: float,
    kept: Cuts | None = None,
) -> Plane:
    """Return one plane of the sum, with the patient coordinates of its rows and columns.

    Axis "z" (axial): rows along y, columns along x; "y" (coronal): rows along z, columns along x; "x" (sagittal): rows
    along z, columns along y. Linear between the two neighbouring planes; zero outside the grid's faces.

    Parameters
    ----------
    kept : where the planes of these doses are kept for the next sum: weights move, planes stand
    """
    from engine.evaluation.kernels import add
    from engine.evaluation.reading import CUTS

    if axis not in ("x", "y", "z"):
        raise InputError(say("a plane lies across x, y or z, not {axis!r}", axis=axis))
    along = "zyx".index(axis)
    places = (grid.z_mm, grid.y_mm, grid.x_mm)
    row_mm, column_mm = (places[i] for i in range(3) if i != along)
    out = np.zeros((len(row_mm), len(column_mm)), dtype=np.float32)
    n = grid.shape[along]
    at = (position_mm - places[along][0]) / grid.spacing_mm[2 - along]
    if not -0.5 <= at <= n - 0.5:
        return out, row_mm, column_mm
    at = min(max(at, 0.0), n - 1.0)
    kept = OrderedDict() if kept is None else kept
    if (along, at) not in kept:
        kept[along, at] = tuple(CUTS.cut(gy, along, at) for gy in doses)
        if len(kept) > _CUTS_KEPT:
            kept.popitem(last=False)
    for plane, factor in zip(kept[along, at], factors, strict=True):
        if factor != 0.0:
            add(plane, float(factor), out.reshape(-1))
    return out, row_mm, column_mm


def cut_of(gy: FrozenArray, along: int, at: float) -> NDArray[np.float32]:
    """Return a plane of a dose, float32 (pixels,), linear between its neighbours; `at` is a place between planes."""
    low = min(int(at), max(gy.shape[along] - 2, 0))
    high = min(low + 1, gy.shape[along] - 1)
    share = np.float32(at - low)
    first, second = (np.take(gy, i, axis=along).reshape(-1) for i in (low, high))
    return first * (np.float32(1) - share) + second * share


def whole_sum(doses: Sequence[FrozenArray], factors: Sequence[float]) -> NDArray[np.float32]:
    """Return the whole sum; a few planes at a time, so that they stay in the processor's cache."""
    from engine.evaluation.kernels import add

    out = np.zeros(doses[0].shape, dtype=np.float32)
    flat = [(d.reshape(-1), float(f)) for d, f in zip(doses, factors, strict=True) if f != 0.0]
    target = out.reshape(-1)
    step = 1 << 16
    for start in range(0, target.size, step):
        for gy, factor in flat:
            add(gy[start : start + step], factor, target[start : start + step])
    return out


def inside_mask(coverage: Coverage | None, grid: Grid) -> NDArray[np.bool_]:
    """Return which voxel centres of a dose grid lie in a volume (at least half of the pixel there covered)."""
    if coverage is None:
        return np.ones(grid.shape, dtype=np.bool_)
    image, out = coverage.grid, np.zeros(grid.shape, dtype=np.bool_)
    rows = np.rint((grid.y_mm - image.origin_mm[1]) / image.spacing_mm[1]).astype(np.int64)
    columns = np.rint((grid.x_mm - image.origin_mm[0]) / image.spacing_mm[0]).astype(np.int64)
    tiles = {t.plane: t for t in coverage.tiles}
    for k, z in enumerate(grid.z_mm):
        tile = tiles.get(round((z - image.origin_mm[2]) / image.spacing_mm[2]))
        if tile is None:
            continue
        h, w = tile.alpha.shape
        r, c = rows - tile.row, columns - tile.column
        fits_r, fits_c = (r >= 0) & (r < h), (c >= 0) & (c < w)
        if fits_r.any() and fits_c.any():
            out[k][np.ix_(fits_r, fits_c)] = tile.alpha[np.ix_(r[fits_r], c[fits_c])] >= 128
    return out


def highest(
    doses: Sequence[FrozenArray], factors: Sequence[float], tops: FrozenArray, mask: FrozenArray
) -> tuple[tuple[int, int, int], float] | None:
    """Return the masked voxel (plane, row, column) with the highest sum, and that sum; None if the mask is empty.

    Parameters
    ----------
    tops : float32 (beams, blocks), ``tops_of`` the doses; their weighted sum bounds a block from above, so that
        only the few blocks that can hold the highest voxel are summed (factors are not negative)
    """
    from engine.evaluation.kernels import add_blocks, bounds

    bound = np.empty(tops.shape[1], dtype=np.float32)
    order = np.array([bounds(tops, np.asarray(factors, dtype=np.float64), bound)])
    best, where, few = -1.0, (0, 0, 0), _FEW
    while order.size and bound[order[0]] > best and bound[order[0]] >= 0:
        sums = np.full((len(order), BLOCK**3), -1.0, dtype=np.float32)
        for gy, factor in zip(doses, factors, strict=True):
            add_blocks(gy, mask, order, float(factor), BLOCK, sums)
        i, j = np.unravel_index(int(np.argmax(sums)), sums.shape)
        if sums[i, j] > best:
            best, where = float(sums[i, j]), _voxel(int(order[i]), int(j), mask.shape)
        bound[order] = -1.0
        order = np.flatnonzero(bound > best)
        # The best few first, then all at once: on a wide plateau every block may hold the highest voxel.
        order = order[np.argsort(bound[order])[::-1][:few]]
        few = bound.size
    return None if best < 0 else (where, best)


def tops_of(doses: Sequence[FrozenArray], mask: FrozenArray) -> NDArray[np.float32]:
    """Return the highest masked dose of each block of BLOCK^3 voxels, float32 (beams, blocks); -1 where there is none."""
    from engine.evaluation.kernels import block_tops

    return np.stack([block_tops(d, mask, BLOCK) for d in doses])


def _voxel(block: int, inner: int, shape: tuple[int, ...]) -> tuple[int, int, int]:
    nr, nc = -(-shape[1] // BLOCK), -(-shape[2] // BLOCK)
    k, r, c = block // (nr * nc), block // nc % nr, block % nc
    return k * BLOCK + inner // BLOCK**2, r * BLOCK + inner // BLOCK % BLOCK, c * BLOCK + inner % BLOCK
