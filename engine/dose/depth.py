"""Depths along the line from the source to a point, for the point probe and for reports."""

from __future__ import annotations

import numpy as np

from engine.image.density import Density
from engine.space.grid import Point
from engine.space.raytrace import crossings

# Half-way between air and the thinnest lung: what the eye takes for the skin.
_SURFACE_G_CM3 = 0.1


def water_equivalent_depth_mm(density: Density, point_mm: Point, source_mm: Point) -> float:
    """Return the depth of a point in water of equal mass along the ray from the source (mm at 1 g/cm3)."""
    index, length = crossings(density.grid, source_mm, point_mm)
    return float(np.dot(density.g_cm3[index[:, 0], index[:, 1], index[:, 2]].astype(np.float64), length))


def depth_mm(density: Density, point_mm: Point, source_mm: Point) -> float:
    """Return the length from where the ray first enters matter (above 0.1 g/cm3) to the point; 0 in front of it."""
    index, length = crossings(density.grid, source_mm, point_mm)
    matter = density.g_cm3[index[:, 0], index[:, 1], index[:, 2]] > _SURFACE_G_CM3
    if not matter.any():
        return 0.0
    whole = float(np.linalg.norm(np.subtract(point_mm, source_mm)))
    clear = float(np.linalg.norm(np.subtract(_entry(density, source_mm, point_mm), source_mm)))
    return whole - clear - float(length[: int(np.argmax(matter))].sum())


def _entry(density: Density, source_mm: Point, point_mm: Point) -> Point:
    """Return where the segment enters the grid."""
    lo, hi = (np.asarray(v) for v in density.grid.bounds_mm)
    a, way = np.asarray(source_mm), np.subtract(point_mm, source_mm)
    with np.errstate(divide="ignore", invalid="ignore"):
        near = np.where(way == 0, -np.inf, np.minimum((lo - a) / way, (hi - a) / way))
    share = min(max(0.0, float(np.nanmax(near))), 1.0)
    return tuple(a + share * way)
