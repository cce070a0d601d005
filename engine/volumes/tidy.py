"""Tidying a volume: smooth, fill holes, drop islands, copy slices, keep a range of CT numbers."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.image.ct import CtImage
from engine.volumes import labels
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import share_below, signed_distance_mm
from engine.volumes.pieces import pieces_of


def smooth(coverage: Coverage, width_mm: float = 2.0, report: Report = quiet) -> Coverage:
    """Return the volume with smoother lines, slice by slice, each slice's area kept.

    The signed distance to the line is blurred by a Gaussian (sigma `width_mm`), then cut at the level that restores
    the slice's area to a hundredth of a percent. Slices that would vanish stay as they are; no slice is added.

    Raises
    ------
    GeometryError
        If the width is not between 0 and 20 mm.
    """
    from scipy import ndimage

    if not 0 <= width_mm <= 20:
        raise GeometryError(
            say("a smoothing width of {width_mm} mm is not between 0 and 20 mm", width_mm=width_mm), "smooth"
        )
    if width_mm == 0:
        return coverage
    dx, dy = coverage.grid.spacing_mm[:2]
    pad = int(np.ceil(3 * width_mm / min(dx, dy))) + 2
    out: list[Tile] = []
    for i, tile in enumerate(coverage.tiles):
        framed, row, column = _framed(coverage, tile, pad)
        wanted = int(tile.alpha.sum(dtype=np.int64))
        if (framed > 127).any():
            blurred = ndimage.gaussian_filter(
                signed_distance_mm(framed, (dy, dx)), (width_mm / dy, width_mm / dx), mode="nearest"
            ).astype(np.float32)
            made = crop_tile(tile.plane, _level_with_area(blurred, wanted))
        else:
            made = None
        out.append(tile if made is None else made.but(row=made.row + row, column=made.column + column))
        report((i + 1) / len(coverage.tiles), "smoothing")
    return Coverage(coverage.grid, tuple(out))


def _level_with_area(level_map: NDArray[np.float32], wanted: int) -> NDArray[np.uint8]:
    lo, hi = float(level_map.min()), float(level_map.max())
    best = share_below(level_map, 0.5 * (lo + hi))
    for _ in range(40):
        middle = 0.5 * (lo + hi)
        best = share_below(level_map, middle)
        found = int(best.sum(dtype=np.int64))
        if abs(found - wanted) <= 1e-4 * wanted:
            break
        lo, hi = (middle, hi) if found < wanted else (lo, middle)
    return best


def _framed(coverage: Coverage, tile: Tile, pad: int) -> tuple[NDArray[np.uint8], int, int]:
    """Return a tile with an empty frame, the frame cut at the image's rim so that nothing flows over it."""
    rows, columns = coverage.grid.shape[1:]
    h, w = tile.alpha.shape
    up, left = min(pad, tile.row), min(pad, tile.column)
    down, right = min(pad, rows - tile.row - h), min(pad, columns - tile.column - w)
    return np.pad(tile.alpha, ((up, down), (left, right))), tile.row - up, tile.column - left


def fill_holes(coverage: Coverage, largest_cm2: float = np.inf, report: Report = quiet) -> Coverage:
    """Return the volume with holes of at most `largest_cm2` filled, slice by slice, to the brim.

    A hole is a part outside the half-level line that is closed in by it within its slice.
    """
    from scipy import ndimage

    pixel_cm2 = coverage.grid.spacing_mm[0] * coverage.grid.spacing_mm[1] / 100.0
    out: list[Tile] = []
    for i, tile in enumerate(coverage.tiles):
        inside = tile.alpha > 127
        holes, count = labels.holes(inside)
        size = labels.sizes(holes, count) * pixel_cm2
        small = size <= largest_cm2
        small[0] = False
        fill = small[holes]
        if fill.any():
            # The soft rim of a hole is inside the line already, but short of full.
            rim = ndimage.binary_dilation(fill, np.ones((3, 3), bool)) & inside
            away = ndimage.binary_dilation(~labels.filled(inside), np.ones((3, 3), bool), border_value=1)
            keep_soft = away | ndimage.binary_dilation((holes > 0) & ~fill, np.ones((3, 3), bool))
            data = tile.alpha.copy()
            data[fill | (rim & ~keep_soft)] = 255
            made = crop_tile(tile.plane, data)
            assert made is not None
            tile = made.but(row=made.row + tile.row, column=made.column + tile.column)
        out.append(tile)
        report((i + 1) / len(coverage.tiles), "filling holes")
    return Coverage(coverage.grid, tuple(out))


