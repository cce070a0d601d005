"""An axis-aligned box of voxels in patient coordinates."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.values import Value
from engine.base.words import say

Point = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Grid(Value):
    """A box of voxels, axis-aligned in patient coordinates (DICOM LPS: +x left, +y posterior, +z head; mm).

    Parameters
    ----------
    origin_mm : (x, y, z) of the centre of voxel [0, 0, 0]
    spacing_mm : (x, y, z), all positive
    shape : (planes, rows, columns), the order of every array in this project
    """

    origin_mm: tuple[float, float, float]
    spacing_mm: tuple[float, float, float]
    shape: tuple[int, int, int]

    def __post_init__(self) -> None:
        super().__post_init__()
        object.__setattr__(self, "shape", tuple(int(n) for n in self.shape))
        if not all(s > 0 for s in self.spacing_mm) or not all(np.isfinite(self.origin_mm)):
            raise GeometryError(
                say("a grid needs positive spacing and a finite origin, not {spacing_mm}", spacing_mm=self.spacing_mm)
            )
        if not all(n >= 1 for n in self.shape):
            raise GeometryError(say("a grid needs at least one voxel along each axis, not {shape}", shape=self.shape))

    @property
    def x_mm(self) -> NDArray[np.float64]:
        """Centres of the columns."""
        return self.origin_mm[0] + self.spacing_mm[0] * np.arange(self.shape[2], dtype=np.float64)

    @property
    def y_mm(self) -> NDArray[np.float64]:
        """Centres of the rows."""
        return self.origin_mm[1] + self.spacing_mm[1] * np.arange(self.shape[1], dtype=np.float64)

    @property
    def z_mm(self) -> NDArray[np.float64]:
        """Centres of the planes."""
        return self.origin_mm[2] + self.spacing_mm[2] * np.arange(self.shape[0], dtype=np.float64)

    @property
    def voxel_cm3(self) -> float:
        """Volume of one voxel."""
        return float(np.prod(self.spacing_mm)) / 1000.0

    @property
    def bounds_mm(self) -> tuple[Point, Point]:
        """Outer faces of the box: lowest and highest (x, y, z)."""
        lo = tuple(o - s / 2 for o, s in zip(self.origin_mm, self.spacing_mm, strict=True))
        hi = tuple(a + n * s for a, n, s in zip(lo, self.shape[::-1], self.spacing_mm, strict=True))
        return lo, hi  # type: ignore[return-value]

    @property
    def centre_mm(self) -> Point:
        """Middle of the box."""
        lo, hi = self.bounds_mm
        return tuple((a + b) / 2 for a, b in zip(lo, hi, strict=True))  # type: ignore[return-value]

    def index(self, points_mm: NDArray[np.float64] | Point) -> NDArray[np.float64]:
        """Fractional (plane, row, column) of points given as (..., 3) in (x, y, z)."""
        p = np.asarray(points_mm, dtype=np.float64)
        return ((p - self.origin_mm) / self.spacing_mm)[..., ::-1]

    def point(self, index: NDArray[np.float64] | tuple[float, float, float]) -> NDArray[np.float64]:
        """Patient (x, y, z) of (plane, row, column), fractional or not, shape (..., 3)."""
        i = np.asarray(index, dtype=np.float64)[..., ::-1]
        return i * self.spacing_mm + np.asarray(self.origin_mm)

    def contains(self, point_mm: Point) -> bool:
        """Whether a point lies inside the outer faces."""
        lo, hi = self.bounds_mm
        return all(a <= p <= b for a, p, b in zip(lo, point_mm, hi, strict=True))

    def plane_at(self, z_mm: float) -> int:
        """Index of the nearest plane, clipped into the grid."""
        k = round((z_mm - self.origin_mm[2]) / self.spacing_mm[2])
        return int(min(max(k, 0), self.shape[0] - 1))

    def covering(self, lo_mm: Point, hi_mm: Point, spacing_mm: float | tuple[float, float, float]) -> Grid:
        """Return a grid of another spacing whose faces enclose the box lo..hi (this grid gives only the frame)."""
        s = (spacing_mm,) * 3 if isinstance(spacing_mm, (int, float)) else spacing_mm
        n = [max(1, int(np.ceil((h - a) / d - 1e-6))) for a, h, d in zip(lo_mm, hi_mm, s, strict=True)]
        start = [(a + h - k * d) / 2 + d / 2 for a, h, k, d in zip(lo_mm, hi_mm, n, s, strict=True)]
        return Grid(tuple(start), tuple(s), (n[2], n[1], n[0]))  # type: ignore[arg-type]
