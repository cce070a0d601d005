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
    and join. If the two slices do not overlap at all, both are first moved together along the line between their
    centres, so that a slanting vessel does not vanish half-way. Nothing is added beyond the first and last slice.
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
    shift = np.zeros(2, dtype=int)
    if not _overlap(low, high):
        shift = np.rint(_centre(high) - _centre(low)).astype(int)
    # The upper slice is laid over the lower one; each slice between is moved its part of the way back.
    row, column = high.row - int(shift[0]), high.column - int(shift[1])
    r0, c0 = min(low.row, row) - 2, min(low.column, column) - 2
    r1 = max(low.row + low.alpha.shape[0], row + high.alpha.shape[0]) + 2
    c1 = max(low.column + low.alpha.shape[1], column + high.alpha.shape[1]) + 2
    maps = []
    for tile, r, c in ((low, low.row, low.column), (high, row, column)):
        full = np.zeros((r1 - r0, c1 - c0), np.uint8)
        full[r - r0 : r - r0 + tile.alpha.shape[0], c - c0 : c - c0 + tile.alpha.shape[1]] = tile.alpha
        if not (full > 127).any():
            return []
        maps.append(signed_distance_mm(full, spacing))
    out = []
    for plane in range(low.plane + 1, high.plane):
        t = (plane - low.plane) / (high.plane - low.plane)
        data = share_below(np.float32(1 - t) * maps[0] + np.float32(t) * maps[1], 0.0)
        made = crop_tile(plane, data)
        if made is not None:
            moved = np.rint(t * shift).astype(int)
            placed = _inside(coverage, made.but(row=made.row + r0 + int(moved[0]), column=made.column + c0 + int(moved[1])))
            if placed is not None:
                out.append(placed)
    return out


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


def _overlap(a: Tile, b: Tile) -> bool:
    r0, c0 = max(a.row, b.row), max(a.column, b.column)
    r1 = min(a.row + a.alpha.shape[0], b.row + b.alpha.shape[0])
    c1 = min(a.column + a.alpha.shape[1], b.column + b.alpha.shape[1])
    if r1 <= r0 or c1 <= c0:
        return False
    p = a.alpha[r0 - a.row : r1 - a.row, c0 - a.column : c1 - a.column]
    q = b.alpha[r0 - b.row : r1 - b.row, c0 - b.column : c1 - b.column]
    return bool(((p > 127) & (q > 127)).any())
