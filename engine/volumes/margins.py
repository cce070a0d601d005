"""Margins in true mm and sums of volumes.

Margins are (left, right, anterior, posterior, inferior, superior) of the patient. Unequal margins join as eighths of
ellipsoids. What the shape is between slices and beyond its ends is said in ``levels``. Results are cuts at the planes,
filled to half a slice on both sides like every coverage, so along z a margin ends at the nearest half-way face.

Where a margin is under half a pixel on one side and large on another, single pixels at the tips between the two are
known to half their area only: what is reached is worked out at pixel centres, and rises there within less than a pixel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.volumes.coverage import Coverage, crop_tile
from engine.volumes.distance import distance_mm, is_dot, share_below, share_kinked, signed_distance_mm
from engine.volumes.gauge import LEAST_PX, UNKNOWN, Reach, gauge_of, gauge_of_map, gauge_of_point, reach_from
from engine.volumes.levels import Level, laid, levels

Margins = tuple[float, float, float, float, float, float]
Box = tuple[int, int, int, int]
Slice = NDArray[np.uint8]
# A level's gauge and the signed distances to its lines, which are only known where they are needed; None: it holds nothing.
Gauge = tuple[NDArray[np.float32], NDArray[np.float32]] | None
MAX_MARGIN_MM = 200.0


def equal(margin_mm: float) -> Margins:
    """Return the same margin in all six directions."""
    return (margin_mm,) * 6


def grow(coverage: Coverage, margins_mm: Margins, report: Report = quiet) -> Coverage:
    """Return the volume widened by six margins, cut at the image's rim.

    Raises
    ------
    GeometryError
        If a margin is negative, not a number or above 200 mm.
    """
    left, right, ant, post, inf, sup = _checked(margins_mm)
    if coverage.is_empty or not any(margins_mm):
        return coverage
    grid = coverage.grid
    dx, dy, dz = grid.spacing_mm
    reach = _reach(ant / dy, post / dy, right / dx, left / dx)
    box = _box(coverage, [int(np.ceil(m)) + 2 for m in reach])
    first = max(0, coverage.planes[0] - int(np.ceil(inf / dz)) - 1)
    last = min(grid.shape[0] - 1, coverage.planes[-1] + int(np.ceil(sup / dz)) + 1)
    stretches = levels(coverage, box, bool(inf or sup), first, last)
    made = _swept(stretches, range(first, last + 1), _shape(box), (dy, dx), reach, (sup / dz, inf / dz), 1.0, report)
    by_plane = {t.plane: t for t in coverage.tiles}
    out = []
    for k, grown in made:
        own = by_plane.get(k)
        out.append((k, grown if own is None else np.maximum(grown, laid(own.alpha, own, box))))
    return _stack(coverage, box, out)


def shrink(coverage: Coverage, margins_mm: Margins, report: Report = quiet, near: Coverage | None = None) -> Coverage:
    """Return the volume narrowed by six margins: what is left when the outside grows into it.

    Beyond the image's rim everything counts as outside. With `near` only the part in that volume's box is worked out,
    which saves time where a small volume is cut by a large one.
    """
    left, right, ant, post, inf, sup = _checked(margins_mm)
    if coverage.is_empty or not any(margins_mm):
        return coverage
    dx, dy, dz = coverage.grid.spacing_mm
    reach = _reach(ant / dy, post / dy, right / dx, left / dx)
    box = _box(coverage, (2, 2, 2, 2), clip=False)
    wanted = coverage.planes
    if near is not None:
        if near.is_empty:
            return Coverage(coverage.grid)
        window = _box(near, [int(np.ceil(m)) + 2 for m in (reach[1], reach[0], reach[3], reach[2])], clip=False)
        box = max(box[0], window[0]), min(box[1], window[1]), max(box[2], window[2]), min(box[3], window[3])
        wanted = tuple(k for k in wanted if near.planes[0] <= k <= near.planes[-1])
        if box[0] >= box[1] or box[2] >= box[3] or not wanted:
            return Coverage(coverage.grid)
    first, last = wanted[0] - int(np.ceil(inf / dz)) - 1, wanted[-1] + int(np.ceil(sup / dz)) + 1
    stretches = levels(coverage, box, bool(inf or sup), first, last)
    by_plane = {t.plane: t for t in coverage.tiles}
    out = []
    for k, lost in _swept(stretches, wanted, _shape(box), (dy, dx), reach, (inf / dz, sup / dz), -1.0, report):
        out.append((k, np.minimum(np.uint8(255) - lost, laid(by_plane[k].alpha, by_plane[k], box))))
    return _stack(coverage, box, out)


def _swept(
    stretches: Iterator[tuple[Level, Level]],
    planes: Sequence[int],
    shape: tuple[int, int],
    spacing: tuple[float, float],
    reach: Reach,
    reach_z: tuple[float, float],
    sign: float,
    report: Report,
) -> Iterator[tuple[int, Slice]]:
    """Yield (plane, what the shape reaches of it), for `sign` -1 what the outside reaches.

    `shape` and `spacing` (mm) are those of the slices, `reach` the margins within them in pixels, `reach_z` how far (in
    planes) a level may lie below and above a plane.
    """
    held: list[tuple[Level, Level, Gauge, Gauge]] = []
    below, above = reach_z
    kinked = reach[0] != reach[1] or reach[2] != reach[3] or max(reach) > 2 * min(reach)
    coming = next(stretches, None)
    upper: tuple[Level, Gauge] | None = None
    for n, plane in enumerate(planes):
        while coming is not None and coming[0].z <= plane + above + 1e-9:
            low, high = coming
            g_low = upper[1] if upper is not None and upper[0] is low else _gauge(low, shape, spacing, reach, kinked)
            upper = high, g_low if _alike(low, high) else _gauge(high, shape, spacing, reach, kinked)
            held.append((low, high, g_low, upper[1]))
            coming = next(stretches, None)
        held = [h for h in held if h[1].z >= plane - below - 1e-9]
        found = _reached(held, plane, shape, below, above, sign, reach, kinked)
        if found is not None:
            yield plane, found
        report((n + 1) / len(planes), "margin")


def _alike(a: Level, b: Level) -> bool:
    if a is b:
        return True
    return a.shape is not None and b.shape is not None and not (a.points or b.points) and np.array_equal(a.shape, b.shape)


def _gauge(level: Level, shape: tuple[int, int], spacing: tuple[float, float], reach: Reach, kinked: bool) -> Gauge:
    """Return the gauge of a level, and with `kinked` the distances in mm too; None where it holds nothing."""
    if not any(reach):
        return None
    found: NDArray[np.float32] | None = None
    away = UNKNOWN
    if level.shape is not None:
        seen = level.shape
        if seen.dtype == np.uint8 and is_dot(seen):
            seen = distance_mm(seen, spacing)
        found = gauge_of(seen, reach) if seen.dtype == np.uint8 else gauge_of_map(seen, reach)
        if kinked and found is not None:
            away = signed_distance_mm(seen, spacing) if seen.dtype == np.uint8 else seen
    for point in level.points:
        one = gauge_of_point(shape, point, reach)
        found = one if found is None else np.minimum(found, one)
        if kinked:
            off = gauge_of_point(shape, point, (1 / spacing[0], 1 / spacing[0], 1 / spacing[1], 1 / spacing[1]))
            away = off if away is UNKNOWN else np.minimum(away, off)
    return None if found is None else (found, away)


def _reached(
    held: list[tuple[Level, Level, Gauge, Gauge]],
    plane: int,
    shape: tuple[int, int],
    below: float,
    above: float,
    sign: float,
    reach: Reach,
    kinked: bool,
) -> Slice | None:
    """Return what the held stretches reach of a plane; None if nothing is held."""
    if not held:
        return None
    # Two pixels from the line it does not matter any more how far off that is.
    away = 3.0 / max(min(reach), LEAST_PX)
    best = np.full(shape, away, np.float32)
    sure = np.zeros(shape, np.uint8)
    for low, high, g_low, g_high in sorted(held, key=lambda h: abs(h[0].z + h[1].z - 2 * plane)):
        ways = [(z - plane) / max(above if z > plane else below, 1e-9) for z in (low.z, high.z)]
        if not any(reach):
            for level, way in ((low, ways[0]), (high, ways[1])):
                if abs(way) <= 1 + 1e-9:
                    share = np.zeros(shape, np.uint8) if level.share is None else level.share
                    np.maximum(sure, share if sign > 0 else np.uint8(255) - share, out=sure)
        elif g_low is not None and g_high is not None:
            reach_from(best, g_low, g_high, (ways[0], ways[1]), sign, -away)
        else:
            for gauge, way in ((g_low, ways[0]), (g_high, ways[1])):
                if gauge is not None:
                    reach_from(best, gauge, gauge, (way, way), sign, -away)
                elif sign < 0 and abs(way) < 1:
                    best[:] = -2 * away
    if not any(reach):
        return sure
    # No map of this reach rises faster; what does so beside the line is a piece that ends there.
    steepest = 1.0 / max(min(reach[:2]), LEAST_PX), 1.0 / max(min(reach[2:]), LEAST_PX)
    return share_kinked(best, 0.0, *steepest, 0.5 / max(reach)) if kinked else share_below(best, 0.0, *steepest)


def union(a: Coverage, b: Coverage) -> Coverage:
    """Return what lies in either volume: the larger share of each pixel."""
    return _combine(a, b, np.maximum, a.planes + b.planes)


def intersection(a: Coverage, b: Coverage) -> Coverage:
    """Return what lies in both volumes: the smaller share of each pixel."""
    return _combine(a, b, np.minimum, tuple(set(a.planes) & set(b.planes)))


def subtract(a: Coverage, b: Coverage) -> Coverage:
    """Return what lies in `a` but not in `b`: a's share less the common one, so that both parts add up to `a`."""
    return _combine(a, b, lambda p, q: p - np.minimum(p, q), a.planes)


