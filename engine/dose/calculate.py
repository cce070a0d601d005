"""Dose of one beam: the story read top to bottom."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, part, quiet
from engine.base.values import own_array
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.delivery import Still, stills
from engine.beams.fluence import FluenceMap, mixed
from engine.beams.limits import refuse_nonsense
from engine.beams.machine import Machine
from engine.dose.collapse import transport
from engine.dose.dose import Dose
from engine.dose.fan import NOWHERE, Fan, Window, fan_of, fill, window_of
from engine.dose.gather import gather
from engine.dose.kernels import beam_kernel
from engine.dose.medium import COARSE_MM, NARROW_COARSE_MM, NARROW_MM, Medium, medium_of, to_report
from engine.dose.monitor import gy_at_maximum, gy_per_unit
from engine.dose.request import DoseRequest
from engine.dose.rows import settle
from engine.dose.sight import Sight, sight_of
from engine.dose.source import contaminant_curve
from engine.dose.terma import Depths, released, trace
from engine.dose.threads import keep_memory
from engine.dose.wedge_effect import wedged
from engine.image.density import Density
from engine.space.grid import Grid

Volume = NDArray[np.float32]

_NOTHING = np.empty((0, 0, 0), np.float32)


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
    keep_memory()
    machine = request.machine
    refuse_nonsense(request.beam, machine)
    report(0.0, say("Densities"))
    factor = to_report(request.density, request.grid, machine, request.report_to)
    per_unit = gy_per_unit(machine, _reference_depth_dose)
    scale = per_unit, gy_at_maximum(machine, _reference_depth_dose) * machine.contamination_share
    steps = stills(request.beam)
    gy: Volume | None = None
    for n, still in enumerate(steps):
        along = part(report, 0.05 + 0.95 * n / len(steps), 0.05 + 0.95 * (n + 1) / len(steps))
        medium = medium_of(request.density, machine, _coarse_mm(still))
        one = beam_dose(medium, request.grid, request.beam, still, machine, factor, scale, along)
        if gy is None:
            gy = one
        else:
            gy += one
    assert gy is not None
    return Dose(own_array(gy), request.grid, request.fingerprint, request.quality)


def _coarse_mm(still: Still) -> float:
    window = window_of([aperture for _, aperture in still.openings])
    width = min(b - a for a, b in (window.x_mm, window.y_mm)) if window else NARROW_MM
    return NARROW_COARSE_MM if width < NARROW_MM else COARSE_MM


def beam_dose(
    medium: Medium,
    wanted: Grid,
    beam: Beam,
    still: Still,
    machine: Machine,
    factor: Volume,
    scale: tuple[float, float],
    report: Report = quiet,
) -> Volume:
    """Return the dose at the voxels of `wanted` that a beam gives from one gantry angle, for the shares given there.

    Parameters
    ----------
    factor : by voxel of `wanted`, from dose to water that attenuates alike to what is reported
    scale : what one unit of energy dose (cm2/g per unit energy fluence) and of relative contaminant dose are worth
    """
    sight = sight_of(beam.at(still.gantry_deg), medium.patient_position, machine.sad_mm)
    window = window_of([aperture for _, aperture in still.openings])
    fan = fan_of(window, sight, medium.coarse_g_cm3, medium.coarse, wanted) if window else None
    # The second moment of a cell, so that an edge moves smoothly through the cells.
    cell_mm = fan.step_mm if fan else min(medium.coarse.spacing_mm)
    field = wedged(mixed(still.openings, machine, float(cell_mm / np.sqrt(12)), cell_mm), beam, machine)
    # Side by side, because each has steps that only one thread can do.
    with ThreadPoolExecutor(max_workers=1) as beside:
        far = beside.submit(_far_dose, medium, machine, sight, field, window if fan else None, scale)
        near, rho = _near_dose(medium, machine, sight, field, window, fan, scale, part(report, 0.0, 0.85))
        around = far.result()
    return gather(wanted, around, medium.coarse, near, rho, fan, sight, factor, part(report, 0.85, 1.0))


def _near_dose(
    medium: Medium,
    machine: Machine,
    sight: Sight,
    field: FluenceMap,
    window: Window | None,
    fan: Fan | None,
    scale: tuple[float, float],
    report: Report,
) -> tuple[Volume, Volume]:
    """Return dose and density in the cells of the fan: primary energy and contaminants near the field."""
    if fan is None or window is None:
        return _NOTHING, _NOTHING
    kernel = beam_kernel(machine)
    curve = contaminant_curve(machine)
    cells = fill(fan, sight, medium, kernel.release, field, window, curve, part(report, 0.0, 0.2))
    cell_cm = fan.step_mm / 10
    dose = transport(cells.rho, cells.energy, (cell_cm,) * 3, kernel.primary, None, part(report, 0.2, 1.0))
    # Density was scaled by t / SAD; a cell's volume grows with the cube of it.
    grown = fan.first[2] / sight.sad_mm * np.exp(fan.step_mm / sight.sad_mm * np.arange(fan.shape[0]))
    gain = (scale[0] / grown**2).astype(np.float32)
    settle(dose, cells.rho, gain, _NOTHING, cells.soft, np.float32(scale[1]))
    return dose, cells.rho


def _far_dose(
    medium: Medium,
    machine: Machine,
    sight: Sight,
    field: FluenceMap,
    window: Window | None,
    scale: tuple[float, float],
) -> Volume:
    """Return dose on the coarse grid: scatter, and what the fan does not follow."""
    kernel = beam_kernel(machine)
    depths = _depths(medium, sight)
    edges = window.numbers() if window else NOWHERE
    wide = released(
        *(medium.coarse_g_cm3, medium.coarse, depths, sight, kernel.release, field, edges, contaminant_curve(machine))
    )
    on_lattice = replace(kernel.scatter, directions=(kernel.scatter.directions @ sight.to_device)[:, ::-1])
    z, y, x = (s / 10 for s in medium.coarse.spacing_mm[::-1])
    dose = transport(medium.coarse_g_cm3, wide.scatter, (z, y, x), on_lattice, sight.forms(medium.coarse))
    gain = np.full(dose.shape[0], scale[0], np.float32)
    settle(dose, medium.coarse_g_cm3, gain, wide.primary, wide.contamination, np.float32(scale[1]))
    return dose


@lru_cache(maxsize=2)
def _depths(medium: Medium, sight: Sight) -> Depths:
    """Return the depths of the coarse voxels; remembered for a hand that moves a leaf or a jaw."""
    return trace(medium.coarse_g_cm3, medium.coarse, medium.coarse, sight)


def _reference_depth_dose(machine: Machine) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return depth (mm), dose per unit fluence and relative contamination on the axis of the reference beam in water.

    Field, distance and depth as the machine's calibration says; see ``monitor``.
    """
    # The box is wide and deep enough that more water would add less than 0.1 % of scatter.
    step, reach, half = 2.5, 100.0, machine.calibration_field_mm / 2
    ssd, deepest = machine.calibration_ssd_mm, max(100.0, machine.calibration_depth_mm)
    across = 2 * int(np.ceil((half * ssd / machine.sad_mm + reach) / step))
    deep = int(np.ceil((deepest + reach) / step))
    edge = (across - 1) * step / 2
    box = Grid((-edge, step / 2, -edge), (step,) * 3, (across, deep, across))
    water = Density(own_array(np.ones(box.shape, dtype=np.float32)), box)
    isocentre = (0.0, machine.sad_mm - ssd, 0.0)
    beam = Beam("", "", machine.name, isocentre, 0.0, 0.0, 0.0, Aperture((-half, half), (-half, half)))
    (still,) = stills(beam)
    axis = Grid((0.0, step / 2, 0.0), (step,) * 3, (1, deep, 1))
    one = np.ones(axis.shape, np.float32)
    energy, soft = (
        beam_dose(medium_of(water, machine, _coarse_mm(still)), axis, beam, still, machine, one, scale)[0, :, 0].astype(
            np.float64
        )
        for scale in ((1.0, 0.0), (0.0, 1.0))
    )
    return axis.y_mm, energy, soft
