"""Margins in true mm and sums of volumes.

Margins are (left, right, anterior, posterior, inferior, superior) of the patient. Unequal margins join as eighths of
ellipsoids. The shape between slices is what ``layers`` says: parts that go on in the neighbouring slice are joined to
it straight, parts that end there reach half a slice further. Results are cuts at the planes, filled to half a slice on
both sides like every coverage, so along z a margin ends at the nearest half-way face.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import gauge_map, lower, share_below, signed_distance_mm
from engine.volumes.labels import label

Margins = tuple[float, float, float, float, float, float]
Box = tuple[int, int, int, int]
Slice = NDArray[np.uint8]
Reach = tuple[float, float, float, float]
Source = tuple[float, Slice, NDArray[np.float32] | None]
MAX_MARGIN_MM = 200.0
LEAST_PX = 0.02


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
    reach = (ant / dy, post / dy, right / dx, left / dx)
    box = _box(coverage, [int(np.ceil(m)) + 2 for m in reach])
    fine, sources = _fineness(reach), []
    before: Source | None = None
    for tile in coverage.tiles:
        alpha = _cut(tile, box)
        here = _source(float(tile.plane), alpha, reach, fine)
        if (
            (inf or sup)
            and before is not None
            and tile.plane == before[0] + 1
            and _steep(before[1], alpha, max(dx, dy), dz)
        ):
            sources.append(_halfway(before, here))
        sources.append(here)
        before = here
        below, above = _ends(coverage, tile)
        for z, ending in ((tile.plane - 0.5, below), (tile.plane + 0.5, above)):
            if ending is not None:
                sources.append(_source(z, np.where(_laid(ending, tile, box), alpha, np.uint8(0)), reach, fine))
        report(0.5 * (tile.plane - coverage.planes[0] + 1) / (coverage.planes[-1] - coverage.planes[0] + 1), "margin")
    first = max(0, coverage.planes[0] - int(np.ceil(inf / dz)) - 1)
    last = min(grid.shape[0] - 1, coverage.planes[-1] + int(np.ceil(sup / dz)) + 1)
    out = []
    for k in range(first, last + 1):
        spread = _spread(sources, k, dz, inf, sup, fine)
        if spread is not None:
            out.append((k, spread))
        report(0.5 + 0.5 * (k - first + 1) / (last - first + 1), "margin")
    return _stack(coverage, box, out)


def _steep(a: Slice, b: Slice, pixel_mm: float, plane_mm: float) -> bool:
    """Whether the line moves so far from a slice to the next that between them it must be followed.

    Told by the changed area along the soft rim: a tenth of the planes' distance in the mean leaves 0.03 mm of 5 mm.
    """
    rim = int(np.count_nonzero((a > 0) & (a < 255)))
    return int(np.count_nonzero((a > 127) != (b > 127))) * pixel_mm > 0.1 * plane_mm * rim


def _halfway(a: Source, b: Source) -> Source:
    """Return the shape half-way between two neighbouring slices: as far from a point as they are in the mean.

    That is the line of blended distances. It adds nothing where a piece ends: a mean is never below both.
    """
    gauge = None if a[2] is None or b[2] is None else np.square(0.5 * (np.sqrt(a[2]) + np.sqrt(b[2])))
    return 0.5 * (a[0] + b[0]), np.minimum(a[1], b[1]), gauge


def _source(z: float, alpha: Slice, reach: Reach, fine: int) -> Source:
    """Return (plane, slice, gauge of the way from it; None without reach in the slice)."""
    if not any(reach):
        return z, alpha, None
    if fine == 1:
        return z, alpha, gauge_map(alpha, reach)
    return z, alpha, gauge_map(_magnified(alpha, fine), tuple(max(m * fine, LEAST_PX) for m in reach))  # type: ignore[arg-type]


def _fineness(reach: Reach) -> int:
    """Return into how many steps a pixel is cut: a reach under two leaves edges that whole pixels cannot show."""
    return 4 if any(reach) and min(reach) < 2.0 else 1


def _magnified(alpha: Slice, fine: int) -> Slice:
    """Return a slice with each pixel cut into fine x fine, shares linear between pixel centres."""
    out = alpha.astype(np.float32)
    for axis in (0, 1):
        n = out.shape[axis]
        at = np.clip((np.arange(n * fine) + 0.5) / fine - 0.5, 0, n - 1)
        low = np.minimum(at.astype(int), max(n - 2, 0))
        share = (at - low).astype(np.float32)
        share = share[:, None] if axis == 0 else share[None, :]
        high = np.minimum(low + 1, n - 1)
        out = out.take(low, axis) * (1 - share) + out.take(high, axis) * share
    return np.rint(out).astype(np.uint8)


def _spread(sources: list[Source], plane: int, dz: float, inf: float, sup: float, fine: int) -> Slice | None:
    """Return what of a plane the sources reach, `sup` mm upwards and `inf` mm downwards; None if nothing."""
    lowest: NDArray[np.float32] | None = None
    sure: Slice | None = None
    for z, alpha, gauge in sources:
        along = (plane - z) * dz
        reach_z = sup if along > 0 else inf
        if along != 0 and abs(along) > reach_z + 1e-9:
            continue
        sure = alpha.copy() if sure is None else np.maximum(sure, alpha, out=sure)
        if gauge is not None:
            more = np.float32((along / reach_z) ** 2 if along != 0 else 0.0)
            if lowest is None:
                lowest = gauge + more
            else:
                lower(lowest, gauge, more)
    if sure is None or lowest is None:
        return sure
    share = share_below(np.sqrt(lowest), 1.0)
    if fine > 1:
        rows, columns = sure.shape
        share = np.rint(share.reshape(rows, fine, columns, fine).mean(axis=(1, 3))).astype(np.uint8)
    return np.maximum(share, sure)


def shrink(coverage: Coverage, margins_mm: Margins, report: Report = quiet, near: Coverage | None = None) -> Coverage:
    """Return the volume narrowed by six margins: what is left when the outside grows into it.

    Beyond the image's rim everything counts as outside. Between slices the outside is followed in steps of at most
    about a pixel. With `near` only the part in that volume's box is worked out, which saves time where a small volume
    is cut by a large one.
    """
    left, right, ant, post, inf, sup = _checked(margins_mm)
    if coverage.is_empty or not any(margins_mm):
        return coverage
    dx, dy, dz = coverage.grid.spacing_mm
    reach = (post / dy, ant / dy, left / dx, right / dx)
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
    parts = 2 * max(1, int(np.ceil(dz / (2 * max(dx, dy))))) if inf or sup else 1
    first, last = wanted[0] - int(np.ceil(inf / dz)) - 1, wanted[-1] + int(np.ceil(sup / dz)) + 1
    fine, sources = _fineness(reach), []
    for z, alpha in layers(coverage, box, parts, first, last):
        sources.append(_source(z, np.uint8(255) - alpha, reach, fine))
        report(0.7 * (z - first) / (last - first + 1), "margin")
    out = []
    for tile in coverage.tiles:
        if tile.plane in wanted:
            lost = _spread(sources, tile.plane, dz, sup, inf, fine)
            assert lost is not None  # the slice itself is among the sources
            out.append((tile.plane, np.minimum(np.uint8(255) - lost, _cut(tile, box))))
            report(0.7 + 0.3 * len(out) / len(wanted), "margin")
    return _stack(coverage, box, out)


def layers(coverage: Coverage, box: Box, parts: int, first: int, last: int) -> Iterator[tuple[float, Slice]]:
    """Yield (plane, slice) of the shape at the planes first..last and at `parts` - 1 even steps between them.

    A piece of a slice that overlaps nothing in the neighbouring slice ends half-way to it; the rest is blended between
    the two by signed distance, or by share where the line moves by less than a pixel. A step exactly half-way holds no
    ending piece.
    """
    spacing = (coverage.grid.spacing_mm[1], coverage.grid.spacing_mm[0])
    blank = np.zeros((box[1] - box[0], box[3] - box[2]), np.uint8)
    after: NDArray[np.float32] | None = None
    by_plane = {t.plane: t for t in coverage.tiles}
    first, last = max(first, coverage.planes[0] - 1), min(last, coverage.planes[-1] + 1)
    for k in range(first, last + 1):
        low, high = by_plane.get(k), by_plane.get(k + 1)
        a = blank if low is None else _cut(low, box)
        b = blank if high is None else _cut(high, box)
        yield float(k), a
        if parts < 2 or k == last:
            continue
        if low is not None and high is not None and np.array_equal(a, b):
            after = None
            yield from ((k + i / parts, a) for i in range(1, parts))
            continue
        if _near(a, b):
            after = None
            for i in range(1, parts):
                share = np.float32(i / parts)
                yield k + i / parts, np.rint((1 - share) * a + share * b).astype(np.uint8)
            continue
        end_a, end_b = blank, blank
        if low is not None and (gone := _ends(coverage, low)[1]) is not None:
            end_a = np.where(_laid(gone, low, box), a, np.uint8(0))
        if high is not None and (gone := _ends(coverage, high)[0]) is not None:
            end_b = np.where(_laid(gone, high, box), b, np.uint8(0))
        on_a, on_b = a - end_a, b - end_b
        blended = bool((on_a > 127).any() and (on_b > 127).any())
        if blended:
            # The distances above serve again below the next pair, unless a piece ends between.
            d_a = after if after is not None and end_a is blank else signed_distance_mm(on_a, spacing)
            d_b = signed_distance_mm(on_b, spacing)
        after = d_b if blended and end_b is blank else None
        for i in range(1, parts):
            t = i / parts
            here = share_below(np.float32(1 - t) * d_a + np.float32(t) * d_b, 0.0) if blended else blank
            if 2 * i != parts:
                here = np.maximum(here, end_a if t < 0.5 else end_b)
            yield k + t, here


def _near(a: Slice, b: Slice) -> bool:
    """Whether no pixel changes by more than seven tenths: the line moves by less than a pixel, and no piece ends."""
    return int((np.maximum(a, b) - np.minimum(a, b)).max()) <= 178


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


def _cut(tile: Tile, box: Box) -> Slice:
    return _laid(tile.alpha, tile, box)


def _laid(data: NDArray[Any], tile: Tile, box: Box) -> NDArray[Any]:
    """Return what of a tile's array lies in a box, zero around it."""
    out = np.zeros((box[1] - box[0], box[3] - box[2]), data.dtype)
    r0, r1 = max(tile.row, box[0]), min(tile.row + data.shape[0], box[1])
    c0, c1 = max(tile.column, box[2]), min(tile.column + data.shape[1], box[3])
    if r1 > r0 and c1 > c0:
        part = data[r0 - tile.row : r1 - tile.row, c0 - tile.column : c1 - tile.column]
        out[r0 - box[0] : r1 - box[0], c0 - box[2] : c1 - box[2]] = part
    return out