def either_alone(a: Coverage, b: Coverage) -> Coverage:
    """Return what lies in one of the volumes but not in both: the difference of the shares."""
    return _combine(a, b, lambda p, q: np.maximum(p, q) - np.minimum(p, q), a.planes + b.planes)


def keep_inside(a: Coverage, b: Coverage, gap_mm: float = 0.0, report: Report = quiet) -> Coverage:
    """Return the part of `a` at least `gap_mm` inside the edge of `b` (5 mm off the skin, say)."""
    return intersection(a, shrink(b, equal(gap_mm), report, near=a))


def keep_outside(a: Coverage, b: Coverage, gap_mm: float = 0.0, report: Report = quiet) -> Coverage:
    """Return the part of `a` at least `gap_mm` away from `b`."""
    return subtract(a, grow(b, equal(gap_mm), report))


def _checked(margins_mm: Margins) -> Margins:
    if len(margins_mm) != 6 or not all(0 <= m <= MAX_MARGIN_MM for m in margins_mm):
        raise GeometryError(
            say(
                "margins {margins_mm} are not six numbers between 0 and {max_margin_mm:g} mm",
                margins_mm=margins_mm,
                max_margin_mm=MAX_MARGIN_MM,
            ),
            "margin",
            "Give left, right, anterior, posterior, inferior, superior.",
        )
    return margins_mm


