"""Moving and turning a volume."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import share_below, signed_distance_mm
from engine.volumes.extent import beyond

Six = tuple[float, float, float, float, float, float]
MAX_MOVE_MM = 500.0


def moved(coverage: Coverage, by: Six, report: Report = quiet) -> Coverage:
    """Return the volume turned about its centre of mass, then moved; what comes to lie outside the image is cut.

    Its edge between the slices is that of blended signed distances; a shape that ends at a slice ends half a slice on.
    What comes out is cut at the image's own slices again: ends come to lie at the nearest half-way face.

    Parameters
    ----------
    by : mm to the left, posterior and superior (patient +x, +y, +z; negative the other way), then degrees about the
        x, y and z axes, in this order, each by the right hand about its axis

    Raises
    ------
    GeometryError
        If a way is beyond 500 mm, a turn beyond 180 degrees, or one is no number.
    """
    _check(by)
    if coverage.is_empty or not any(by):
        return coverage
    turn, centre, to = _turn(by), _centre(coverage), np.asarray(by[:3])
    grid = coverage.grid
    dx, dy, dz = grid.spacing_mm
    steps = to / (dx, dy, dz)
    if not any(by[3:]) and np.allclose(steps, np.rint(steps), atol=1e-6):
        return _shifted(coverage, np.rint(steps).astype(int))
    maps, first, r0, c0 = _levels(coverage)
    low, high = _box_moved(coverage, by)
    lo = np.clip(np.floor(grid.index(low)).astype(int) - 1, 0, np.array(grid.shape))
    hi = np.clip(np.ceil(grid.index(high)).astype(int) + 2, 0, np.array(grid.shape))
    if (hi <= lo).any():
        return Coverage(grid)
    # Indices of the maps (plane, row, column) as a linear function of those of the image.
    scale = np.array((dz, dy, dx))
    back = turn.T[::-1, ::-1] / scale[:, None] * scale
    origin = np.asarray(grid.origin_mm)
    start = (turn.T @ (origin - centre - to) + centre - origin)[::-1] / scale - (first, r0, c0)
    out: list[Tile] = []
    for n, plane in enumerate(range(int(lo[0]), int(hi[0]))):
        at = start + back @ (plane, int(lo[1]), int(lo[2]))
        read = _read(maps, at, back, (int(hi[1] - lo[1]), int(hi[2] - lo[2])))
        made = crop_tile(plane, share_below(read, 0.0))
        if made is not None:
            out.append(made.but(row=made.row + int(lo[1]), column=made.column + int(lo[2])))
        report((n + 1) / (int(hi[0]) - int(lo[0])), "moving")
    return Coverage(grid, tuple(out))


def cut_when_moved(coverage: Coverage, by: Six) -> tuple[str, ...]:
    """Return the sides on which the image ends before the moved volume does, by the corners of its box."""
    return () if coverage.is_empty else beyond(coverage, *_box_moved(coverage, by))


def _check(by: Six) -> None:
    if not all(abs(m) <= MAX_MOVE_MM for m in by[:3]) or not all(abs(a) <= 180.0 for a in by[3:]):
        raise GeometryError(
            say("a way of {way} mm and turns of {turns} degrees are out of range", way=by[:3], turns=by[3:]),
            "move",
            "Give up to 500 mm and up to 180 degrees.",
        )


def _turn(by: Six) -> NDArray[np.float64]:
    """Return the rotation about x, then y, then z."""
    (a, b, c) = np.deg2rad(by[3:])
    x = np.array([[1, 0, 0], [0, np.cos(a), -np.sin(a)], [0, np.sin(a), np.cos(a)]])
    y = np.array([[np.cos(b), 0, np.sin(b)], [0, 1, 0], [-np.sin(b), 0, np.cos(b)]])
    z = np.array([[np.cos(c), -np.sin(c), 0], [np.sin(c), np.cos(c), 0], [0, 0, 1]])
    return np.asarray(z @ y @ x)


def _centre(coverage: Coverage) -> NDArray[np.float64]:
    centre = coverage.centroid_mm()
    assert centre is not None
    return np.asarray(centre)


def _box_moved(coverage: Coverage, by: Six) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    box = coverage.bounds_mm()
    assert box is not None
    corners = np.array([[box[i][0], box[j][1], box[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)])
    if any(by[3:]):
        centre = _centre(coverage)
        corners = (corners - centre) @ _turn(by).T + centre
    corners = corners + np.asarray(by[:3])
    return corners.min(axis=0), corners.max(axis=0)


def _shifted(coverage: Coverage, steps: NDArray[np.int_]) -> Coverage:
    """Return the volume moved by whole pixels and slices: the same shares elsewhere."""
    planes, rows, columns = coverage.grid.shape
    out: list[Tile] = []
    for tile in coverage.tiles:
        plane, row, column = tile.plane + int(steps[2]), tile.row + int(steps[1]), tile.column + int(steps[0])
        if not 0 <= plane < planes:
            continue
        h, w = tile.alpha.shape
        r0, c0 = max(0, -row), max(0, -column)
        part = tile.alpha[r0 : max(r0, min(h, rows - row)), c0 : max(c0, min(w, columns - column))]
        made = crop_tile(plane, part) if part.size else None
        if made is not None:
            out.append(made.but(row=made.row + row + r0, column=made.column + column + c0))
    return Coverage(coverage.grid, tuple(out))


def _levels(coverage: Coverage) -> tuple[NDArray[np.float32], int, int, int]:
    """Return (signed distances in each slice mm, first plane, first row, first column), a slice on at both ends.

    In a slice that holds nothing beside one that does, the distance is that of the neighbour without its sign: half-way
    between them it passes zero inside the line and nowhere else, so the slab ends there.
    """
    r0 = min(t.row for t in coverage.tiles) - 2
    c0 = min(t.column for t in coverage.tiles) - 2
    r1 = max(t.row + t.alpha.shape[0] for t in coverage.tiles) + 2
    c1 = max(t.column + t.alpha.shape[1] for t in coverage.tiles) + 2
    first, last = coverage.planes[0] - 1, coverage.planes[-1] + 1
    dx, dy = coverage.grid.spacing_mm[:2]
    maps = np.full((last - first + 1, r1 - r0, c1 - c0), 1e4, np.float32)
    for tile in coverage.tiles:
        full = np.zeros(maps.shape[1:], np.uint8)
        full[tile.row - r0 : tile.row - r0 + tile.alpha.shape[0], tile.column - c0 :][:, : tile.alpha.shape[1]] = tile.alpha
        if (full > 127).any():
            maps[tile.plane - first] = np.minimum(signed_distance_mm(full, (dy, dx)), 1e4)
    held = {t.plane for t in coverage.tiles}
    for k in range(first, last + 1):
        if k not in held:
            for beside in (k - 1, k + 1):
                if beside in held:
                    away = np.maximum(np.abs(maps[beside - first]), np.float32(max(dx, dy)))
                    maps[k - first] = np.minimum(maps[k - first], away)
    return maps, first, r0, c0


@njit(cache=True, nogil=True)
def _read(
    maps: NDArray[np.float32], at: NDArray[np.float64], back: NDArray[np.float64], shape: tuple[int, int]
) -> NDArray[np.float32]:
    """Return a plane of the maps, from the point `at`, linear between their points.

    Outside them it is the further off the further from their rim.
    """
    planes, rows, columns = maps.shape
    out = np.empty(shape, np.float32)
    for r in range(shape[0]):
        for c in range(shape[1]):
            z = at[0] + back[0, 1] * r + back[0, 2] * c
            y = at[1] + back[1, 1] * r + back[1, 2] * c
            x = at[2] + back[2, 1] * r + back[2, 2] * c
            zi = min(max(z, 0.0), planes - 1.0)
            yi = min(max(y, 0.0), rows - 1.0)
            xi = min(max(x, 0.0), columns - 1.0)
            off = abs(z - zi) + abs(y - yi) + abs(x - xi)
            k, i, j = min(int(zi), planes - 2), min(int(yi), rows - 2), min(int(xi), columns - 2)
            fz, fy, fx = zi - k, yi - i, xi - j
            low = (1 - fy) * ((1 - fx) * maps[k, i, j] + fx * maps[k, i, j + 1])
            low += fy * ((1 - fx) * maps[k, i + 1, j] + fx * maps[k, i + 1, j + 1])
            high = (1 - fy) * ((1 - fx) * maps[k + 1, i, j] + fx * maps[k + 1, i, j + 1])
            high += fy * ((1 - fx) * maps[k + 1, i + 1, j] + fx * maps[k + 1, i + 1, j + 1])
            out[r, c] = (1 - fz) * low + fz * high + off
    return out
