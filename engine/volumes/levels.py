"""The shape of a volume between and beyond its slices, as further levels where they are needed.

Nothing is known between slices; the shape there is taken as follows.

* What goes on in the neighbouring slice is joined to it straight (signed distances blended), and bulges over that by as
  much as its areas tell: r^2 = area / pi runs through the slices as a parabola, as it does through balls and ellipsoids.
* What ends is followed by the same parabola of its areas in its last three slices. If that comes to nothing before the next
  slice, the piece closes there: it was tapering, and shrinks evenly to its middle on the way.
* If it does not, the piece ends flat: half-way to the next slice where it does not taper at all, nearer to that slice the
  more it does. So a tube ends where the slab of its last slice ends, as it does in every volume counted by slabs.

Volumes themselves are counted by the rule of slabs (``coverage``), which knows no caps; this shape only serves margins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.values import read_only
from engine.volumes.coverage import Coverage, Tile
from engine.volumes.distance import distance_mm, share_below
from engine.volumes.labels import label

Slice = NDArray[np.uint8]
Box = tuple[int, int, int, int]
FLAT_MM = 0.03  # a bulge under this is none
STEP_PX = 3.0  # a line moves no further from a level to the next


@dataclass(frozen=True)
class Level:
    """A cut at height z (in planes).

    Parameters
    ----------
    shape : a painted slice (uint8 shares), a map of signed distances (float32 mm), or None where there is nothing
    points : (row, column) of pieces that close at this height
    """

    z: float
    shape: NDArray[Any] | None
    points: tuple[tuple[float, float], ...] = ()

    @property
    def share(self) -> Slice | None:
        """How much of each pixel lies inside, 0..255."""
        return self.shape if self.shape is None or self.shape.dtype == np.uint8 else share_below(self.shape, 0.0)


@dataclass(frozen=True)
class _Cap:
    """A piece that ends: its cut after t of the way to the next slice, 0 <= t <= end."""

    alpha: Slice
    distance_mm: NDArray[np.float32]
    depth_mm: float
    bend: tuple[float, float]  # area(t) / area(0) = 1 + bend[0] t + bend[1] t^2
    end: float
    closes: bool
    middle: tuple[float, float]

    def lost_mm(self, t: float) -> float:
        """Return how much further out its line lay in the slice."""
        return self.depth_mm * (1.0 - float(np.sqrt(min(1.0, max(0.0, 1.0 + self.bend[0] * t + self.bend[1] * t * t)))))

    def stops(self) -> list[float]:
        """Return at which t it is to be cut, its end left out."""
        if self.lost_mm(self.end) < FLAT_MM:
            return []
        n = int(np.clip(np.ceil(self.depth_mm), 4, 10)) if self.closes else 2
        return [self.end * (1.0 - (1.0 - i / n) ** 2) for i in range(1, n)]


def levels(coverage: Coverage, box: Box, between: bool, first: int, last: int) -> Iterator[tuple[Level, Level]]:
    """Yield stretches (lower level, upper level) of the shape from plane `first` to `last`, upwards.

    Where one stretch begins higher than the other ended, or at the same height with another cut, the shape jumps: a piece
    ends flat. Without `between` each slice is a stretch of its own, of no height.
    """
    by_plane = {t.plane: t for t in coverage.tiles}
    shape = _Areas(coverage)
    before: Level | None = None
    for k in range(max(first, coverage.planes[0] - 1), min(last, coverage.planes[-1]) + 1):
        low, high = by_plane.get(k), by_plane.get(k + 1)
        if not between:
            if low is not None:
                here = Level(float(k), laid(low.alpha, low, box))
                yield here, here
            continue
        if low is None and high is None:
            continue
        a = before if before is not None and before.z == k else Level(float(k), _of(low, box))
        b = Level(float(k + 1), _of(high, box))
        before = b
        yield from _gap(coverage, shape, box, a, b, low, high)


def _gap(
    coverage: Coverage, shape: _Areas, box: Box, a: Level, b: Level, low: Tile | None, high: Tile | None
) -> Iterator[tuple[Level, Level]]:
    end_a = None if low is None else ends(coverage, low, 1)
    end_b = None if high is None else ends(coverage, high, -1)
    if end_a is None and end_b is None and a.shape is not None and b.shape is not None:
        bulge = shape.bulge(int(a.z))
        n = _parts(a.shape, b.shape, bulge, coverage.grid.spacing_mm)
        blend = _blended(coverage, a.shape, b.shape, bulge) if n > 1 else None
        between = [Level(a.z + t, blend(t)) for t in shape.stops(int(a.z), n)] if blend is not None else []
        yield from pairwise([a, *between, b])
        return
    spacing = coverage.grid.spacing_mm[1], coverage.grid.spacing_mm[0]
    caps_a = [] if low is None or end_a is None else _caps(shape, low, end_a, -1, box, coverage.grid.spacing_mm)
    caps_b = [] if high is None or end_b is None else _caps(shape, high, end_b, 1, box, coverage.grid.spacing_mm)
    blend, parts = None, 1
    if a.shape is not None and b.shape is not None:
        on_a, on_b = _without(a.shape, caps_a), _without(b.shape, caps_b)
        if (on_a > 127).any() and (on_b > 127).any():
            parts = _parts(on_a, on_b, None, coverage.grid.spacing_mm)
            blend = _blended(coverage, on_a, on_b, None)

    def cut(t: float, above: bool) -> Level:
        """Cut the shape, where a piece ends just below or just above."""
        maps = [] if blend is None else [blend(t)]
        flat: list[Slice] = []
        points: list[tuple[float, float]] = []
        for caps, way, over in ((caps_a, t, above), (caps_b, 1.0 - t, not above)):
            for cap in caps:
                at_end = abs(way - cap.end) < 1e-8
                if way > cap.end + 1e-8 or (at_end and over):
                    continue
                if at_end and cap.lost_mm(way) > 0.5 * cap.depth_mm:
                    points.append(cap.middle)
                if cap.lost_mm(way) < FLAT_MM:
                    flat.append(cap.alpha)
                elif not (at_end and cap.closes):
                    maps.append(cap.distance_mm + np.float32(cap.lost_mm(way)))
        if flat and not maps:
            return Level(a.z + t, np.maximum.reduce(flat), tuple(points))
        maps += [distance_mm(alpha, spacing) for alpha in flat]
        made = None if not maps else maps[0] if len(maps) == 1 else np.minimum.reduce(maps)
        return Level(a.z + t, made, tuple(points))

    tops, feet = {round(c.end, 9) for c in caps_a}, {round(1.0 - c.end, 9) for c in caps_b}
    stops = {0.0, 1.0} | tops | feet | {i / parts for i in range(1, parts)}
    stops |= {round(t, 9) for c in caps_a for t in c.stops()} | {round(1.0 - t, 9) for c in caps_b for t in c.stops()}
    lower = cut(0.0, True) if 0.0 in feet else a
    for t in sorted(stops)[1:]:
        upper = cut(t, False) if t < 1.0 or t in tops else b
        yield lower, upper
        lower = cut(t, True) if t in tops or t in feet else upper


def _without(alpha: Slice, caps: list[_Cap]) -> Slice:
    out = alpha.copy()
    for cap in caps:
        out[cap.alpha > 0] = 0
    return out


def _parts(a: Slice, b: Slice, bulge: Callable[[float], float] | None, spacing: tuple[float, float, float]) -> int:
    """Return into how many parts the way between two slices is cut."""
    n = 1
    if bulge is not None:
        n = int(np.clip(np.ceil(np.sqrt(abs(bulge(0.5)) / FLAT_MM)), 1, 8))
    if int((np.maximum(a, b) - np.minimum(a, b)).max()) > 178 and _far(a, b):
        rim = max(1, int(np.count_nonzero((a > 0) & (a < 255))))
        n = max(n, int(np.clip(np.ceil(2 * np.count_nonzero((a > 127) != (b > 127)) / rim / STEP_PX), 2, 8)))
    return n


@njit(cache=True, nogil=True)
def _far(a: Slice, b: Slice) -> bool:
    """Whether somewhere the line moves by three pixels or more: three by three pixels change sides."""
    rows, columns = a.shape
    for r in range(1, rows - 1):
        run = 0
        for c in range(columns):
            if (
                (a[r, c] > 127) != (b[r, c] > 127)
                and (a[r - 1, c] > 127) != (b[r - 1, c] > 127)
                and (a[r + 1, c] > 127) != (b[r + 1, c] > 127)
            ):
                run += 1
                if run == 3:
                    return True
            else:
                run = 0
    return False


def _blended(
    coverage: Coverage, a: Slice, b: Slice, bulge: Callable[[float], float] | None
) -> Callable[[float], NDArray[np.float32]]:
    spacing = (coverage.grid.spacing_mm[1], coverage.grid.spacing_mm[0])
    d_a, d_b = distance_mm(a, spacing), distance_mm(b, spacing)

    def cut(t: float) -> NDArray[np.float32]:
        return np.float32(1 - t) * d_a + np.float32(t) * d_b - np.float32(0.0 if bulge is None else bulge(t))

    return cut


class _Areas:
    """Areas of slices and of pieces in neighbouring slices, mm2."""

    def __init__(self, coverage: Coverage) -> None:
        self.coverage = coverage
        self.areas = dict(coverage.areas_mm2)
        self._whole: dict[int, bool] = {}

    def bulge(self, plane: int) -> Callable[[float], float] | None:
        """Return how far (mm, at t between `plane` and the next) the shape bulges over what joins the two straight."""
        if self._second(plane) == 0:
            return None

        def at(t: float) -> float:
            r = np.sqrt(self._square(plane, np.array([0.0, t, 1.0])))
            return float(r[1] - (1 - t) * r[0] - t * r[2])

        near = [k for k in range(plane - 1, plane + 3) if k in self.areas]
        return at if abs(at(0.5)) > FLAT_MM and all(self._is_whole(k) for k in near) else None

    def stops(self, plane: int, parts: int) -> list[float]:
        """Return `parts` - 1 ways between a plane and the next, where the line moves fast closer together."""
        if parts < 2:
            return []
        t = np.linspace(0, 1, 65)
        r = np.sqrt(self._square(plane, t))
        gone = np.concatenate(([0.0], np.cumsum(np.abs(np.diff(r)))))
        even = t if gone[-1] < 1e-6 else 0.3 * t + 0.7 * gone / gone[-1]
        return [float(np.interp(i / parts, even, t)) for i in range(1, parts)]

    def _square(self, plane: int, t: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return area / pi at `t` between a plane and the next."""
        a, b = self.areas[plane] / np.pi, self.areas[plane + 1] / np.pi
        found: NDArray[np.float64] = (1 - t) * a + t * b + self._second(plane) / (2 * np.pi) * (t * t - t)
        return np.maximum(0.0, found)

    def _second(self, plane: int) -> float:
        """Return the second difference of the areas between a plane and the next; 0 where those at both do not agree."""
        bends = []
        for k in (plane, plane + 1):
            if k - 1 in self.areas and k + 1 in self.areas:
                bends.append(self.areas[k - 1] - 2 * self.areas[k] + self.areas[k + 1])
        return min(bends, key=abs) if bends and min(bends) * max(bends) > 0 else 0.0

    def _is_whole(self, plane: int) -> bool:
        """Whether a slice is one piece without a hole."""
        if plane not in self._whole:
            tile = self.coverage.tile(plane)
            assert tile is not None
            solid = np.pad(tile.alpha > 127, 1)
            self._whole[plane] = label(solid)[1] == 1 and label(~solid)[1] == 1
        return self._whole[plane]

    def meeting(self, tile: Tile, piece: NDArray[np.bool_], plane: int) -> tuple[float, Tile, NDArray[np.bool_]] | None:
        """Return (area, tile, mask) of the pieces of another plane that overlap a piece, or None."""
        other = self.coverage.tile(plane)
        if other is None:
            return None
        labels, count = label(other.alpha > 0, corners=True)
        r0, c0 = max(tile.row, other.row), max(tile.column, other.column)
        r1 = min(tile.row + tile.alpha.shape[0], other.row + other.alpha.shape[0])
        c1 = min(tile.column + tile.alpha.shape[1], other.column + other.alpha.shape[1])
        if r1 <= r0 or c1 <= c0:
            return None
        over = piece[r0 - tile.row : r1 - tile.row, c0 - tile.column : c1 - tile.column]
        met = np.zeros(count + 1, np.bool_)
        met[labels[r0 - other.row : r1 - other.row, c0 - other.column : c1 - other.column][over]] = True
        met[0] = False
        if not met.any():
            return None
        mask = met[labels]
        dx, dy, _ = self.coverage.grid.spacing_mm
        return float(other.alpha[mask].sum(dtype=np.int64)) / 255 * dx * dy, other, mask


