"""Water and slab phantoms as densities, plain beams, and axis doses: what every test of transport needs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.beams.machine_file import load_machine
from engine.dose.calculate import calculate
from engine.dose.dose import Dose
from engine.dose.request import DoseRequest
from engine.image.density import Density
from engine.space.grid import Grid

Triple = tuple[float, float, float]


def phantom_grid(size_mm: Triple, spacing_mm: float | Triple) -> Grid:
    """Return a grid of `size_mm` (x, y, z), centred in x and z, whose anterior face is y = 0."""
    h = (float(spacing_mm),) * 3 if isinstance(spacing_mm, (int, float)) else spacing_mm
    n = [round(a / b) for a, b in zip(size_mm, h)]
    return Grid((-(n[0] - 1) * h[0] / 2, h[1] / 2, -(n[2] - 1) * h[2] / 2), h, (n[2], n[1], n[0]))


@lru_cache(maxsize=8)
def water(
    size_mm: Triple = (240.0, 240.0, 240.0), spacing_mm: float | Triple = 4.0, patient_position: str = "HFS"
) -> Density:
    """Return a box of water that a beam from gantry 0 (HFS) enters at y = 0."""
    grid = phantom_grid(size_mm, spacing_mm)
    return Density(own_array(np.ones(grid.shape, dtype=np.float32)), grid, patient_position)


def slabs(layers: Sequence[tuple[float, float]], size_mm: Triple, spacing_mm: float) -> Density:
    """Return layers of (mm, g/cm3) from y = 0 down, water below them; a voxel across a border holds its mean mass."""
    grid = phantom_grid(size_mm, spacing_mm)
    edges = spacing_mm * np.arange(grid.shape[1] + 1)
    column = np.ones(grid.shape[1])
    top = 0.0
    for thick, density in layers:
        share = np.clip(np.minimum(edges[1:], top + thick) - np.maximum(edges[:-1], top), 0, None) / spacing_mm
        column += share * (density - 1)
        top += thick
    return Density(own_array(np.broadcast_to(column[None, :, None], grid.shape).astype(np.float32)), grid)


def square(side_mm: float) -> Aperture:
    """Return a square field about the axis, jaws only."""
    return Aperture((-side_mm / 2, side_mm / 2), (-side_mm / 2, side_mm / 2))


def beam(
    aperture: Aperture | float = 100.0,
    isocentre_mm: Triple = (0.0, 0.0, 0.0),
    gantry_deg: float = 0.0,
    collimator_deg: float = 0.0,
    couch_deg: float = 0.0,
) -> Beam:
    """Return a beam without name; a number is a square field."""
    shape = aperture if isinstance(aperture, Aperture) else square(aperture)
    return Beam("", "", "any", isocentre_mm, gantry_deg, collimator_deg, couch_deg, shape)


def dose(density: Density, one: Beam, machine: Machine | str = "point-6", grid: Grid | None = None, **more: str) -> Dose:
    """Return the dose of a beam on a grid (the density's own unless given)."""
    of = load_machine(machine) if isinstance(machine, str) else machine
    return calculate(DoseRequest(density, one, of, grid or density.grid, **more))


def axis(result: Dose) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return y (mm) and dose along the middle column of a phantom with an even number of voxels across."""
    k, i = result.gy.shape[0] // 2, result.gy.shape[2] // 2
    return result.grid.y_mm, result.gy[k - 1 : k + 1, :, i - 1 : i + 1].astype(np.float64).mean(axis=(0, 2))


def at_depth(curve: tuple[NDArray[np.float64], NDArray[np.float64]], depth_mm: float) -> float:
    """Return the dose at a depth, by interpolation of the logarithm."""
    return float(np.exp(np.interp(depth_mm, curve[0], np.log(curve[1]))))


@lru_cache(maxsize=32)
def axis_in_water(side_mm: float, machine: str = "point-6", wide_mm: float = 560.0, spacing_mm: float = 4.0):  # type: ignore[no-untyped-def]
    """Return (y, dose) on the axis of a square field at the surface of a wide water phantom, SSD 1000 mm."""
    return axis(dose(water((wide_mm, 300.0, wide_mm), spacing_mm), beam(side_mm), machine))