def _reach(*margins_px: float) -> Reach:
    """Return the margins within slices; all next to nothing are nothing, which is exact."""
    up, down, left, right = margins_px if max(margins_px) > LEAST_PX else (0.0,) * 4
    return up, down, left, right


def _shape(box: Box) -> tuple[int, int]:
    return box[1] - box[0], box[3] - box[2]


def _box(coverage: Coverage, pad: Sequence[int], clip: bool = True) -> Box:
    up, down, left, right = pad
    r0 = min(t.row for t in coverage.tiles) - up
    r1 = max(t.row + t.alpha.shape[0] for t in coverage.tiles) + down
    c0 = min(t.column for t in coverage.tiles) - left
    c1 = max(t.column + t.alpha.shape[1] for t in coverage.tiles) + right
    if clip:
        rows, columns = coverage.grid.shape[1:]
        return max(0, r0), min(rows, r1), max(0, c0), min(columns, c1)
    return r0, r1, c0, c1


def _stack(coverage: Coverage, box: Box, slices: list[tuple[int, Slice]]) -> Coverage:
    rows, columns = coverage.grid.shape[1:]
    r0, c0 = max(0, box[0]), max(0, box[2])
    tiles = []
    for plane, data in slices:
        inside = data[r0 - box[0] : rows - box[0], c0 - box[2] : columns - box[2]]
        tile = crop_tile(plane, inside)
        if tile is not None:
            tiles.append(tile.but(row=tile.row + r0, column=tile.column + c0))
    return Coverage(coverage.grid, tuple(tiles))


def _combine(a: Coverage, b: Coverage, rule: Callable[[Slice, Slice], Slice], planes: tuple[int, ...]) -> Coverage:
    if a.grid != b.grid:
        raise GeometryError("the two volumes lie on different grids", "volumes", "Bring both onto one image.")
    out = []
    for plane in sorted(set(planes)):
        p, q = a.tile(plane), b.tile(plane)
        if p is None or q is None:
            out += [
                t for t in (p, q) if t is not None
            ]  # union and subtraction keep a lone tile as it is; intersection never meets one
            continue
        box = (
            min(p.row, q.row),
            max(p.row + p.alpha.shape[0], q.row + q.alpha.shape[0]),
            min(p.column, q.column),
            max(p.column + p.alpha.shape[1], q.column + q.alpha.shape[1]),
        )
        tile = crop_tile(plane, rule(laid(p.alpha, p, box), laid(q.alpha, q, box)))
        if tile is not None:
            out.append(tile.but(row=tile.row + box[0], column=tile.column + box[2]))
    return Coverage(a.grid, tuple(out))