def _caps(
    shape: _Areas, tile: Tile, ending: NDArray[np.bool_], back: int, box: Box, spacing: tuple[float, float, float]
) -> list[_Cap]:
    """Return the ends of the pieces of a tile under `ending`; `back` is the step to the plane they come from."""
    labels, count = label(ending, corners=True)
    return [_cap(shape, tile, labels == n, back, box, spacing) for n in range(1, count + 1)]


def _cap(
    shape: _Areas, tile: Tile, piece: NDArray[np.bool_], back: int, box: Box, spacing: tuple[float, float, float]
) -> _Cap:
    dx, dy, _ = spacing
    own = np.where(piece, tile.alpha, np.uint8(0))
    area = float(own.sum(dtype=np.int64)) / 255 * dx * dy
    areas = [area]
    found: tuple[float, Tile, NDArray[np.bool_]] | None = (area, tile, piece)
    for step in (1, 2):
        found = None if found is None else shape.meeting(found[1], found[2], tile.plane + step * back)
        if found is None:
            break
        areas.append(found[0])
    bend = _bend(areas)
    end, closes = _end(bend)
    alpha = laid(own, tile, box)
    rows, columns = (np.arange(n) for n in alpha.shape)
    weight = max(1.0, float(alpha.sum(dtype=np.int64)))
    middle = float((alpha.sum(axis=1) * rows).sum() / weight), float((alpha.sum(axis=0) * columns).sum() / weight)
    if not (alpha > 127).any():
        return _Cap(alpha, np.full(alpha.shape, 1e6, np.float32), 0.0, (0.0, 0.0), min(end, 0.5), False, middle)
    distance = distance_mm(alpha, (dy, dx))
    # Pixel centres miss the deepest place by up to half their diagonal, and no place is deeper than in a disc.
    depth = min(float(np.sqrt(area / np.pi)), float(-distance.min()) + 0.7 * max(dx, dy))
    return _Cap(alpha, distance, depth, bend, end, closes, middle)


