"""Tidying through the slices: smooth in three dimensions, fill closed cavities."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import share_below

Box = tuple[int, int, int, int]
MAX_WIDTH_MM = 20.0


def smooth_through(coverage: Coverage, width_mm: float = 2.0, report: Report = quiet) -> Coverage:
    """Return the volume smoothed in all three directions, its volume kept.

    The shares are blurred by a Gaussian (sigma `width_mm` in true mm, so over fewer slices where they lie apart), then
    cut at the level that restores the volume, to a tenth of a percent or as near as flat ends, which come and go as a
    whole, allow. Slices may come or go at both ends. Beyond the image's rim the volume is
    taken to go on. A volume of which nothing would be left stays as it is.

    Raises
    ------
    GeometryError
        If the width is not between 0 and 20 mm.
    """
    from scipy import ndimage

    if not 0 <= width_mm <= MAX_WIDTH_MM:
        raise GeometryError(
            say("a smoothing width of {width_mm} mm is not between 0 and 20 mm", width_mm=width_mm), "smooth"
        )
    if width_mm == 0 or coverage.is_empty:
        return coverage
    dx, dy, dz = coverage.grid.spacing_mm
    pad = [int(np.ceil(3 * width_mm / d)) + 2 for d in (dy, dy, dx, dx)]
    data, first, box = dense_box(coverage, pad, int(np.ceil(3 * width_mm / dz)))
    blurred = data.astype(np.float32)
    for axis, spacing in enumerate((dz, dy, dx)):
        blurred = ndimage.gaussian_filter1d(blurred, width_mm / spacing, axis, mode="nearest", truncate=3.0)
        report(0.2 * (axis + 1), "smoothing")
    np.negative(blurred, out=blurred)
    wanted = int(data.sum(dtype=np.int64))
    low, high = float(blurred.min()), 0.0
    best: tuple[int, list[NDArray[np.uint8]]] | None = None
    for tried in range(16):
        level = max(-127.5, low) if tried == 0 else 0.5 * (low + high)
        layers = [share_below(layer, level) for layer in blurred]
        found = sum(int(s.sum(dtype=np.int64)) for s in layers)
        if best is None or abs(found - wanted) < best[0]:
            best = abs(found - wanted), layers
        if best[0] <= 1e-3 * wanted:
            break
        low, high = (level, high) if found < wanted else (low, level)
        report(0.6 + 0.02 * tried, "smoothing")
    report(1.0, "smoothing")
    assert best is not None
    made = placed(coverage, first, box, best[1])
    return coverage if made.is_empty else made


def fill_cavities(coverage: Coverage, largest_cm3: float = np.inf, report: Report = quiet) -> Coverage:
    """Return the volume with cavities of at most `largest_cm3` filled to the brim.

    A cavity is a part outside that is closed in on every side, through the slices too; one that reaches the volume's
    first or last slice is open.
    """
    from scipy import ndimage

    if coverage.is_empty:
        return coverage
    data, first, box = dense_box(coverage, (1, 1, 1, 1), 1)
    inside = data > 127
    open_air, count = ndimage.label(np.pad(~inside, 1, constant_values=True))
    report(0.5, "filling holes")
    size = np.bincount(open_air.ravel(), minlength=count + 1) * coverage.grid.voxel_cm3
    small = size <= largest_cm3
    small[0] = small[open_air[0, 0, 0]] = False
    if not small.any():
        return coverage
    fill = small[open_air][1:-1, 1:-1, 1:-1]
    # The soft rim of a cavity is inside the line already, but short of full; that of another edge stays soft.
    square = np.ones((1, 3, 3), bool)
    rim = ndimage.binary_dilation(fill, square) & inside
    other = ndimage.binary_dilation(~inside & ~fill, square)
    data[fill | (rim & ~other)] = 255
    report(1.0, "filling holes")
    return placed(coverage, first, box, list(data))


def dense_box(coverage: Coverage, pad: tuple[int, ...] | list[int], planes: int) -> tuple[NDArray[np.uint8], int, Box]:
    """Return (shares, first plane, (r0, r1, c0, c1)) of a volume with a frame of `pad` pixels and `planes` slices.

    The frame is cut at the image's rim.
    """
    _, rows, columns = coverage.grid.shape
    up, down, left, right = pad
    r0 = max(0, min(t.row for t in coverage.tiles) - up)
    r1 = min(rows, max(t.row + t.alpha.shape[0] for t in coverage.tiles) + down)
    c0 = max(0, min(t.column for t in coverage.tiles) - left)
    c1 = min(columns, max(t.column + t.alpha.shape[1] for t in coverage.tiles) + right)
    first = max(0, coverage.planes[0] - planes)
    last = min(coverage.grid.shape[0] - 1, coverage.planes[-1] + planes)
    data = np.zeros((last - first + 1, r1 - r0, c1 - c0), np.uint8)
    for t in coverage.tiles:
        h, w = t.alpha.shape
        data[t.plane - first, t.row - r0 : t.row - r0 + h, t.column - c0 : t.column - c0 + w] = t.alpha
    return data, first, (r0, r1, c0, c1)


def placed(coverage: Coverage, first: int, box: Box, slices: list[NDArray[np.uint8]]) -> Coverage:
    """Return slices of a box as coverage; a slice that came out as it was keeps its tile."""
    tiles: list[Tile] = []
    for i, data in enumerate(slices):
        made = crop_tile(first + i, data)
        if made is None:
            continue
        made = made.but(row=made.row + box[0], column=made.column + box[2])
        before = coverage.tile(made.plane)
        tiles.append(before if before is not None and before == made else made)
    return Coverage(coverage.grid, tuple(tiles))
