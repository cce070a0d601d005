"""Shapes and doses whose dose-volume curves are known in closed form."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.dose.dose import Dose
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume
from tests.support.phantoms import grid_of

Field = Callable[[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]], NDArray[np.float64]]


def coverage_of(grid: Grid, inside: Callable[..., NDArray[np.bool_]], fine: int = 6) -> Coverage:
    """Return a solid as it would be drawn: the share of each pixel inside its section at the plane's centre.

    `inside` takes x, y (arrays) and z in mm; each pixel is tried at fine x fine points.
    """
    sub = (np.arange(fine) + 0.5) / fine - 0.5
    x = (grid.x_mm[:, None] + sub * grid.spacing_mm[0]).ravel()
    y = (grid.y_mm[:, None] + sub * grid.spacing_mm[1]).ravel()
    data = np.zeros(grid.shape, dtype=np.uint8)
    for k, z in enumerate(grid.z_mm):
        hit = np.broadcast_to(inside(x[None, :], y[:, None], z), (len(y), len(x)))
        share = hit.reshape(grid.shape[1], fine, grid.shape[2], fine).mean(axis=(1, 3))
        data[k] = np.rint(255 * share)
    return Coverage.from_dense(grid, data)


def dose_of(field: Field, size_mm: float = 80.0, spacing_mm: float = 2.0, inputs: str = "") -> Dose:
    """Return a dose sampled from a function of x, y, z on a cube about the origin."""
    grid = grid_of((size_mm,) * 3, spacing_mm)
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    return Dose(own_array(field(x, y, z).astype(np.float32) + np.zeros(grid.shape, np.float32)), grid, inputs)


def as_volume(coverage: Coverage, key: str = "v", role: str = "OAR") -> Volume:
    """Return a named volume of a coverage."""
    return Volume(key, key, role, (0, 0, 0), coverage)
