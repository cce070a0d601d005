"""Surfaces of volumes as triangles, for looking at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, FrozenArray, Value, own_array
from engine.volumes.coverage import Coverage

CELL_MM = 3.0
_MOST_CELLS = 3_000_000


@dataclass(frozen=True, eq=False)
class ShellRequest(Value):
    """Ask for the surface of a volume on cells of about `cell_mm`."""

    coverage: Coverage
    cell_mm: float = CELL_MM


@dataclass(frozen=True, eq=False)
class Shell(Value):
    """Triangles of a closed surface.

    Parameters
    ----------
    points_mm : float32 (n, 3), patient
    triangles : int32 (m, 3), indices of points
    normals : float32 (m, 3), one for each triangle, outwards
    inputs : fingerprint of the request
    """

    points_mm: FrozenArray
    triangles: FrozenArray
    normals: FrozenArray
    inputs: Fingerprint


def make_shell(request: ShellRequest, report: Report = quiet) -> Shell:
    """Return the half-level surface of a volume, its coverage averaged over cells; no triangles if nothing is painted."""
    coverage, grid = request.coverage, request.coverage.grid
    report(0.0, "surface")
    box = coverage.bounds_mm()
    if box is None:
        return _surface(np.empty((0, 3)), np.empty((0, 3), dtype=np.int64), request)
    from skimage.measure import marching_cubes

    cell = max(request.cell_mm, (float(np.prod(np.subtract(box[1], box[0]))) / _MOST_CELLS) ** (1 / 3))
    fx, fy, fz = (max(1, round(cell / s)) for s in grid.spacing_mm)
    first, last = coverage.tiles[0].plane, coverage.tiles[-1].plane
    spacing, origin = np.array(grid.spacing_mm), np.array(grid.origin_mm)
    low = np.floor((np.array(box[0]) - origin) / spacing).astype(int)[:2]
    high = np.ceil((np.array(box[1]) - origin) / spacing).astype(int)[:2] + 1
    low, high = np.maximum(low, 0), np.minimum(high, (grid.shape[2], grid.shape[1]))
    planes, rows, columns = -(-(last - first + 1) // fz), -(-(high[1] - low[1]) // fy), -(-(high[0] - low[0]) // fx)
    held = np.zeros((planes * fz, rows * fy, columns * fx), dtype=np.uint8)
    for n, plane in enumerate(range(first, last + 1)):
        tile = coverage.slice(plane)
        if tile is not None:
            data = np.asarray(tile)[low[1] : high[1], low[0] : high[0]]
            held[n, : data.shape[0], : data.shape[1]] = data
    cells = held.reshape(planes, fz, rows, fy, columns, fx).mean(axis=(1, 3, 5), dtype=np.float32)
    report(0.5, "surface")
    padded = np.pad(cells, 1)
    zyx, triangles, _, _ = marching_cubes(padded, 127.5)  # type: ignore[no-untyped-call]
    steps = np.array((fx, fy, fz))
    index = (zyx[:, ::-1] - 1) * steps + (steps - 1) / 2 + (low[0], low[1], first)
    return _surface(origin + index * spacing, triangles, request)


def _surface(points: np.ndarray, triangles: np.ndarray, request: ShellRequest) -> Shell:
    a, b, c = (points[triangles[:, n]] for n in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-9)
    # Outwards: the signed volume of an outward surface is positive.
    if len(triangles) and float(np.einsum("ij,ij->", a, np.cross(b, c))) < 0:
        normals = -normals
    return Shell(
        own_array(points.astype(np.float32)),
        own_array(triangles.astype(np.int32)),
        own_array(normals.astype(np.float32)),
        request.fingerprint,
    )


def warm_up() -> None:
    """Compile (or load from the cache) the kernels the screen thread will call."""
    from engine.volumes.shell_kernels import draw, lay_over

    depth, image = np.zeros((1, 1), dtype=np.float32), np.zeros((1, 1, 3), dtype=np.uint8)
    points, triangles = np.zeros((3, 3), dtype=np.float32), own_array(np.zeros((1, 3), dtype=np.int32))
    draw(points, triangles, np.zeros(1, dtype=np.float32), np.zeros(3), depth, image)
    lay_over(depth, image, depth, image, 0.5)