def _ends(coverage: Coverage, tile: Tile) -> tuple[NDArray[np.bool_] | None, NDArray[np.bool_] | None]:
    """Return the pieces of a tile that overlap nothing in the slice below and in the slice above, or None."""
    labels, count = label(tile.alpha > 0, corners=True)
    found: list[NDArray[np.bool_] | None] = []
    for neighbour in (coverage.tile(tile.plane - 1), coverage.tile(tile.plane + 1)):
        if neighbour is None:
            found.append(labels > 0)
            continue
        r0, c0 = max(tile.row, neighbour.row), max(tile.column, neighbour.column)
        r1 = min(tile.row + tile.alpha.shape[0], neighbour.row + neighbour.alpha.shape[0])
        c1 = min(tile.column + tile.alpha.shape[1], neighbour.column + neighbour.alpha.shape[1])
        met = np.zeros(count + 1, np.bool_)
        if r1 > r0 and c1 > c0:
            mine = labels[r0 - tile.row : r1 - tile.row, c0 - tile.column : c1 - tile.column]
            r, c = neighbour.row, neighbour.column
            met[mine[neighbour.alpha[r0 - r : r1 - r, c0 - c : c1 - c] > 127]] = True
        met[0] = True
        found.append(None if met.all() else ~met[labels])
    return found[0], found[1]


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
        tile = crop_tile(plane, rule(_cut(p, box), _cut(q, box)))
        if tile is not None:
            out.append(tile.but(row=tile.row + box[0], column=tile.column + box[2]))
    return Coverage(a.grid, tuple(out))
