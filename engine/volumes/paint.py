"""Paint one slice: brush, range brush, polygon, region growing and edge tracing.

A slice is uint8 (rows, columns), 255 = wholly inside. Points are (row, column) with pixel centres at whole numbers.
Painting keeps the larger of old and new share, erasing the smaller, so going over a place twice changes nothing.
The kernels are loaded on first use, so importing this module costs nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from engine.base.errors import GeometryError
from engine.base.words import say

Box = tuple[int, int, int, int]
NOTHING: Box = (0, 0, 0, 0)
FARTHEST_PX = 1e9


def stamp(
    slice_u8: NDArray[np.uint8],
    row: float,
    column: float,
    radius_px: tuple[float, float],
    value: int = 255,
    only: NDArray[np.bool_] | None = None,
) -> Box:
    """Press a disc into a slice, in place, and return the box of pixels that changed.

    Parameters
    ----------
    slice_u8 : uint8 (rows, columns), changed in place
    row, column : centre, fractional; it may lie outside the slice
    radius_px : (rows, columns), the two differ where pixels are not square
    value : 255 paints, 0 erases; a value between paints that share of each pixel
    only : pixels that may change (range brush), bool (rows, columns)

    Returns
    -------
    (first row, last row + 1, first column, last column + 1); all zero if nothing changed
    """
    return _sweep(slice_u8, np.array([[row, column]], dtype=np.float64), radius_px, value, only)


def stroke(
    slice_u8: NDArray[np.uint8],
    points_rc: ArrayLike,
    radius_px: tuple[float, float],
    erase: bool = False,
    only: NDArray[np.bool_] | None = None,
) -> Box:
    """Draw a disc along a line through `points_rc` (n, 2), in place, and return the box of pixels that changed."""
    return _sweep(slice_u8, np.asarray(points_rc, dtype=np.float64).reshape(-1, 2), radius_px, 0 if erase else 255, only)


def _sweep(
    slice_u8: NDArray[np.uint8],
    points: NDArray[np.float64],
    radius_px: tuple[float, float],
    value: int,
    only: NDArray[np.bool_] | None,
) -> Box:
    from engine.volumes.raster import capsule

    rr, rc = float(radius_px[0]), float(radius_px[1])
    if not (0.0 < rr < 1e5 and 0.0 < rc < 1e5):
        raise GeometryError(say("a brush needs a positive radius, not {rr} × {rc} pixels", rr=rr, rc=rc), "brush")
    if not np.isfinite(points).all():
        raise GeometryError("a brush stroke has a point that is not a number", "brush")
    if not 0 <= value <= 255:
        raise GeometryError(say("a paint value of {value} is not between 0 and 255", value=value), "brush")
    mask = fitting_mask(only, slice_u8.shape)
    dirty = np.array([slice_u8.shape[0], 0, slice_u8.shape[1], 0], dtype=np.int64)
    ends = points if len(points) != 1 else np.concatenate((points, points))
    for (r0, c0), (r1, c1) in zip(ends[:-1].tolist(), ends[1:].tolist()):
        capsule(slice_u8, mask, only is not None, (r0, c0, r1, c1), (rr, rc), int(value), dirty)
    if dirty[1] == 0:
        return NOTHING
    return int(dirty[0]), int(dirty[1]), int(dirty[2]), int(dirty[3])


def fitting_mask(only: NDArray[np.bool_] | None, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Return the pixels that may change as the kernels want them, of no size for None; raises where they do not fit."""
    if only is not None and only.shape != shape:
        raise GeometryError(
            say("a mask of shape {shape} does not fit the slice {wanted}", shape=only.shape, wanted=shape), "brush"
        )
    return np.zeros((0, 0), np.bool_) if only is None else np.ascontiguousarray(only, dtype=np.bool_)


def polygon(shape: tuple[int, int], points_rc: ArrayLike) -> NDArray[np.uint8]:
    """Return the area coverage (uint8, `shape`) of a closed polygon (n, 2); where it crosses itself, even-odd."""
    return polygons(shape, (np.asarray(points_rc, dtype=np.float64).reshape(-1, 2),))


