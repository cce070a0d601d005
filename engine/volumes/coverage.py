"""The one representation of a volume: how much of each pixel lies inside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say
from engine.space.grid import Grid

Slice = NDArray[np.uint8]


@dataclass(frozen=True, eq=False)
class Tile(Value):
    """The painted part of one slice: `alpha` (uint8, 255 = wholly inside) with its corner at (row, column)."""

    plane: int
    row: int
    column: int
    alpha: FrozenArray

    @cached_property
    def total(self) -> int:
        """Sum of the shares (255 = one pixel), worked out once: screens ask for areas at every edit."""
        return int(self.alpha.sum(dtype=np.int64))


@dataclass(frozen=True, eq=False)
class Coverage(Value):
    """A sparse stack of slices on `grid`: one cropped tile for each slice that is touched, ascending in plane.

    A slice fills the slab of one plane spacing about its plane (half-slice ends, no caps): the volume in cm3 is the
    sum of covered pixel areas times the spacing, and every other room uses the same rule.
    """

    grid: Grid
    tiles: tuple[Tile, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        planes = [t.plane for t in self.tiles]
        if planes != sorted(set(planes)) or (planes and not 0 <= planes[0] <= planes[-1] < self.grid.shape[0]):
            raise GeometryError("coverage tiles must be one per plane, ascending, inside the grid")

    @staticmethod
    def from_dense(grid: Grid, data: NDArray[np.generic]) -> Coverage:
        """Return coverage of a dense array of `grid.shape`: bool masks (0/255) or uint8 shares (0..255)."""
        if data.shape != grid.shape:
            raise GeometryError(
                say("an array of shape {shape} does not fit the grid {wanted}", shape=data.shape, wanted=grid.shape)
            )
        found = (crop_tile(k, data[k]) for k in range(grid.shape[0]))
        return Coverage(grid, tuple(t for t in found if t is not None))

    @property
    def is_empty(self) -> bool:
        """Whether no pixel is touched."""
        return not self.tiles

    @property
    def planes(self) -> tuple[int, ...]:
        """Indices of the touched slices."""
        return tuple(t.plane for t in self.tiles)

    @property
    def volume_cm3(self) -> float:
        """Volume by the slab rule."""
        return float(sum(t.total for t in self.tiles)) / 255.0 * self.grid.voxel_cm3

    @property
    def areas_mm2(self) -> tuple[tuple[int, float], ...]:
        """(plane, covered area) of each touched slice."""
        pixel = self.grid.spacing_mm[0] * self.grid.spacing_mm[1]
        return tuple((t.plane, t.total / 255.0 * pixel) for t in self.tiles)

    def tile(self, plane: int) -> Tile | None:
        """Return the tile of a plane, or None."""
        return next((t for t in self.tiles if t.plane == plane), None)

    def slice(self, plane: int) -> Slice:
        """Return a writable full-size copy (rows, columns) of one slice."""
        out = np.zeros(self.grid.shape[1:], dtype=np.uint8)
        tile = self.tile(plane)
        if tile is not None:
            r, c = tile.alpha.shape
            out[tile.row : tile.row + r, tile.column : tile.column + c] = tile.alpha
        return out

    def dense(self) -> NDArray[np.uint8]:
        """Return a writable dense copy of the whole stack."""
        out = np.zeros(self.grid.shape, dtype=np.uint8)
        for t in self.tiles:
            r, c = t.alpha.shape
            out[t.plane, t.row : t.row + r, t.column : t.column + c] = t.alpha
        return out

    def with_slice(self, plane: int, data: NDArray[np.generic]) -> Coverage:
        """Return coverage with one full-size slice replaced; the other tiles stay the same objects."""
        return self.with_slices(((plane, data),))

    def with_slices(self, slices: Iterable[tuple[int, NDArray[np.generic]]]) -> Coverage:
        """Return coverage with several full-size slices replaced."""
        tiles: dict[int, Tile] = {t.plane: t for t in self.tiles}
        for plane, data in slices:
            tile = crop_tile(plane, data)
            if tile is None:
                tiles.pop(plane, None)
            else:
                tiles[plane] = tile
        return Coverage(self.grid, tuple(tiles[k] for k in sorted(tiles)))

    def bounds_mm(self) -> tuple[tuple[float, float, float], tuple[float, float, float]] | None:
        """Return the faces of the smallest box of voxels that encloses the volume, or None if empty."""
        if not self.tiles:
            return None
        r0 = min(t.row for t in self.tiles)
        c0 = min(t.column for t in self.tiles)
        r1 = max(t.row + t.alpha.shape[0] for t in self.tiles)
        c1 = max(t.column + t.alpha.shape[1] for t in self.tiles)
        lo = self.grid.point((self.tiles[0].plane - 0.5, r0 - 0.5, c0 - 0.5))
        hi = self.grid.point((self.tiles[-1].plane + 0.5, r1 - 0.5, c1 - 0.5))
        return tuple(map(float, lo)), tuple(map(float, hi))  # type: ignore[return-value]

    def centroid_mm(self) -> tuple[float, float, float] | None:
        """Return the centre of mass, or None if empty."""
        total, moment = 0.0, np.zeros(3)
        for t in self.tiles:
            w = t.alpha.astype(np.float64)
            m = w.sum()
            row = (w.sum(axis=1) * (np.arange(w.shape[0]) + t.row)).sum()
            column = (w.sum(axis=0) * (np.arange(w.shape[1]) + t.column)).sum()
            moment += (t.plane * m, row, column)
            total += m
        if total == 0:
            return None
        return tuple(map(float, self.grid.point(moment / total)))  # type: ignore[return-value]


def crop_tile(plane: int, data: NDArray[np.generic]) -> Tile | None:
    """Return the smallest tile that holds the touched pixels of a full-size slice, or None."""
    alpha = np.asarray(data)
    if alpha.dtype == np.bool_:
        alpha = alpha.astype(np.uint8) * np.uint8(255)
    if alpha.dtype != np.uint8:
        raise TypeError("coverage slices are bool or uint8")
    rows = np.flatnonzero(alpha.any(axis=1))
    if rows.size == 0:
        return None
    r0, r1 = int(rows[0]), int(rows[-1]) + 1
    columns = np.flatnonzero(alpha[r0:r1].any(axis=0))
    c0, c1 = int(columns[0]), int(columns[-1]) + 1
    return Tile(plane, r0, c0, own_array(alpha[r0:r1, c0:c1].copy()))
