"""Exact solids as coverage: discs, balls, boxes and tubes cut at the planes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.paint import polygon, stamp

Point = tuple[float, float, float]
MIDDLE = (0.0, 0.0, 0.0)


def cube_grid(half_mm: float = 45.0, pixel_mm: float = 1.0, plane_mm: float = 1.0, shift_z_mm: float = 0.0) -> Grid:
    """Return a grid about the origin, planes shifted by `shift_z_mm`."""
    n, m = round(2 * half_mm / pixel_mm), round(2 * half_mm / plane_mm)
    corner = -(n - 1) / 2 * pixel_mm
    return Grid((corner, corner, -(m - 1) / 2 * plane_mm + shift_z_mm), (pixel_mm, pixel_mm, plane_mm), (m, n, n))


def stacked(
    grid: Grid,
    radius_at: Callable[[float], float],
    centre_at: Callable[[float], tuple[float, float]] = lambda z: (0.0, 0.0),
) -> Coverage:
    """Return round slices: the radius (mm; none if not positive) and the centre (x, y) as functions of z."""
    slices: list[tuple[int, NDArray[np.uint8]]] = []
    for k, z in enumerate(grid.z_mm.tolist()):
        radius = radius_at(z)
        if radius > 0:
            out = np.zeros(grid.shape[1:], np.uint8)
            _, row, column = grid.index((*centre_at(z), z))
            stamp(out, row, column, (radius / grid.spacing_mm[1], radius / grid.spacing_mm[0]))
            slices.append((k, out))
    return Coverage(grid).with_slices(slices)


def sphere(grid: Grid, radius_mm: float, centre_mm: Point = MIDDLE) -> Coverage:
    """Return a ball cut at the planes."""
    return stacked(
        grid, lambda z: float(np.sqrt(max(0.0, radius_mm**2 - (z - centre_mm[2]) ** 2))), lambda z: centre_mm[:2]
    )


def cylinder(grid: Grid, radius_mm: float, half_length_mm: float, centre_mm: tuple[float, float] = (0.0, 0.0)) -> Coverage:
    """Return a tube along z."""
    return stacked(grid, lambda z: radius_mm if abs(z) < half_length_mm else 0.0, lambda z: centre_mm)


def block(grid: Grid, low_mm: Point, high_mm: Point) -> Coverage:
    """Return a box between two corners (x, y, z)."""
    _, r0, c0 = grid.index(low_mm)
    _, r1, c1 = grid.index(high_mm)
    area = polygon(grid.shape[1:], [(r0, c0), (r0, c1), (r1, c1), (r1, c0)])
    return Coverage(grid).with_slices((k, area) for k, z in enumerate(grid.z_mm) if low_mm[2] < z < high_mm[2])