def _bend(areas: list[float]) -> tuple[float, float]:
    """Return (b, a) of the parabola 1 + b t + a t^2 through up to three areas of a piece, relative to that at its end."""
    if len(areas) == 1 or areas[0] <= 0:
        return 0.0, 0.0
    second = areas[0] - 2 * areas[1] + areas[2] if len(areas) == 3 else 0.0
    return (areas[0] - areas[1] + 0.5 * second) / areas[0], 0.5 * second / areas[0]


def _end(bend: tuple[float, float]) -> tuple[float, bool]:
    """Return where a piece ends on its way to the next slice (0..1), and whether it closes there."""
    b, a = bend
    nothing = np.inf
    root = b * b - 4 * a
    if abs(a) < 1e-9:
        nothing = -1 / b if b < 0 else np.inf
    elif root >= 0:
        nothing = min(
            (t for t in ((-b - np.sqrt(root)) / (2 * a), (-b + np.sqrt(root)) / (2 * a)) if t > 0), default=np.inf
        )
    elif b < 0 and 1 - b * b / (4 * a) < 0.1:  # a cone, whose areas just touch nothing
        nothing = -b / (2 * a)
    if nothing <= 1.02:
        return float(min(1.0, max(0.02, nothing))), True
    return float(max(0.5, 1.5 - 0.5 * nothing)), False


