"""Dose of a machine in a water tank, along the lines on which beam data are measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.interpolate import make_interp_spline
from scipy.ndimage import map_coordinates

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import own_array
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.dose.calculate import calculate
from engine.dose.request import DoseRequest
from engine.image.density import Density
from engine.space.grid import Grid

Floats = NDArray[np.float64]

AXES = ("x", "y")
# Water to the side and below that still changes what is measured: side scatter and back-scatter.
_SIDE_MM, _BELOW_MM = 60.0, 50.0
_SHALLOW_MM, _SHALLOW_STEP_MM, _JOIN_MM = 60.0, 1.0, 24.0
_SIGMA_PER_FWHM = 1 / (2 * np.sqrt(2 * np.log(2)))


@dataclass(frozen=True)
class Setup:
    """One field on a water tank.

    Parameters
    ----------
    field_mm : (X, Y) sides at the isocentre plane, about the axis
    ssd_mm : from the focal spot to the water
    edges : "jaws" or "leaves": what forms the X edges
    """

    field_mm: tuple[float, float]
    ssd_mm: float = 1000.0
    edges: str = "jaws"


@dataclass(frozen=True)
class TankDose:
    """Gy per MU in a water tank: x and z across (z is Y of the collimator at gantry 0), depth downward."""

    gy: NDArray[np.float32]
    grid: Grid

    def profile(self, axis: str, depth_mm: float, position_mm: ArrayLike, aside_mm: float = 0.0) -> Floats:
        """Return Gy per MU along X or Y at a depth, `aside_mm` off the axis on the other one; cubic between voxels."""
        across = self.grid.x_mm if axis == "x" else self.grid.z_mm
        points = np.zeros((across.size, 3))
        points[:, 0 if axis == "x" else 2] = across
        points[:, 2 if axis == "x" else 0] = aside_mm
        points[:, 1] = depth_mm
        return np.asarray(make_interp_spline(across, self._linear(points), 3)(np.asarray(position_mm, float)))

    def depth_dose(self, depth_mm: ArrayLike) -> Floats:
        """Return Gy per MU on the axis; cubic between voxels, the end slopes held beyond."""
        depth = self.grid.y_mm
        points = np.zeros((depth.size, 3))
        points[:, 1] = depth
        return _curve(depth, self._linear(points), np.asarray(depth_mm, float))

    def _linear(self, points: Floats) -> Floats:
        return np.asarray(
            map_coordinates(self.gy, self.grid.index(points).T, np.float64, order=1, mode="nearest"), dtype=np.float64
        )


@dataclass(frozen=True)
class AxisDose:
    """Depth dose of two tanks: a fine one for the build-up, joined to the deep one."""

    depth_mm: Floats
    gy: Floats

    def at(self, depth_mm: ArrayLike) -> Floats:
        """Return Gy per MU at depths."""
        return _curve(self.depth_mm, self.gy, np.asarray(depth_mm, float))


def _curve(x: Floats, y: Floats, at: Floats) -> Floats:
    inside = np.clip(at, x[0], x[-1])
    values = np.asarray(make_interp_spline(x, y, 3)(inside))
    first, last = (y[1] - y[0]) / (x[1] - x[0]), (y[-1] - y[-2]) / (x[-1] - x[-2])
    return np.maximum(values + (at - inside) * np.where(at < x[0], first, last), 0.0)


def aperture_of(machine: Machine, setup: Setup) -> Aperture:
    """Return jaws and leaves of a field.

    Raises
    ------
    InputError
        If the field is larger than the machine's, or the machine has no leaves to form it.
    """
    half_x, half_y = setup.field_mm[0] / 2, setup.field_mm[1] / 2
    limit = machine.field_limit_mm
    if max(half_x, half_y) > limit + 1e-6:
        raise InputError(
            say("a field of {x:g} × {y:g} mm is larger than {limit:g} mm",
                x=setup.field_mm[0], y=setup.field_mm[1], limit=2 * limit),
            say("machine {name}", name=machine.name),
        )  # fmt: skip
    if setup.edges != "leaves":
        return Aperture((-half_x, half_x), (-half_y, half_y))
    edges = machine.leaf_edges_mm
    if not edges:
        raise InputError("it has no leaves to form a field", say("machine {name}", name=machine.name))
    back = min(half_x + 20.0, limit)
    open_pair = [hi > -half_y and lo < half_y for lo, hi in pairwise(edges)]
    leaves = tuple((-half_x, half_x) if is_open else (0.0, 0.0) for is_open in open_pair)
    return Aperture((-back, back), (-half_y, half_y), edges, leaves)


def edge_distance_mm(machine: Machine, axis: str, edges: str = "jaws") -> float:
    """Return the distance from the focal spot of what forms a field's edge along an axis."""
    if axis == "x" and edges == "leaves":
        return machine.leaf_distance_mm
    return machine.upper_jaw_mm if machine.upper_jaws == axis.upper() else machine.lower_jaw_mm


