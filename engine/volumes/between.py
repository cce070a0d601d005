"""Slices missing between painted ones."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import share_below, signed_distance_mm


def interpolate(coverage: Coverage, report: Report = quiet) -> Coverage:
    """Return the volume with every gap between painted slices filled; painted tiles stay the same objects.

    Signed distances to the two painted lines are blended linearly, which is exact for cones and lets branches part
    and join. Where the two slices meet each other better with their centres over one another, they are blended so and
    moved back along the line between the centres: leaning tubes and cones are exact too, and a slanting vessel does not
    vanish half-way. Nothing is added beyond the first and last slice.
    """
    out: list[Tile] = []
    tiles = coverage.tiles
    for i, tile in enumerate(tiles):
        out.append(tile)
        if i + 1 < len(tiles) and tiles[i + 1].plane > tile.plane + 1:
            out += _between(coverage, tile, tiles[i + 1])
        report((i + 1) / len(tiles), "filling slices between")
    return Coverage(coverage.grid, tuple(out)) if len(out) > len(tiles) else coverage


def _between(coverage: Coverage, low: Tile, high: Tile) -> list[Tile]:
    spacing = (coverage.grid.spacing_mm[1], coverage.grid.spacing_mm[0])
    shift = _lean(low, high)
    whole = np.floor(shift).astype(int)
    # The upper slice is laid over the lower one; each slice between is moved its part of the way back.
    row, column = high.row - int(whole[0]), high.column - int(whole[1])
    r0, c0 = min(low.row, row) - 3, min(low.column, column) - 3
    r1 = max(low.row + low.alpha.shape[0], row + high.alpha.shape[0]) + 3
    c1 = max(low.column + low.alpha.shape[1], column + high.alpha.shape[1]) + 3
    maps = []
    for tile, r, c in ((low, low.row, low.column), (high, row, column)):
        full = np.zeros((r1 - r0, c1 - c0), np.uint8)
        full[r - r0 : r - r0 + tile.alpha.shape[0], c - c0 : c - c0 + tile.alpha.shape[1]] = tile.alpha
        if not (full > 127).any():
            return []
        maps.append(signed_distance_mm(full, spacing))
    maps[1] = _read_beside(maps[1], shift - whole)
    out = []
    for plane in range(low.plane + 1, high.plane):
        t = (plane - low.plane) / (high.plane - low.plane)
        moved = np.floor(t * shift).astype(int)
        blended = np.float32(1 - t) * maps[0] + np.float32(t) * maps[1]
        made = crop_tile(plane, share_below(_read_beside(blended, moved - t * shift), 0.0))
        if made is not None:
            placed = _inside(coverage, made.but(row=made.row + r0 + int(moved[0]), column=made.column + c0 + int(moved[1])))
            if placed is not None:
                out.append(placed)
    return out


def _lean(low: Tile, high: Tile) -> NDArray[np.float64]:
    """Return the way (rows, columns) by which the upper slice lies beside the lower one; 0 if it rather changes there.

    A second piece far off that comes or goes moves the centre too, but then the rest would not meet any more.
    """
    way = _centre(high) - _centre(low)
    here = _common(low, high, np.zeros(2, dtype=int))
    return way if here == 0 or _common(low, high, np.rint(way).astype(int)) > here else np.zeros(2)


def _read_beside(level_map: NDArray[np.float32], by: NDArray[np.float64]) -> NDArray[np.float32]:
    """Return a map read less than a pixel (rows, columns) beside its pixels, linear; its rim goes on."""
    for axis, part in enumerate(by):
        if part == 0:
            continue
        ends = [(0, 0), (0, 0)]
        ends[axis] = (1, 0) if part < 0 else (0, 1)
        wide = np.pad(level_map, ends, mode="edge")
        first, second = (wide[:-1], wide[1:]) if axis == 0 else (wide[:, :-1], wide[:, 1:])
        share = np.float32(part % 1.0)
        level_map = (1 - share) * first + share * second
    return level_map


def _inside(coverage: Coverage, tile: Tile) -> Tile | None:
    """Cut what a rounded edge may push over the image's rim."""
    rows, columns = coverage.grid.shape[1:]
    h, w = tile.alpha.shape
    if tile.row >= 0 and tile.column >= 0 and tile.row + h <= rows and tile.column + w <= columns:
        return tile
    r0, c0 = max(0, tile.row), max(0, tile.column)
    cut = tile.alpha[r0 - tile.row : rows - tile.row, c0 - tile.column : columns - tile.column]
    made = crop_tile(tile.plane, cut) if cut.size else None
    return None if made is None else made.but(row=made.row + r0, column=made.column + c0)


def _centre(tile: Tile) -> NDArray[np.float64]:
    w = tile.alpha.astype(np.float64)
    row = (w.sum(axis=1) * np.arange(w.shape[0])).sum() / w.sum() + tile.row
    column = (w.sum(axis=0) * np.arange(w.shape[1])).sum() / w.sum() + tile.column
    return np.array((row, column))


def _common(a: Tile, b: Tile, shift: NDArray[np.int_]) -> int:
    """Return how many pixels lie in both slices with `b` moved back by `shift`."""
    row, column = b.row - int(shift[0]), b.column - int(shift[1])
    r0, c0 = max(a.row, row), max(a.column, column)
    r1 = min(a.row + a.alpha.shape[0], row + b.alpha.shape[0])
    c1 = min(a.column + a.alpha.shape[1], column + b.alpha.shape[1])
    if r1 <= r0 or c1 <= c0:
        return 0
    p = a.alpha[r0 - a.row : r1 - a.row, c0 - a.column : c1 - a.column]
    q = b.alpha[r0 - row : r1 - row, c0 - column : c1 - column]
    return int(np.count_nonzero((p > 127) & (q > 127)))
