"""Dose of one beam: the story read top to bottom."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.progress import Report, part, quiet
from engine.base.values import own_array
from engine.beams.beam import Beam
from engine.beams.fluence import fluence_map
from engine.beams.limits import refuse_nonsense
from engine.beams.machine import Machine
from engine.dose.attenuation import DensityRule, density_rule
from engine.dose.collapse import transport
from engine.dose.dose import Dose
from engine.dose.kernels import beam_kernel
from engine.dose.monitor import gy_at_maximum, gy_per_unit
from engine.dose.request import DoseRequest
from engine.dose.source import contaminant_curve, spectrum
from engine.dose.terma import beam_axes, rays_of, released, trace_fan
from engine.dose.wedge_effect import wedged
from engine.image.density import Density
from engine.space.grid import Grid
from engine.space.sampling import box_average

Volume = NDArray[np.float32]

AIR_G_CM3 = 0.00121
_MATTER_G_CM3 = 0.05
# Scatter from further off adds less than 0.3 % of the axis dose.
_REACH_MM = 120.0
_EMPTY_G_CM3 = 1e-4


@dataclass(frozen=True)
class Medium:
    """Densities ready for one machine's spectrum.

    Parameters
    ----------
    g_cm3 : mass density on `grid`
    water_g_cm3 : density of water that attenuates the spectrum alike
    grid : transport grid: the dose grid and what matters around it
    trace_g_cm3, trace_grid : as `water_g_cm3`, covering all matter upstream; often the same
    """

    g_cm3: Volume
    water_g_cm3: Volume
    grid: Grid
    trace_g_cm3: Volume
    trace_grid: Grid
    patient_position: str


def calculate(request: DoseRequest, report: Report = quiet) -> Dose:
    """Return the dose of one beam in Gy per MU.

    Raises
    ------
    InputError
        If the machine cannot do what the beam asks and no dose would mean anything (see ``beams.limits``).
    GeometryError
        If the patient's density and the dose grid do not meet, or the source lies inside the patient.
    Cancelled
        Whenever `report` raises it.
    """
    refuse_nonsense(request.beam, request.machine)
    report(0.0, "Densities")
    medium = _medium(request.density, request.grid, request.machine)
    gy = beam_dose(medium, request.beam, request.machine, part(report, 0.05, 1.0))
    if request.report_to == "water":
        gy = gy * rule(request.machine).dose_to_water(medium.g_cm3).astype(np.float32)
    return Dose(own_array(gy[_inside(medium.grid, request.grid)]), request.grid, request.fingerprint, request.quality)


def beam_dose(medium: Medium, beam: Beam, machine: Machine, report: Report = quiet) -> Volume:
    """Return Gy per MU, dose to medium, on the transport grid."""
    energy, soft = beam_energy(medium, beam, machine, report)
    gy = energy * np.float32(gy_per_unit(machine, _reference_depth_dose))
    if soft.size:
        gy += np.float32(gy_at_maximum(machine, _reference_depth_dose) * machine.contamination_share) * soft
    return gy


def beam_energy(medium: Medium, beam: Beam, machine: Machine, report: Report = quiet) -> tuple[Volume, Volume]:
    """Return dose per unit energy fluence (cm2/g) and relative contaminant dose (empty without), on the transport grid."""
    kernel = beam_kernel(machine)
    grid, rho = medium.grid, medium.water_g_cm3
    to_beam = beam_axes(beam, medium.patient_position)
    rays = rays_of(grid, beam, to_beam, machine.sad_mm)
    fan = trace_fan(medium.trace_g_cm3, medium.trace_grid, grid, beam, to_beam, machine.sad_mm, part(report, 0.0, 0.15))
    # The second moment of a voxel seen from any side, so that an edge blurs alike at every gantry angle.
    blur_mm = float(np.sqrt(np.mean(np.square(grid.spacing_mm)) / 12))
    field = wedged(fluence_map(beam.aperture, machine, blur_mm), beam, machine)
    table, soft = kernel.release, contaminant_curve(machine)
    out = released(rho, grid, rays, fan, table, field, beam, machine.sad_mm, soft, part(report, 0.15, 0.3))
    deposit = transport(
        rho,
        out.primary,
        out.scatter,
        tuple(s / 10 for s in grid.spacing_mm[::-1]),  # type: ignore[arg-type]
        (kernel.directions @ to_beam)[:, ::-1],
        kernel.weights,
        kernel.shares,
        kernel.attenuation_cm2_g,
        rays,
        part(report, 0.3, 1.0),
    )
    mass = np.maximum(medium.g_cm3, np.float32(_EMPTY_G_CM3))
    return (deposit / mass).astype(np.float32), out.contamination


@lru_cache(maxsize=16)
def rule(machine: Machine) -> DensityRule:
    """Return how coefficients follow density for a machine's spectrum."""
    beam = spectrum(machine)
    return density_rule(beam.energy_mev, beam.energy_fluence)


