"""A canvas of CT numbers on which solids are painted in order; regions keep their distance field for true volumes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt, map_coordinates

from engine.base.progress import Report, quiet
from engine.phantoms.solids import FAR_MM, Field, Loft, Triple, Tube, noise, rotation, superellipsoid, tubes_distance
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage, Tile, crop_tile

Box = tuple[slice, slice, slice]
Level = float | Field
AIR_HU = -996.0


@dataclass(frozen=True)
class Region:
    """A signed distance field in mm on a box of the canvas; outside the box it is outside the solid."""

    box: Box
    distance: Field

    def moved(self, outward_mm: Level) -> Region:
        """Return the region with its surface moved outward (inward if negative) within its box."""
        return Region(self.box, self.distance - np.float32(outward_mm))


@dataclass
class Canvas:
    """CT numbers (float32) on a grid, and the coordinates of its voxels.

    Parameters
    ----------
    report : told after every stroke of paint (and so able to stop the work), up to nine tenths
    strokes : about how many there will be
    words : what is being painted now
    """

    grid: Grid
    report: Report = quiet
    strokes: int = 100
    words: str = ""
    hu: Field = field(init=False)
    _done: int = 0

    def __post_init__(self) -> None:
        self.hu = np.full(self.grid.shape, AIR_HU, dtype=np.float32)

    # -- where --------------------------------------------------------------------------------------------------

    @property
    def whole(self) -> Box:
        """The box of the whole canvas."""
        return tuple(slice(0, n) for n in self.grid.shape)  # type: ignore[return-value]

    def box(self, lo_mm: Sequence[float], hi_mm: Sequence[float], pad_mm: float = 3.0) -> Box:
        """Return the voxels between two corners (x, y, z), padded, clipped to the canvas, at least two each way."""
        out = []
        for axis in (2, 1, 0):
            o, s, n = self.grid.origin_mm[axis], self.grid.spacing_mm[axis], self.grid.shape[2 - axis]
            pad = max(pad_mm, 1.01 * s)
            a = min(max(0, int(np.floor((lo_mm[axis] - pad - o) / s))), n - 2)
            b = max(min(n, int(np.ceil((hi_mm[axis] + pad - o) / s)) + 1), a + 2)
            out.append(slice(a, b))
        return out[0], out[1], out[2]

    def axes(self, box: Box) -> tuple[Field, Field, Field]:
        """Return broadcastable x, y, z of a box."""
        x = self.grid.x_mm[box[2]].astype(np.float32).reshape(1, 1, -1)
        y = self.grid.y_mm[box[1]].astype(np.float32).reshape(1, -1, 1)
        z = self.grid.z_mm[box[0]].astype(np.float32).reshape(-1, 1, 1)
        return x, y, z

    def on(self, region: Region, box: Box) -> Field:
        """Return a region's distance on another box, FAR_MM where it is not known."""
        if region.box == box:
            return region.distance
        out = np.full([s.stop - s.start for s in box], FAR_MM, dtype=np.float32)
        here, there = [], []
        for a, b in zip(box, region.box):
            lo, hi = max(a.start, b.start), min(a.stop, b.stop)
            if lo >= hi:
                return out
            here.append(slice(lo - a.start, hi - a.start))
            there.append(slice(lo - b.start, hi - b.start))
        out[tuple(here)] = region.distance[tuple(there)]
        return out

    # -- solids -------------------------------------------------------------------------------------------------

    def solid(
        self,
        function: Callable[[Field, Field, Field], Field],
        lo: Sequence[float],
        hi: Sequence[float],
        pad_mm: float = 3.0,
    ) -> Region:
        """Evaluate a distance function between two corners."""
        box = self.box(lo, hi, pad_mm)
        shape = tuple(s.stop - s.start for s in box)
        values = np.broadcast_to(function(*self.axes(box)), shape)
        return Region(box, np.ascontiguousarray(values, dtype=np.float32))

    def ellipsoid(
        self,
        centre: Triple,
        radii: Triple,
        turn: Triple = (0.0, 0.0, 0.0),
        power: float = 2.0,
        rough: tuple[float, float, int] | None = None,
        pad_mm: float = 3.0,
    ) -> Region:
        """Return a (super)ellipsoid turned about x, y, z in degrees; `rough` is (amplitude mm, wave mm, seed)."""
        amplitude = 2.5 * rough[0] if rough else 0.0
        matrix = rotation(*turn)
        if power > 2:
            half = np.abs(matrix) @ np.array(radii)
        else:
            half = np.sqrt((matrix**2) @ np.array(radii) ** 2)
        half = half + amplitude

        def function(x: Field, y: Field, z: Field) -> Field:
            d = [p - np.float32(c) for p, c in zip((x, y, z), centre)]
            if any(turn):
                d = [matrix[0, i] * d[0] + matrix[1, i] * d[1] + matrix[2, i] * d[2] for i in range(3)]
            out = superellipsoid(d[0], d[1], d[2], radii, power)
            return out if rough is None else out + np.float32(rough[0]) * noise(x, y, z, rough[1], rough[2])

        return self.solid(function, list(np.array(centre) - half), list(np.array(centre) + half), pad_mm)

    def loft_box(self, centre: Triple, half: Triple, round_mm: float) -> Region:
        """Return a box with rounded edges."""

        def function(x: Field, y: Field, z: Field) -> Field:
            q = [np.abs(p - np.float32(c)) - np.float32(h - round_mm) for p, c, h in zip((x, y, z), centre, half)]
            apart = np.sqrt(np.maximum(q[0], 0) ** 2 + np.maximum(q[1], 0) ** 2 + np.maximum(q[2], 0) ** 2)
            inside = np.minimum(np.maximum(np.maximum(q[0], q[1]), q[2]), 0)
            return np.asarray(apart + inside - round_mm, dtype=np.float32)

        return self.solid(function, list(np.array(centre) - half), list(np.array(centre) + half))

    def loft(self, loft: Loft, rough: tuple[float, float, int] | None = None, pad_mm: float = 6.0) -> Region:
        """Return a loft, its surface roughened by smooth noise."""
        pad = pad_mm + (2.5 * rough[0] if rough else 0.0)
        lo = (min(np.array(loft.x_mm) - loft.right_mm) - pad, min(np.array(loft.y_mm) - loft.front_mm) - pad)
        hi = (max(np.array(loft.x_mm) + loft.left_mm) + pad, max(np.array(loft.y_mm) + loft.back_mm) + pad)

        def function(x: Field, y: Field, z: Field) -> Field:
            out = loft.distance(x, y, z)
            return out if rough is None else out + np.float32(rough[0]) * noise(x, y, z, rough[1], rough[2])

        return self.solid(function, (*lo, loft.z_mm[0]), (*hi, loft.z_mm[-1]))

    def tubes(
        self,
        tubes: Sequence[Tube],
        stretch: Triple = (1.0, 1.0, 1.0),
        rough: tuple[float, float, int] | None = None,
        reach_mm: float = 6.0,
    ) -> Region:
        """Return the union of tubes."""
        points = np.concatenate([t.points_mm for t in tubes])
        most = max(float(t.radius_mm.max()) for t in tubes) * np.array(stretch) + (2.5 * rough[0] if rough else 0.0)

        def function(x: Field, y: Field, z: Field) -> Field:
            out = tubes_distance(tubes, x, y, z, stretch, reach_mm)
            return out if rough is None else out + np.float32(rough[0]) * noise(x, y, z, rough[1], rough[2])

        return self.solid(
            function, list(points.min(axis=0) - most - reach_mm / 2), list(points.max(axis=0) + most + reach_mm / 2)
        )

    def union(self, regions: Sequence[Region], soft_mm: float = 0.0) -> Region:
        """Return the union; with `soft_mm` the solids flow into each other like wax."""
        box: Box = tuple(  # type: ignore[assignment]
            slice(min(r.box[i].start for r in regions), max(r.box[i].stop for r in regions)) for i in range(3)
        )
        out = self.on(regions[0], box).copy()
        for region in regions[1:]:
            sub = tuple(slice(s.start - b.start, s.stop - b.start) for s, b in zip(region.box, box))
            out[sub] = soft_min(out[sub], region.distance, soft_mm)
        return Region(box, out)

    def without(self, region: Region, other: Region, gap_mm: float = 0.0, soft_mm: float = 0.0) -> Region:
        """Return what of a region lies outside another one grown by `gap_mm`."""
        cut = np.float32(gap_mm) - self.on(other, region.box)
        return Region(region.box, -soft_min(-region.distance, -cut, soft_mm))

    def common(self, region: Region, other: Region, soft_mm: float = 0.0) -> Region:
        """Return what two regions share, on the first one's box."""
        return Region(region.box, -soft_min(-region.distance, -self.on(other, region.box), soft_mm))

    def grown(self, region: Region, margin_mm: float) -> Region:
        """Return a region grown by a true Euclidean margin (the field outside a deformed solid is only nearly one)."""
        k, r, c = (int(np.ceil((margin_mm + 4) / s)) + 1 for s in self.grid.spacing_mm[::-1])
        pad = (k, r, c)
        box: Box = tuple(  # type: ignore[assignment]
            slice(max(0, b.start - p), min(n, b.stop + p)) for b, p, n in zip(region.box, pad, self.grid.shape)
        )
        inside = self.on(region, box)
        factor = max(1, round(self.grid.spacing_mm[2] / self.grid.spacing_mm[0]))
        planes = np.arange((inside.shape[0] - 1) * factor + 1) / factor
        low = np.minimum(planes.astype(int), inside.shape[0] - 2)
        t = (planes - low).astype(np.float32)[:, None, None]
        fine = inside[low] * (1 - t) + inside[low + 1] * t
        spacing = (self.grid.spacing_mm[2] / factor, self.grid.spacing_mm[1], self.grid.spacing_mm[0])
        _, nearest = distance_transform_edt(fine > 0, sampling=spacing, return_indices=True)
        apart = [(n - i) * s for n, i, s in zip(nearest, np.indices(fine.shape, sparse=True), spacing)]
        straight = np.sqrt(sum(a.astype(np.float32) ** 2 for a in apart))
        sunk = map_coordinates(fine, nearest.astype(np.float32), order=0)
        out = np.where(fine > 0, straight + sunk, fine)[::factor]
        return Region(box, np.asarray(out - margin_mm, dtype=np.float32))

    # -- painting -----------------------------------------------------------------------------------------------

    def alpha(self, region: Region, width_px: float = 1.0) -> Field:
        """Return how much of each voxel lies inside: a ramp one pixel wide about the surface."""
        return np.clip(0.5 - region.distance / np.float32(width_px * self.grid.spacing_mm[0]), 0.0, 1.0)

    def paint(self, region: Region, hu: Level, width_px: float = 1.0, share: Level = 1.0) -> None:
        """Lay CT numbers (one, or a field on the region's box) over the canvas."""
        a = (
            self.alpha(region, width_px) * np.float32(share)
            if not isinstance(share, np.ndarray)
            else (self.alpha(region, width_px) * share)
        )
        self._done += 1
        self.report(min(0.9, 0.9 * self._done / self.strokes), self.words)
        part = self.hu[region.box]
        part += a * (np.asarray(hu, dtype=np.float32) - part)

    def texture(self, box: Box, wave_mm: float | Triple, seed: int) -> Field:
        """Return unit noise on a box."""
        return noise(*self.axes(box), wave_mm, seed)

    def coverage(self, region: Region) -> Coverage:
        """Return the true volume of a region: the same ramp that painted it."""
        share = np.round(self.alpha(region) * 255).astype(np.uint8)
        k0, r0, c0 = (s.start for s in region.box)
        found = (crop_tile(k0 + k, share[k]) for k in range(share.shape[0]))
        tiles = tuple(Tile(t.plane, t.row + r0, t.column + c0, t.alpha) for t in found if t is not None)
        return Coverage(self.grid, tiles)


def soft_min(a: Field, b: Field, soft_mm: float) -> NDArray[np.float32]:
    """Return the minimum of two fields, rounded where they are nearer than `soft_mm` to each other."""
    low = np.minimum(a, b)
    if soft_mm <= 0:
        return low
    k = np.float32(soft_mm)
    near = np.maximum(k - np.abs(a - b), 0) / k
    return np.asarray(low - near * near * k / 4, dtype=np.float32)