def tank_grid(setup: Setup, deepest_mm: float, spacing_mm: Sequence[float], sad_mm: float = 1000.0) -> Grid:
    """Return the grid of a tank that holds a field to a depth, with an even number of voxels across.

    Parameters
    ----------
    spacing_mm : (x, depth, z)
    """
    depth = deepest_mm + _BELOW_MM
    size = [f * (setup.ssd_mm + depth) / sad_mm + 2 * _SIDE_MM for f in setup.field_mm]
    nx, nz = (2 * int(np.ceil(s / h / 2)) for s, h in zip(size, (spacing_mm[0], spacing_mm[2]), strict=True))
    ny = int(np.ceil(depth / spacing_mm[1]))
    origin = (-(nx - 1) * spacing_mm[0] / 2, spacing_mm[1] / 2, -(nz - 1) * spacing_mm[2] / 2)
    return Grid(origin, tuple(spacing_mm), (nz, ny, nx))  # type: ignore[arg-type]


def scan_grid(setup: Setup, axis: str, deepest_mm: float, sad_mm: float = 1000.0) -> Grid:
    """Return the grid of a tank that resolves the edges of profiles along an axis: fine along it, coarser across.

    Its voxels must blur less than the focal spot does, and leaves, nearer to the patient, show the spot smaller.
    """
    side = setup.field_mm[0 if axis == "x" else 1]
    leaves = axis == "x" and setup.edges == "leaves"
    fine = float(np.clip(side / 100.0, 1.0 if leaves else 1.25, 2.0))
    across = float(np.clip(max(setup.field_mm) / 50.0, 2.0 if leaves else 2.5, 3.5))
    return tank_grid(setup, deepest_mm, (fine, 2.0, across) if axis == "x" else (across, 2.0, fine), sad_mm)


def axis_grid(setup: Setup, deepest_mm: float, sad_mm: float = 1000.0) -> Grid:
    """Return the grid of a tank that is good enough for what lies on the axis."""
    step = float(np.clip(round(max(setup.field_mm) / 80.0, 1), 2.5, 4.0))
    return tank_grid(setup, deepest_mm, (step, 2.5, step), sad_mm)


def tank_dose(
    machine: Machine, setup: Setup, aperture: Aperture, grid: Grid, detector_mm: float = 0.0, report: Report = quiet
) -> TankDose:
    """Return the dose of a field in a tank.

    The detector's width is added to the focal spot, so that an edge is seen as the detector reads it.

    Parameters
    ----------
    detector_mm : width of the detector along the scan
    """
    seen = machine
    if detector_mm:
        spot = []
        for fwhm, axis in zip(machine.focal_fwhm_mm, AXES, strict=True):
            distance = edge_distance_mm(machine, axis, setup.edges)
            scale = (machine.sad_mm - distance) / distance * _SIGMA_PER_FWHM
            spot.append(float(np.sqrt((fwhm * scale) ** 2 + detector_mm**2 / 12) / scale))
        seen = machine.but(focal_fwhm_mm=tuple(spot))
    beam = Beam("", "", machine.name, (0.0, machine.sad_mm - setup.ssd_mm, 0.0), 0.0, 0.0, 0.0, aperture)
    water = Density(own_array(np.ones(grid.shape, dtype=np.float32)), grid)
    report(0.0, say("field {x:g} × {y:g} mm", x=setup.field_mm[0], y=setup.field_mm[1]))
    return TankDose(calculate(DoseRequest(water, beam, seen, grid), part(report, 0.1, 1.0)).gy, grid)


def axis_dose(
    machine: Machine, setup: Setup, deepest_mm: float, deep: TankDose | None = None, report: Report = quiet
) -> AxisDose:
    """Return the depth dose with a resolved build-up.

    Parameters
    ----------
    deep : the dose of the same field in a tank to `deepest_mm`, if it is known already
    """
    aperture = aperture_of(machine, setup)
    if deep is None:
        grid = axis_grid(setup, deepest_mm, machine.sad_mm)
        deep = tank_dose(machine, setup, aperture, grid, 0.0, part(report, 0.0, 0.7))
    shallow = tank_grid(setup, _SHALLOW_MM, (4.0, _SHALLOW_STEP_MM, 4.0), machine.sad_mm)
    top = tank_dose(machine, setup, aperture, shallow, 0.0, part(report, 0.7, 1.0))
    fine = np.arange(_SHALLOW_STEP_MM / 2, _JOIN_MM, _SHALLOW_STEP_MM)
    join = float(deep.depth_dose(_JOIN_MM) / top.depth_dose(_JOIN_MM))
    rest = deep.grid.y_mm[deep.grid.y_mm > _JOIN_MM]
    return AxisDose(np.concatenate([fine, rest]), np.concatenate([join * top.depth_dose(fine), deep.depth_dose(rest)]))