def medium_of(g_cm3: Volume, grid: Grid, machine: Machine, patient_position: str = "HFS") -> Medium:
    """Return a medium from densities that lie on the transport grid already and hold all matter."""
    water = _as_water(g_cm3, machine)
    return Medium(g_cm3, water, grid, water, grid, patient_position)


def _as_water(g_cm3: Volume, machine: Machine) -> Volume:
    return (g_cm3 * rule(machine).relative_attenuation(g_cm3)).astype(np.float32)


@lru_cache(maxsize=3)
def _medium(source: Density, grid: Grid, machine: Machine) -> Medium:
    """Average the patient's density onto the transport grid; remembered for further beams."""
    density = source.resolve()
    box = _matter_box(density)
    if box is None:
        wide, all_matter = grid, grid
    else:
        wide, all_matter = _widened(grid, box, _REACH_MM), _widened(grid, box, np.inf)
    lo, hi = density.grid.bounds_mm
    if any(b <= c or d <= a for a, b, c, d in zip(lo, hi, *grid.bounds_mm, strict=True)):
        raise GeometryError("the dose grid lies outside the image", do="Choose a dose grid over the patient.")
    rho = box_average(density.g_cm3, density.grid, wide, AIR_G_CM3)
    water = _as_water(rho, machine)
    if all_matter == wide:
        return Medium(rho, water, wide, water, wide, density.patient_position)
    coarse = all_matter.covering(*all_matter.bounds_mm, max(2.5, *grid.spacing_mm))
    trace = _as_water(box_average(density.g_cm3, density.grid, coarse, AIR_G_CM3), machine)
    return Medium(rho, water, wide, trace, coarse, density.patient_position)


def _matter_box(density: Density) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
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
    return tuple(lo[::-1]), tuple(hi[::-1])


def _widened(grid: Grid, box: tuple[tuple[float, ...], tuple[float, ...]], reach_mm: float) -> Grid:
    """Return the grid grown by whole voxels towards a box, by at most `reach_mm` on each side."""
    lo, hi = grid.bounds_mm
    before = [
        max(0, int(np.ceil(min(a - b, reach_mm) / s - 0.01))) for a, b, s in zip(lo, box[0], grid.spacing_mm, strict=True)
    ]
    after = [
        max(0, int(np.ceil(min(b - a, reach_mm) / s - 0.01))) for a, b, s in zip(hi, box[1], grid.spacing_mm, strict=True)
    ]
    if not any(before) and not any(after):
        return grid
    origin = tuple(o - n * s for o, n, s in zip(grid.origin_mm, before, grid.spacing_mm, strict=True))
    shape = tuple(n + a + b for n, a, b in zip(grid.shape, before[::-1], after[::-1], strict=True))
    return Grid(origin, grid.spacing_mm, shape)  # type: ignore[arg-type]


def _inside(wide: Grid, grid: Grid) -> tuple[slice, slice, slice]:
    """Return where a grid lies in the wider one it was grown to."""
    start = [round((a - b) / s) for a, b, s in zip(grid.origin_mm, wide.origin_mm, grid.spacing_mm, strict=True)]
    return tuple(slice(a, a + n) for a, n in zip(start[::-1], grid.shape, strict=True))  # type: ignore[return-value]


def _reference_depth_dose(machine: Machine) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return depth (mm), dose per unit fluence and relative contamination on the axis of the reference beam in water.

    Field, distance and depth as the machine's calibration says; see ``monitor``.
    """
    from engine.beams.beam import Aperture

    step, reach, half = 2.5, 60.0, machine.calibration_field_mm / 2
    ssd, deepest = machine.calibration_ssd_mm, max(100.0, machine.calibration_depth_mm)
    across = 2 * int(np.ceil((half * ssd / machine.sad_mm + reach) / step))
    deep = int(np.ceil((deepest + reach) / step))
    edge = (across - 1) * step / 2
    grid = Grid((-edge, step / 2, -edge), (step,) * 3, (across, deep, across))
    water = np.ones(grid.shape, dtype=np.float32)
    isocentre = (0.0, machine.sad_mm - ssd, 0.0)
    beam = Beam("", "", machine.name, isocentre, 0.0, 0.0, 0.0, Aperture((-half, half), (-half, half)))
    energy, soft = beam_energy(medium_of(water, grid, machine), beam, machine)
    middle = slice(across // 2 - 1, across // 2 + 1)
    axis = energy[middle, :, middle].mean(axis=(0, 2)).astype(np.float64)
    other = soft[middle, :, middle].mean(axis=(0, 2)).astype(np.float64) if soft.size else np.zeros(deep)
    return grid.y_mm, axis, other
