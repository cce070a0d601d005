"""A ball swept along a line: the brush that paints the slices beside as well."""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.words import say
from engine.space.grid import Grid
from engine.volumes.paint import NOTHING, Box, fitting_mask
from engine.volumes.raster import half_plane_area

LAYERS = 8
Point = tuple[float, float, float]


def planes_of_ball(grid: Grid, start_mm: Point, stop_mm: Point, radius_mm: float) -> range:
    """Return the slices that a ball between two points (x, y, z) may touch."""
    oz, sz = grid.origin_mm[2], grid.spacing_mm[2]
    low = math.ceil((min(start_mm[2], stop_mm[2]) - radius_mm - oz) / sz - 0.5)
    high = math.floor((max(start_mm[2], stop_mm[2]) + radius_mm - oz) / sz + 0.5)
    return range(max(low, 0), min(high, grid.shape[0] - 1) + 1)


def sweep_ball(
    slice_u8: NDArray[np.uint8],
    plane: int,
    grid: Grid,
    start_mm: Point,
    stop_mm: Point,
    radius_mm: float,
    erase: bool = False,
    only: NDArray[np.bool_] | None = None,
) -> Box:
    """Sweep a ball through one axial slice, in place, and return the box of pixels that changed.

    Each voxel takes the share of it that the ball covers, by `LAYERS` layers of it: exact areas of the tangent plane in
    each, or points in a grid of 8 x 8 where the ball is only a few pixels wide.

    Parameters
    ----------
    slice_u8 : uint8 (rows, columns), changed in place
    plane, grid : which slice of which stack it is
    start_mm, stop_mm : centre of the ball, patient (x, y, z); they may lie outside
    only : pixels that may change, bool (rows, columns)
    """
    if not (0.0 < radius_mm < 1e5) or not np.isfinite((*start_mm, *stop_mm)).all():
        raise GeometryError(say("a ball of radius {radius} mm cannot be painted", radius=radius_mm), "brush")
    (ox, oy, oz), (sx, sy, sz) = grid.origin_mm, grid.spacing_mm
    ends = tuple((p[1] - oy, p[0] - ox, p[2] - oz) for p in (start_mm, stop_mm))
    mask = fitting_mask(only, slice_u8.shape)
    dirty = np.array([slice_u8.shape[0], 0, slice_u8.shape[1], 0], dtype=np.int64)
    _sweep(slice_u8, mask, only is not None, ends[0], ends[1], plane * sz, (sy, sx, sz), float(radius_mm), erase, dirty)
    return NOTHING if dirty[1] == 0 else (int(dirty[0]), int(dirty[1]), int(dirty[2]), int(dirty[3]))


@njit(cache=True, nogil=True)
def _sweep(
    data: NDArray[np.uint8],
    only: NDArray[np.bool_],
    use_only: bool,
    start: Point,
    stop: Point,
    z: float,
    spacing: Point,
    radius: float,
    erase: bool,
    dirty: NDArray[np.int64],
) -> None:
    sr, sc, sz = spacing
    d0, d1, d2 = stop[0] - start[0], stop[1] - start[1], stop[2] - start[2]
    square = d0 * d0 + d1 * d1 + d2 * d2
    reach = 0.5 * math.sqrt(sr * sr + sc * sc + sz * sz)
    inner = max(0.0, radius - reach) ** 2 if radius > reach else -1.0
    outer = (radius + reach) ** 2
    few = radius < 4.0 * max(sr, sc)
    first = max(0, math.floor((min(start[0], stop[0]) - radius) / sr))
    last = min(data.shape[0] - 1, math.ceil((max(start[0], stop[0]) + radius) / sr))
    left = max(0, math.floor((min(start[1], stop[1]) - radius) / sc))
    right = min(data.shape[1] - 1, math.ceil((max(start[1], stop[1]) + radius) / sc))
    done = 0 if erase else 255
    for r in range(first, last + 1):
        p0 = r * sr - start[0]
        for c in range(left, right + 1):
            if data[r, c] == done or (use_only and not only[r, c]):
                continue
            p1 = c * sc - start[1]
            p2 = z - start[2]
            t = min(1.0, max(0.0, (p0 * d0 + p1 * d1 + p2 * d2) / square)) if square > 0.0 else 0.0
            near = (p0 - t * d0) ** 2 + (p1 - t * d1) ** 2 + (p2 - t * d2) ** 2
            if near >= outer:
                continue
            share = 1.0
            if near > inner:
                share = 0.0
                for layer in range(LAYERS):
                    q2 = p2 + sz * ((layer + 0.5) / LAYERS - 0.5)
                    if few:
                        hits = 0
                        for i in range(8):
                            q0 = p0 + sr * ((i + 0.5) / 8.0 - 0.5)
                            for j in range(8):
                                q1 = p1 + sc * ((j + 0.5) / 8.0 - 0.5)
                                t = min(1.0, max(0.0, (q0 * d0 + q1 * d1 + q2 * d2) / square)) if square > 0.0 else 0.0
                                far = (q0 - t * d0) ** 2 + (q1 - t * d1) ** 2 + (q2 - t * d2) ** 2
                                hits += far <= radius * radius
                        share += hits / 64.0
                        continue
                    t = min(1.0, max(0.0, (p0 * d0 + p1 * d1 + q2 * d2) / square)) if square > 0.0 else 0.0
                    n0, n1, n2 = p0 - t * d0, p1 - t * d1, q2 - t * d2
                    far = math.sqrt(n0 * n0 + n1 * n1 + n2 * n2)
                    if far < 1e-9:
                        share += 1.0
                    else:
                        share += half_plane_area(radius - far, abs(n0) / far * sr / 2.0, abs(n1) / far * sc / 2.0)
                share /= LAYERS
            old = data[r, c]
            new = 255 - int(share * 255.0 + 0.5) if erase else int(share * 255.0 + 0.5)
            if (new >= old) if erase else (new <= old):
                continue
            data[r, c] = new
            dirty[0] = min(dirty[0], r)
            dirty[1] = max(dirty[1], r + 1)
            dirty[2] = min(dirty[2], c)
            dirty[3] = max(dirty[3], c + 1)


def warm_up() -> None:
    """Load or compile the kernel once, away from the first stroke."""
    grid = Grid((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (1, 4, 4))
    sweep_ball(np.zeros((4, 4), np.uint8), 0, grid, (1.0, 1.0, 0.0), (1.0, 1.0, 0.0), 1.0)