def ends(coverage: Coverage, tile: Tile, way: int) -> NDArray[np.bool_] | None:
    """Return the pieces of a tile that overlap nothing in the slice below (`way` -1) or above (1), or None."""
    neighbour = coverage.tile(tile.plane + way)
    if neighbour is None:
        whole: NDArray[np.bool_] = tile.alpha > 0
        return whole
    labels, count = label(tile.alpha > 0, corners=True)
    r0, c0 = max(tile.row, neighbour.row), max(tile.column, neighbour.column)
    r1 = min(tile.row + tile.alpha.shape[0], neighbour.row + neighbour.alpha.shape[0])
    c1 = min(tile.column + tile.alpha.shape[1], neighbour.column + neighbour.alpha.shape[1])
    met = np.zeros(count + 1, np.bool_)
    met[0] = True
    if r1 > r0 and c1 > c0:
        mine = labels[r0 - tile.row : r1 - tile.row, c0 - tile.column : c1 - tile.column]
        r, c = neighbour.row, neighbour.column
        _meet(np.ascontiguousarray(mine), read_only(neighbour.alpha[r0 - r : r1 - r, c0 - c : c1 - c]), met)
    return None if met.all() else ~met[labels]


@njit(cache=True, nogil=True)
def _meet(labels, alpha, met) -> None:  # type: ignore[no-untyped-def]
    """Mark the labels under which a slice is at least half covered."""
    for r in range(labels.shape[0]):
        for c in range(labels.shape[1]):
            if alpha[r, c] > 127:
                met[labels[r, c]] = True


def _of(tile: Tile | None, box: Box) -> Slice | None:
    return None if tile is None else laid(tile.alpha, tile, box)


def laid(data: NDArray[Any], tile: Tile, box: Box) -> NDArray[Any]:
    """Return what of a tile's array lies in a box, zero around it."""
    out = np.zeros((box[1] - box[0], box[3] - box[2]), data.dtype)
    r0, r1 = max(tile.row, box[0]), min(tile.row + data.shape[0], box[1])
    c0, c1 = max(tile.column, box[2]), min(tile.column + data.shape[1], box[3])
    if r1 > r0 and c1 > c0:
        part = data[r0 - tile.row : r1 - tile.row, c0 - tile.column : c1 - tile.column]
        out[r0 - box[0] : r1 - box[0], c0 - box[2] : c1 - box[2]] = part
    return out
