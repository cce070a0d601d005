"""How patient axes lie on a view, and the camera that looks at a plane."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

Point = tuple[float, float, float]

# axis that a plane stands across -> (coordinate to the right, coordinate up or down, +1 if it grows downwards).
# Seen from the feet for "z", from the patient's left for "x", from the front for "y" (common practice).
PLANES: dict[str, tuple[int, int, int]] = {"z": (0, 1, 1), "x": (1, 2, -1), "y": (0, 2, -1)}
NORMAL = {"x": 0, "y": 1, "z": 2}
LETTERS = (("R", "L"), ("A", "P"), ("F", "H"))  # low and high end of x, y, z (DICOM LPS)


def edge_letters(axis: str) -> tuple[str, str, str, str]:
    """Return the orientation letters at the left, right, top and bottom edge of a plane."""
    u, v, down = PLANES[axis]
    low, high = LETTERS[v]
    return (*LETTERS[u], low, high) if down > 0 else (*LETTERS[u], high, low)


@dataclass
class Camera:
    """Where a plane is looked at: in-plane centre in mm and magnification against the fitted picture."""

    u_mm: float = 0.0
    v_mm: float = 0.0
    zoom: float = 1.0


Bounds = tuple[Point, Point]


def extent(axis: str, bounds_mm: Bounds) -> tuple[float, float, float, float]:
    """Return (u low, u high, v low, v high) of a box, mm."""
    lo, hi = bounds_mm
    u, v, _ = PLANES[axis]
    return lo[u], hi[u], lo[v], hi[v]


def fitted(axis: str, bounds_mm: Bounds, width: float, height: float, margins: tuple[float, float]) -> float:
    """Return the scale (px per mm) at which a box just fills a view but for margins beside and above."""
    u0, u1, v0, v1 = extent(axis, bounds_mm)
    return max(1e-3, min(max(width - 2 * margins[0], 8) / (u1 - u0), max(height - 2 * margins[1], 8) / (v1 - v0)))


def centred(axis: str, bounds_mm: Bounds) -> Camera:
    """Return the camera that shows the whole box."""
    u0, u1, v0, v1 = extent(axis, bounds_mm)
    return Camera((u0 + u1) / 2, (v0 + v1) / 2, 1.0)


def looking(axis: str, camera: Camera, scale: float, width: float, height: float) -> QTransform:
    """Return the map from in-plane mm to view pixels."""
    down = PLANES[axis][2]
    return QTransform(scale, 0, 0, down * scale, width / 2 - camera.u_mm * scale, height / 2 - down * camera.v_mm * scale)


def lift(axis: str, u_mm: float, v_mm: float, position_mm: float) -> Point:
    """Return the patient point of in-plane coordinates."""
    u, v, _ = PLANES[axis]
    point = [0.0, 0.0, 0.0]
    point[u], point[v], point[NORMAL[axis]] = u_mm, v_mm, position_mm
    return (point[0], point[1], point[2])


def drop(axis: str, point_mm: Point) -> QPointF:
    """Return the in-plane coordinates of a patient point."""
    u, v, _ = PLANES[axis]
    return QPointF(point_mm[u], point_mm[v])


def plane_count(axis: str, grid: Grid) -> int:
    """Return how many planes stand across an axis."""
    return grid.shape[2 - NORMAL[axis]]


def plane_index(axis: str, grid: Grid, point_mm: Point) -> int:
    """Return the plane nearest to a point, clipped into the grid."""
    i = NORMAL[axis]
    k = round((point_mm[i] - grid.origin_mm[i]) / grid.spacing_mm[i])
    return int(min(max(k, 0), plane_count(axis, grid) - 1))


def plane_position(axis: str, grid: Grid, index: int) -> float:
    """Return where a plane stands, mm."""
    i = NORMAL[axis]
    return grid.origin_mm[i] + index * grid.spacing_mm[i]


def bounds_between(coverage: Coverage, z_mm: tuple[float, float] | None) -> Bounds | None:
    """Return the box of the slices of a coverage between two heights, of all if none is there; None where all is empty."""
    if z_mm is not None:
        grid = coverage.grid
        heights = ((t, grid.origin_mm[2] + t.plane * grid.spacing_mm[2]) for t in coverage.tiles)
        near = tuple(t for t, z in heights if z_mm[0] <= z <= z_mm[1])
        coverage = coverage.but(tiles=near) if near else coverage
    return coverage.bounds_mm()
