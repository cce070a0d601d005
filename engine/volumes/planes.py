"""Planes of a stack across any of its axes: axial ("z"), sagittal ("x") and coronal ("y").

Rows and columns of a plane are those of the screen's in-plane arrays: (rows, columns) for "z", (planes, rows) for "x",
(planes, columns) for "y". A plane is one voxel thick.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage, Tile
from engine.volumes.outline import section


def plane_of(stack: NDArray[Any], axis: str, index: int) -> NDArray[Any]:
    """Return a view of one plane of a dense (planes, rows, columns) array."""
    if axis == "z":
        return stack[index]
    return stack[:, :, index] if axis == "x" else stack[:, index, :]


def pixel_mm(grid: Grid, axis: str) -> tuple[float, float]:
    """Return height and width of a plane's pixels in mm."""
    sx, sy, sz = grid.spacing_mm
    return {"z": (sy, sx), "x": (sz, sy), "y": (sz, sx)}[axis]


def in_plane(grid: Grid, axis: str, point_mm: tuple[float, float, float]) -> tuple[float, float]:
    """Return the fractional (row, column) of a patient point on the planes of an axis."""
    k, r, c = (float(i) for i in grid.index(point_mm))
    return {"z": (r, c), "x": (k, r), "y": (k, c)}[axis]


def out_of_plane(grid: Grid, axis: str, index: int, rc: tuple[float, float]) -> tuple[float, float, float]:
    """Return the patient point (x, y, z) of a fractional (row, column) on one plane."""
    r, c = rc
    x, y, z = grid.point({"z": (index, r, c), "x": (r, c, index), "y": (r, index, c)}[axis])
    return float(x), float(y), float(z)


def slice_of(coverage: Coverage, axis: str, index: int) -> NDArray[np.uint8]:
    """Return a writable copy of one plane of a volume, whole, uint8."""
    return coverage.slice(index) if axis == "z" else section(coverage, axis, index)


def with_plane(coverage: Coverage, axis: str, index: int, data: NDArray[np.uint8]) -> Coverage:
    """Return coverage with one plane replaced by `data` (as `slice_of` gives it); untouched tiles stay the same objects."""
    if axis == "z":
        return coverage.with_slice(index, data)
    changed = np.flatnonzero((data != section(coverage, axis, index)).any(axis=1))
    tiles = {t.plane: t for t in coverage.tiles}
    for k in (int(k) for k in changed):
        tile = _with_line(tiles.get(k), k, axis, index, data[k])
        if tile is None:
            tiles.pop(k, None)
        else:
            tiles[k] = tile
    return Coverage(coverage.grid, tuple(tiles[k] for k in sorted(tiles)))


def _with_line(tile: Tile | None, plane: int, axis: str, index: int, line: NDArray[np.uint8]) -> Tile | None:
    """Return a tile with one column ("x") or row ("y") of its slice replaced, as small as it can be."""
    touched = np.flatnonzero(line)
    low, high = (int(touched[0]), int(touched[-1]) + 1) if touched.size else (index, index)
    box = (low, high, index, index + 1) if axis == "x" else (index, index + 1, low, high)
    if tile is not None:
        r, c = tile.alpha.shape
        own = (tile.row, tile.row + r, tile.column, tile.column + c)
        box = own if not touched.size else _joined(own, box)
    elif not touched.size:
        return None
    r0, r1, c0, c1 = box
    alpha = np.zeros((r1 - r0, c1 - c0), np.uint8)
    if tile is not None:
        alpha[tile.row - r0 : tile.row - r0 + r, tile.column - c0 : tile.column - c0 + c] = tile.alpha
    if axis == "x" and c0 <= index < c1:
        alpha[:, index - c0] = line[r0:r1]
    elif axis == "y" and r0 <= index < r1:
        alpha[index - r0] = line[c0:c1]
    rows, columns = np.flatnonzero(alpha.any(axis=1)), np.flatnonzero(alpha.any(axis=0))
    if rows.size == 0:
        return None
    a0, a1, b0, b1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    return Tile(plane, r0 + a0, c0 + b0, own_array(alpha[a0:a1, b0:b1].copy()))


def _joined(a: tuple[int, int, int, int], b: tuple[int, int, int, int]) -> tuple[int, int, int, int]:
    return min(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), max(a[3], b[3])