def polygons(shape: tuple[int, int], loops_rc: tuple[NDArray[np.float64], ...]) -> NDArray[np.uint8]:
    """Return the area coverage of several closed loops by the even-odd rule: a loop inside another is a hole."""
    from engine.volumes import raster

    loops = [loop for loop in loops_rc if len(loop) >= 3]
    if not loops:
        return np.zeros(shape, np.uint8)
    points = np.concatenate(loops).astype(np.float64)
    if not np.isfinite(points).all():
        raise GeometryError("a polygon has a point that is not a number", "polygon")
    # So far off a line's direction is all that counts, and the kernel may multiply what is left.
    np.clip(points, -FARTHEST_PX, FARTHEST_PX, out=points)
    starts = np.concatenate(((0,), np.cumsum([len(loop) for loop in loops]))).astype(np.int64)
    return raster.polygons((int(shape[0]), int(shape[1])), points, starts)


def level_range(hu_slice: NDArray[np.generic], lo: float, hi: float) -> NDArray[np.bool_]:
    """Return where CT numbers lie between `lo` and `hi`, both included."""
    return np.asarray((hu_slice >= np.float64(lo)) & (hu_slice <= np.float64(hi)))


def region_grow(hu_slice: NDArray[np.generic], seed_rc: tuple[float, float], lo: float, hi: float) -> NDArray[np.uint8]:
    """Return the connected region around a seed whose CT numbers lie in lo..hi, uint8 0 or 255.

    Pixels are joined over their sides, not corners. A seed outside the slice or the range gives an empty slice.
    """
    from scipy import ndimage

    inside = level_range(hu_slice, lo, hi)
    r, c = int(np.floor(seed_rc[0] + 0.5)), int(np.floor(seed_rc[1] + 0.5))
    if not (0 <= r < inside.shape[0] and 0 <= c < inside.shape[1]) or not inside[r, c]:
        return np.zeros(inside.shape, np.uint8)
    labels, _ = ndimage.label(inside)
    return np.where(labels == labels[r, c], np.uint8(255), np.uint8(0))


def edge_trace(
    hu_slice: NDArray[np.generic],
    start_rc: tuple[float, float],
    stop_rc: tuple[float, float],
    margin_px: int = 40,
    pixel_mm: tuple[float, float] = (1.0, 1.0),
) -> NDArray[np.float64]:
    """Return the path (n, 2) from start to stop that keeps to edges of the image: least cost, low where it is steep.

    Steps and slopes are those in mm of pixels of height and width `pixel_mm`.
    Only the box around both points, widened by `margin_px`, is searched. Points outside the slice are moved to its rim.
    """
    from scipy import ndimage
    from skimage.graph import MCP_Geometric

    rim = np.array(hu_slice.shape) - 1
    a = np.clip(np.floor(np.asarray(start_rc) + 0.5).astype(int), 0, rim)
    b = np.clip(np.floor(np.asarray(stop_rc) + 0.5).astype(int), 0, rim)
    lo = np.maximum(np.minimum(a, b) - margin_px, 0)
    hi = np.minimum(np.maximum(a, b) + margin_px, rim) + 1
    window = np.asarray(hu_slice[lo[0] : hi[0], lo[1] : hi[1]], dtype=np.float64)
    # Blurred alike in mm, but at least by half a pixel of the larger side.
    fine = min(pixel_mm)
    sigma = tuple(max(0.5, fine / side) for side in pixel_mm)
    steep = np.hypot(
        ndimage.gaussian_filter(window, sigma, order=(1, 0)) * (fine / pixel_mm[0]),
        ndimage.gaussian_filter(window, sigma, order=(0, 1)) * (fine / pixel_mm[1]),
    )
    # The strongest edges set the scale: without it one metal clip would make all other edges look alike.
    scale = max(float(np.percentile(steep, 95)), 1.0)
    cost = 0.02 + 1.0 / (1.0 + (3.0 * steep / scale) ** 2)
    router = MCP_Geometric(cost, fully_connected=True, sampling=pixel_mm)
    router.find_costs([tuple(a - lo)], [tuple(b - lo)])
    path = router.traceback(tuple(b - lo))
    return np.asarray(path, dtype=np.float64) + lo


def warm_up() -> None:
    """Load or compile the kernels once, away from the first stroke."""
    scratch = np.zeros((8, 8), np.uint8)
    stroke(scratch, ((2.0, 2.0), (4.0, 4.0)), (2.0, 2.0))
    polygon((8, 8), ((1.0, 1.0), (1.0, 5.0), (5.0, 3.0)))
