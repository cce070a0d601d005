"""The patient as transport sees it: densities on two grids of its own, whatever dose grid is asked for.

A dose grid only says where the dose is read. Transport runs on grids that follow the patient, so that no result moves
with the phase or the spacing of the dose grid, and everything here is remembered for the next beam.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.words import say
from engine.beams.machine import Machine
from engine.dose.attenuation import DensityRule, density_rule
from engine.dose.source import spectrum
from engine.image.density import Density
from engine.space.grid import Grid, Point
from engine.space.sampling import box_average

Volume = NDArray[np.float32]
Steps = NDArray[np.uint16]

AIR_G_CM3 = 0.00121
_MATTER_G_CM3 = 0.05
_MOST_STEPS = 65535
# The image's own voxels, taken together to about this: surfaces are where they are.
_FINE_MM = 1.0
# Where scatter travels. It has no detail below this, but in a field not much wider the blur of its own voxels counts.
COARSE_MM, NARROW_COARSE_MM, NARROW_MM = 5.0, 2.5, 40.0


@dataclass(frozen=True, eq=False)
class Medium:
    """Densities ready for one machine's spectrum, air around them.

    Parameters
    ----------
    water : density of water that attenuates the spectrum alike, on `grid` (voxels of the image, or of about 1 mm), in steps
        of `step_g_cm3`: rays through a large image wait for memory, and whole numbers take half of it
    step_g_cm3 : a power of 2, so that water itself is met exactly; at most 1/32767 of the densest
    coarse_g_cm3 : the same on `coarse` (about 5 mm): where scatter travels
    """

    water: Steps
    step_g_cm3: float
    grid: Grid
    coarse_g_cm3: Volume
    coarse: Grid
    patient_position: str


@lru_cache(maxsize=16)
def rule(machine: Machine) -> DensityRule:
    """Return how coefficients follow density for a machine's spectrum."""
    beam = spectrum(machine)
    return density_rule(beam.energy_mev, beam.energy_fluence)


@lru_cache(maxsize=4)
def medium_of(source: Density, machine: Machine, coarse_mm: float = COARSE_MM) -> Medium:
    """Return the medium of a density (anything with ``resolve()``); remembered for further beams.

    Parameters
    ----------
    coarse_mm : about the spacing of the coarse grid
    """
    water, unit, fine, lo, hi = _fine(source, machine)
    many = [max(1, round(coarse_mm / s)) for s in fine.spacing_mm]
    cells = [int(np.ceil((b - a) / (s * n) - 1e-6)) + 2 for a, b, s, n in zip(lo, hi, fine.spacing_mm, many, strict=True)]
    step = [s * n for s, n in zip(fine.spacing_mm, many, strict=True)]
    coarse = _about(lo, hi, step, cells)
    position = source.resolve().patient_position
    loose = water * np.float32(unit)
    return Medium(water, unit, fine, box_average(loose, fine, coarse, AIR_G_CM3), coarse, position)


@lru_cache(maxsize=2)
def _fine(source: Density, machine: Machine) -> tuple[Steps, float, Grid, Point, Point]:
    """Return densities of water alike on image voxels taken together, in steps; the step, the grid, the matter's box."""
    density = source.resolve()
    image = density.grid
    lo, hi = _matter_box(density) or image.bounds_mm
    step = [s * max(1, round(_FINE_MM / s)) for s in image.spacing_mm]
    cells = [int(np.ceil((b - a) / s - 1e-6)) + 4 for a, b, s in zip(lo, hi, step, strict=True)]
    fine = _about(lo, hi, step, cells)
    water = _as_water(box_average(density.g_cm3, image, fine, AIR_G_CM3), machine)
    unit = float(2.0 ** np.ceil(np.log2(max(float(water.max()), AIR_G_CM3) / _MOST_STEPS)))
    return np.rint(water / np.float32(unit)).astype(np.uint16), unit, fine, lo, hi


@lru_cache(maxsize=4)
def to_report(source: Density, grid: Grid, machine: Machine, report_to: str) -> Volume:
    """Return the factor from dose to attenuating-alike water to dose to medium or to water, on a dose grid.

    Raises
    ------
    GeometryError
        If the dose grid lies outside the image.
    """
    density = source.resolve()
    lo, hi = density.grid.bounds_mm
    if any(b <= c or d <= a for a, b, c, d in zip(lo, hi, *grid.bounds_mm, strict=True)):
        raise GeometryError(say("the dose grid lies outside the image"), do=say("Choose a dose grid over the patient."))
    grams = box_average(density.g_cm3, density.grid, grid, AIR_G_CM3)
    # The fluence is that in water that attenuates alike; what of it stays is the medium's own share.
    factor = rule(machine).relative_kerma(grams)
    if report_to == "water":
        factor = factor * rule(machine).dose_to_water(grams)
    return factor.astype(np.float32)


def _as_water(g_cm3: Volume, machine: Machine) -> Volume:
    of_density = rule(machine)
    out = np.empty_like(g_cm3)
    for k, plane in enumerate(g_cm3):
        out[k] = plane * of_density.relative_attenuation(plane)
    return out


def _about(lo: Point, hi: Point, spacing_mm: list[float], counts: list[int]) -> Grid:
    """Return a grid about the middle of a box, so that a body that is its own mirror image stays so."""
    origin = tuple((a + b - (n - 1) * s) / 2 for a, b, s, n in zip(lo, hi, spacing_mm, counts, strict=True))
    return Grid(origin, tuple(spacing_mm), tuple(counts[::-1]))  # type: ignore[arg-type]


def _matter_box(density: Density) -> tuple[Point, Point] | None:
    """Return the box around all voxels denser than air."""
    lo, hi = [], []
    solid = density.g_cm3 > _MATTER_G_CM3
    for axis, (a, b) in enumerate(((1, 2), (0, 2), (0, 1))):
        some = np.flatnonzero(solid.any(axis=(a, b)))
        if some.size == 0:
            return None
        first = density.grid.bounds_mm[0][2 - axis]
        step = density.grid.spacing_mm[2 - axis]
        lo.append(first + step * some[0])
        hi.append(first + step * (some[-1] + 1))
    return (lo[2], lo[1], lo[0]), (hi[2], hi[1], hi[0])
