"""Lines from coverage and coverage from lines.

The outline of a slice is the line where the covered share passes one half between pixel centres: as far along as the
row is covered where it turns from full to empty within four pixels, else linear between two; its points are then moved
until the area inside is that of the shares, pixel by pixel (``fitting``). Filling uses the even-odd rule over all loops
of a plane: a loop inside another is a hole, a keyhole loop (outer and inner line joined by a cut there and back) works
too, and CLOSEDPLANAR_XOR means the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError, InputError
from engine.base.values import own_array, read_only
from engine.base.words import say
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage, Tile
from engine.volumes.paint import polygons

Points = NDArray[np.float64]
MOST_PX = 4096  # what is wider is measured on coarser pixels


def outlines(tile_alpha: NDArray[np.uint8], row0: int = 0, col0: int = 0, plain: bool = False) -> list[Points]:
    """Return the closed half-level lines of a tile, each (n, 2) row and column, first point not repeated.

    Outside the tile nothing is covered, so a shape that touches the image's edge is closed along the pixels' outer
    faces. Outer loops have a positive signed area in (column, row), that is in (x, y), holes a negative one. Where four
    pixels leave a choice, their mean decides whether the inside is joined.

    Parameters
    ----------
    plain : as they come, up to 0.1 pixel inside bends and more at corners, for what needs no more: a tenth of the time
    """
    from engine.volumes.fitting import fitted
    from engine.volumes.raster import half_level

    alpha = read_only(tile_alpha)
    points, starts = half_level(alpha) if plain else fitted(*half_level(alpha), alpha, True)
    points += (float(row0), float(col0))
    return [points[a:b] for a, b in zip(starts[:-1].tolist(), starts[1:].tolist())]


def tile_outlines(tile: Tile) -> list[Points]:
    """Return the outlines of a tile in the rows and columns of its slice."""
    return outlines(tile.alpha, tile.row, tile.column)


def slice_outlines_mm(coverage: Coverage, plane: int, tolerance_mm: float = 0.0) -> list[Points]:
    """Return the closed lines of one slice as patient points (n, 3), simplified to `tolerance_mm` if that is positive."""
    tile = coverage.tile(plane)
    if tile is None:
        return []
    grid, out = coverage.grid, []
    for loop in tile_outlines(tile):
        xy = loop[:, ::-1] * grid.spacing_mm[:2] + np.asarray(grid.origin_mm[:2])
        if tolerance_mm > 0:
            xy = simplify(xy, tolerance_mm)
        z = np.full((len(xy), 1), grid.origin_mm[2] + plane * grid.spacing_mm[2])
        out.append(np.hstack((xy, z)))
    return out


def simplify(loop: Points, tolerance: float) -> Points:
    """Return a closed loop with fewer points that stays within `tolerance` of the old one (Douglas and Peucker 1973).

    A loop that would shrink to fewer than three points, or whose area would change by more than 0.1 %, is simplified
    with half the tolerance instead, and so on; at last it stays as it is.
    """
    area = signed_area(loop)
    while tolerance > 1e-6 and len(loop) > 4:
        kept = loop[_douglas_peucker(loop, tolerance)]
        if len(kept) >= 3 and abs(signed_area(kept) - area) <= 1e-3 * abs(area):
            return kept
        tolerance /= 2
    return loop


def _douglas_peucker(loop: Points, tolerance: float) -> NDArray[np.bool_]:
    n = len(loop)
    far = int(np.argmax(((loop - loop[0]) ** 2).sum(axis=1)))
    ring = np.vstack((loop, loop[:1]))
    keep = np.zeros(n + 1, dtype=np.bool_)
    keep[[0, far]] = True
    todo = [(0, far), (far, n)]
    while todo:
        a, b = todo.pop()
        if b - a < 2:
            continue
        p, d = ring[a], ring[b] - ring[a]
        between = ring[a + 1 : b] - p
        long = float(d @ d)
        t = np.clip(between @ d / long, 0, 1)[:, None] if long > 0 else 0.0
        off = ((between - t * d) ** 2).sum(axis=1)
        k = int(np.argmax(off))
        if off[k] > tolerance * tolerance:
            keep[a + 1 + k] = True
            todo += [(a, a + 1 + k), (a + 1 + k, b)]
    return keep[:n]


def signed_area(loop: Points) -> float:
    """Return the area of a closed loop (n, 2), positive when the first axis turns towards the second."""
    p = loop - loop[0]
    q = np.roll(p, -1, axis=0)
    return float((p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]).sum() / 2)


@dataclass(frozen=True)
class FillReport:
    """What filling met: planes left out between drawn ones, area lost outside the image, contours without an area."""

    missing_planes: tuple[int, ...]
    clipped_cm3: float
    degenerate: int


def filled(grid: Grid, contours: Iterable[NDArray[np.floating]], tolerance_mm: float | None = None) -> Coverage:
    """Return the coverage of closed planar contours, each (n, 3) patient mm.

    Each contour belongs to the nearest image plane. Pixels get the share of their area that lies inside (see
    ``raster.polygons``); all loops of a plane count together by the even-odd rule. Planes that carry no contour stay
    empty (see ``fill_report``), contours of fewer than three points hold no area, parts outside the image are cut.

    Parameters
    ----------
    tolerance_mm : how far a point may lie from its plane; None means a tenth of the plane spacing

    Raises
    ------
    InputError
        If a contour lies on no image plane or is not parallel to it; the position is named.
    """
    tiles = []
    for plane, loops in sorted(_by_plane(grid, contours, tolerance_mm).items()):
        tile = _fill_plane(grid, plane, [loop for loop in loops if len(loop) >= 3])
        if tile is not None:
            tiles.append(tile)
    return Coverage(grid, tuple(tiles))


def fill_report(grid: Grid, contours: Iterable[NDArray[np.floating]], tolerance_mm: float | None = None) -> FillReport:
    """Return what ``filled`` would leave out of the same contours."""
    sorted_loops = _by_plane(grid, contours, tolerance_mm)
    coverage_planes = sorted(sorted_loops)
    degenerate = sum(len(loop) < 3 for loops in sorted_loops.values() for loop in loops)
    clipped = 0.0
    for plane, loops in sorted_loops.items():
        solid = [loop for loop in loops if len(loop) >= 3]
        if not solid:
            continue
        every = np.concatenate(solid)
        if (every < -0.5).any() or (every > np.array(grid.shape[1:]) - 0.5).any():
            lo = np.floor(every.min(axis=0)).astype(int) - 1
            size = np.ceil(every.max(axis=0)).astype(int) + 2 - lo
            coarse = max(1.0, float(size.max()) / MOST_PX)  # a contour may lie miles away
            size = np.ceil(size / coarse).astype(int)
            shares = polygons((int(size[0]), int(size[1])), tuple((loop - lo) / coarse for loop in solid))
            whole = float(shares.sum(dtype=np.int64)) * coarse**2
            tile = _fill_plane(grid, plane, solid)
            inside = 0 if tile is None else tile.alpha.sum(dtype=np.int64)
            clipped += max(0.0, whole - float(inside)) / 255.0 * grid.voxel_cm3
    drawn = set(coverage_planes)
    missing = tuple(k for k in range(min(drawn), max(drawn)) if k not in drawn) if drawn else ()
    return FillReport(missing, clipped, degenerate)


def missing_planes(coverage: Coverage) -> tuple[int, ...]:
    """Return the planes between the first and last touched slice that hold nothing."""
    drawn = set(coverage.planes)
    return tuple(k for k in range(min(drawn), max(drawn)) if k not in drawn) if drawn else ()


def section(coverage: Coverage, axis: str, index: int) -> NDArray[np.uint8]:
    """Return the cut through a volume across the slices, uint8.

    axis "y" (coronal, `index` is a row) gives (planes, columns); axis "x" (sagittal, `index` is a column) gives
    (planes, rows).
    """
    planes, rows, columns = coverage.grid.shape
    if axis not in ("x", "y") or not 0 <= index < (rows if axis == "y" else columns):
        raise GeometryError(
            say(
                "there is no section {axis}={index} in a grid of shape {shape}",
                axis=axis,
                index=index,
                shape=coverage.grid.shape,
            )
        )
    out = np.zeros((planes, columns if axis == "y" else rows), np.uint8)
    for t in coverage.tiles:
        h, w = t.alpha.shape
        if axis == "y" and t.row <= index < t.row + h:
            out[t.plane, t.column : t.column + w] = t.alpha[index - t.row]
        elif axis == "x" and t.column <= index < t.column + w:
            out[t.plane, t.row : t.row + h] = t.alpha[:, index - t.column]
    return out


def height_mm(points: NDArray[np.floating]) -> float:
    """Return z of a planar contour (n, 3): the median, so that one stray point does not move it."""
    z = points[:, 2]
    return float(z[0]) if (z == z[0]).all() else float(np.median(z))


def _by_plane(grid: Grid, contours: Iterable[NDArray[np.floating]], tolerance_mm: float | None) -> dict[int, list[Points]]:
    """Sort contours by plane, as (row, column) loops."""
    tolerance = 0.1 * grid.spacing_mm[2] if tolerance_mm is None else tolerance_mm
    out: dict[int, list[Points]] = {}
    for number, contour in enumerate(contours, start=1):
        points = np.asarray(contour, dtype=np.float64)
        if points.ndim != 2 or points.shape[1] != 3 or not np.isfinite(points).all():
            raise InputError("its points are not finite (x, y, z) triples", say("contour {number}", number=number))
        if len(points) == 0:
            continue
        z = height_mm(points)
        plane = grid.plane_at(z)
        z_plane = grid.origin_mm[2] + plane * grid.spacing_mm[2]
        worst = float(np.abs(points[:, 2] - z_plane).max())
        if worst > tolerance + 1e-9:
            flat = float(np.ptp(points[:, 2])) <= tolerance
            raise InputError(
                say(
                    "it lies at z = {z:.2f} mm, {worst:.2f} mm from the nearest image plane at {z_plane:.2f} mm",
                    z=z,
                    worst=worst,
                    z_plane=z_plane,
                )
                if flat
                else say(
                    "it is tilted: z runs from {low:.2f} to {high:.2f} mm",
                    low=points[:, 2].min(),
                    high=points[:, 2].max(),
                ),
                say("contour {number}", number=number),
                "Use contours drawn on this image's planes.",
            )
        loop = grid.index(points)[:, 1:]
        if len(loop) > 1 and np.array_equal(loop[0], loop[-1]):
            loop = loop[:-1]
        out.setdefault(plane, []).append(loop)
    return out


def _fill_plane(grid: Grid, plane: int, loops: list[Points]) -> Tile | None:
    if not loops:
        return None
    every = np.concatenate(loops)
    rim = np.array(grid.shape[1:])
    lo = np.clip(np.floor(every.min(axis=0)).astype(int), 0, rim)
    hi = np.clip(np.ceil(every.max(axis=0)).astype(int) + 1, 0, rim)
    if (hi <= lo).any():
        return None
    alpha = polygons((int(hi[0] - lo[0]), int(hi[1] - lo[1])), tuple(loop - lo for loop in loops))
    rows, columns = np.flatnonzero(alpha.any(axis=1)), np.flatnonzero(alpha.any(axis=0))
    if rows.size == 0:
        return None
    r0, r1, c0, c1 = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    return Tile(plane, int(lo[0]) + r0, int(lo[1]) + c0, own_array(alpha[r0:r1, c0:c1].copy()))