def remove_islands(coverage: Coverage, min_cm3: float | None = None, report: Report = quiet) -> Coverage:
    """Return the volume without its small separate pieces.

    Pieces join over sides and corners within a slice and where pixels overlie in the next. With `min_cm3` every piece
    at least that large stays; with None only the largest one does.
    """
    if coverage.is_empty:
        return coverage
    found, (r0, _, c0, _) = pieces_of(coverage, report=report)
    volume_cm3 = found.weight * coverage.grid.voxel_cm3
    if min_cm3 is None:
        keep = np.arange(len(volume_cm3)) == int(np.argmax(volume_cm3))
    else:
        keep = volume_cm3 >= min_cm3
    keep[0] = False
    if keep[1:].all():
        return coverage
    out: list[Tile] = []
    for i, tile in enumerate(coverage.tiles):
        r, c = tile.row - r0, tile.column - c0
        mask = found.mask(i, keep)[r : r + tile.alpha.shape[0], c : c + tile.alpha.shape[1]]
        if mask[tile.alpha > 0].all():
            out.append(tile)
            continue
        made = crop_tile(tile.plane, np.where(mask, tile.alpha, np.uint8(0)))
        if made is not None:
            out.append(made.but(row=made.row + tile.row, column=made.column + tile.column))
        report((i + 1) / len(coverage.tiles), "dropping islands")
    return Coverage(coverage.grid, tuple(out))


def copy_slice(coverage: Coverage, from_plane: int, to_plane: int) -> Coverage:
    """Return the volume with one slice copied over another; an empty slice empties the other."""
    if not (0 <= from_plane < coverage.grid.shape[0] and 0 <= to_plane < coverage.grid.shape[0]):
        raise GeometryError(
            say("slices {from_plane} and {to_plane} are not both in the image", from_plane=from_plane, to_plane=to_plane),
            "copy slice",
        )
    source = coverage.tile(from_plane)
    tiles = {t.plane: t for t in coverage.tiles if t.plane != to_plane}
    if source is not None:
        tiles[to_plane] = source.but(plane=to_plane)
    return Coverage(coverage.grid, tuple(tiles[k] for k in sorted(tiles)))


def threshold_in(image: CtImage, coverage: Coverage, lo_hu: float, hi_hu: float) -> Coverage:
    """Return the part of a volume whose CT numbers lie in `lo_hu`..`hi_hu`, whole pixels in or out."""
    if image.grid != coverage.grid:
        raise GeometryError("the volume lies on another grid than the image", "CT number range")
    if not lo_hu <= hi_hu:
        raise GeometryError(
            say("the range {lo_hu:g} to {hi_hu:g} HU holds nothing", lo_hu=lo_hu, hi_hu=hi_hu), "CT number range"
        )
    out: list[Tile] = []
    for tile in coverage.tiles:
        h, w = tile.alpha.shape
        hu = image.hu[tile.plane, tile.row : tile.row + h, tile.column : tile.column + w]
        made = crop_tile(tile.plane, np.where((hu >= lo_hu) & (hu <= hi_hu), tile.alpha, np.uint8(0)))
        if made is not None:
            out.append(made.but(row=made.row + tile.row, column=made.column + tile.column))
    return Coverage(coverage.grid, tuple(out))
