"""The beam data of a machine as commissioning measures them: depth doses, profiles, output factors, and their numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, part, quiet
from engine.base.values import Value, frozen_array
from engine.base.words import say
from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map
from engine.beams.machine import Machine
from engine.commission.curves import Curve
from engine.commission.shapes import flatness_symmetry, half_widths, maximum, penumbra_mm
from engine.commission.tank import (
    AxisDose,
    Setup,
    TankDose,
    aperture_of,
    axis_dose,
    scan_grid,
    tank_dose,
    tank_grid,
)
from engine.dose.attenuation import mu_en_rho_cm2_g, mu_rho_cm2_g
from engine.dose.request import PHYSICS_VERSION
from engine.dose.source import spectrum

Floats = NDArray[np.float64]

FIELDS_MM = (40.0, 60.0, 80.0, 100.0, 150.0, 200.0, 300.0, 400.0)
_DEEPEST_MM = 300.0
_SURFACE_MM = 0.07
_REFERENCE_MM = 100.0


@dataclass(frozen=True, eq=False)
class BeamDataRequest(Value):
    """The beam data of a machine in water, source to surface at the isocentre's distance.

    Parameters
    ----------
    fields_mm : sides of square fields at the isocentre plane; those beyond the machine's limit are left out
    depths_mm : depths of the profiles
    """

    machine: Machine
    fields_mm: tuple[float, ...] = FIELDS_MM
    depths_mm: tuple[float, ...] = (15.0, 50.0, 100.0, 200.0)
    physics_version: int = PHYSICS_VERSION


@dataclass(frozen=True, eq=False)
class FieldRow(Value):
    """What is read off one square field.

    Parameters
    ----------
    pdd_percent : (depth mm, percent of the maximum) at depths
    surface_percent : at 0.07 mm
    scp, sc, sp : output at 100 mm depth relative to 100 x 100 mm: total, in air, phantom scatter (their quotient)
    """

    field_mm: float
    d_max_mm: float
    pdd_percent: tuple[tuple[float, float], ...]
    surface_percent: float
    gy_per_mu_max: float
    scp: float
    scp_max: float
    sc: float
    sp: float


@dataclass(frozen=True, eq=False)
class ProfileRow(Value):
    """What is read off one profile; nan where it cannot be."""

    field_mm: float
    axis: str
    depth_mm: float
    width_mm: float
    penumbra_mm: float
    flatness_percent: float
    symmetry_percent: float


@dataclass(frozen=True, eq=False)
class BeamData(Value):
    """Computed beam data.

    Parameters
    ----------
    curves : depth doses in percent of their maximum, profiles in percent of their middle, output factors at 100 mm
    quality : named numbers: tpr_20_10, pdd_20_10, d_max_mm, pdd_10, mean_energy_mev, mean_energy_by_energy_mev,
        hvl_water_mm, surface_percent, leaf_transmission_percent, jaw_transmission_percent
    """

    machine: str
    inputs: str
    curves: tuple[Curve, ...]
    fields: tuple[FieldRow, ...]
    profiles: tuple[ProfileRow, ...]
    quality: tuple[tuple[str, float], ...]

    def number(self, name: str) -> float:
        """Return one of the named numbers."""
        return dict(self.quality)[name]

    def field(self, side_mm: float) -> FieldRow | None:
        """Return the row of a field side, if it was computed."""
        return next((r for r in self.fields if abs(r.field_mm - side_mm) < 1e-6), None)

    def curve(self, kind: str, field_mm: float, depth_mm: float = 0.0, axis: str = "") -> Curve | None:
        """Return a curve, if it was computed."""
        return next(
            (c for c in self.curves if c.kind == kind and abs(c.field_mm[0] - field_mm) < 1e-6
             and abs(c.depth_mm - depth_mm) < 1e-6 and c.axis == axis),
            None,
        )  # fmt: skip


def beam_data(request: BeamDataRequest, report: Report = quiet) -> BeamData:
    """Compute the beam data of a machine."""
    m, ssd = request.machine, request.machine.sad_mm
    sides = sorted({s for s in (*request.fields_mm, _REFERENCE_MM) if s <= 2 * m.field_limit_mm + 1e-6})
    depths = np.concatenate([np.arange(0.0, 30.0, 1.0), np.arange(30.0, _DEEPEST_MM + 1, 5.0)])
    work = np.cumsum([0.0, *(max(s, 100.0) ** 2 for s in sides)])
    curves: list[Curve] = []
    profiles: list[ProfileRow] = []
    axes: dict[float, AxisDose] = {}
    for n, side in enumerate(sides):
        inner = part(report, 0.85 * work[n] / work[-1], 0.85 * work[n + 1] / work[-1])
        setup = Setup((side, side), ssd)
        axes[side] = axis_dose(m, setup, _DEEPEST_MM, None, part(inner, 0.0, 0.3))
        dose = axes[side].at(depths)
        name = f"{m.name} computed"
        curves.append(_curve("depth-dose", depths, 100 * dose / _top(axes[side])[1], setup, m, name))
        for axis, start in (("x", 0.3), ("y", 0.65)):
            grid = scan_grid(setup, axis, max(request.depths_mm), m.sad_mm)
            deep = tank_dose(m, setup, aperture_of(m, setup), grid, 0.0, part(inner, start, start + 0.35))
            for depth in request.depths_mm:
                position = _positions(side, ssd, depth, m.sad_mm)
                values = deep.profile(axis, depth, position)
                values = 100 * np.maximum(values, 0.0) / float(deep.profile(axis, depth, [0.0])[0])
                curves.append(_curve("profile", position, values, setup, m, name, depth, axis))
                profiles.append(_profile_row(deep, side, axis, depth, float(position[-1])))
    rows = tuple(_field_row(m, side, axes) for side in sides)
    quality = _quality(m, rows, axes[_REFERENCE_MM], part(report, 0.85, 1.0))
    scp = np.array([r.scp for r in rows])
    curves.append(_curve("output", np.array(sides), scp, Setup((0.0, 0.0), ssd), m, f"{m.name} computed", _REFERENCE_MM))
    report(1.0)
    return BeamData(m.name, request.fingerprint, tuple(curves), rows, tuple(profiles), quality)


def _positions(side: float, ssd: float, depth: float, sad: float) -> Floats:
    """Return positions across a field, 1 mm apart where its edges are and coarser elsewhere."""
    edge = side / 2 * (ssd + depth) / sad
    inner = np.arange(0.0, max(edge - 15.0, 0.0), 5.0)
    outer = np.arange(max(edge - 15.0, 0.0), edge + 20.0, 1.0)
    half = np.unique(np.concatenate([inner, outer, np.arange(edge + 20.0, edge + 51.0, 5.0)]))
    return np.concatenate([-half[:0:-1], half])


def _curve(kind: str, position: Floats, value: Floats, setup: Setup, m: Machine, name: str, depth: float = 0.0,
           axis: str = "") -> Curve:  # fmt: skip
    return Curve(kind, frozen_array(position.copy()), frozen_array(np.maximum(value, 0.0)), setup.field_mm, setup.ssd_mm,
                 depth, axis, m.nominal_mv, setup.edges, "computed", 0.0, name)  # fmt: skip


def _top(axis: AxisDose) -> tuple[float, float]:
    fine = np.arange(0.5, 60.0, 0.25)
    return maximum(fine, axis.at(fine))


def _field_row(m: Machine, side: float, axes: dict[float, AxisDose]) -> FieldRow:
    here, reference = axes[side], axes[_REFERENCE_MM]
    (d_max, top), (_, reference_top) = _top(here), _top(reference)
    pdd = tuple((d, 100 * float(here.at(d)) / top) for d in (2.0, 5.0, 10.0, 50.0, 100.0, 200.0, 300.0))
    scp = float(here.at(_REFERENCE_MM) / reference.at(_REFERENCE_MM))
    air, reference_air = (
        fluence_map(aperture_of(m, Setup((s, s), m.sad_mm)), m).at(0.0, 0.0) for s in (side, _REFERENCE_MM)
    )
    sc = air / reference_air
    surface = 100 * float(here.at(_SURFACE_MM)) / top
    return FieldRow(side, d_max, pdd, surface, top, scp, top / reference_top, sc, scp / sc)


def _profile_row(deep: TankDose, side: float, axis: str, depth: float, half: float) -> ProfileRow:
    x = np.arange(-half, half + 0.1, 0.25)
    y = deep.profile(axis, depth, x)
    left, right = half_widths(x, y)
    return ProfileRow(side, axis, depth, right - left, penumbra_mm(x, y), *flatness_symmetry(x, y))


def _quality(m: Machine, rows: tuple[FieldRow, ...], reference: AxisDose, report: Report) -> tuple[tuple[str, float], ...]:
    row = next(r for r in rows if r.field_mm == _REFERENCE_MM)
    report(0.0, say("tissue-phantom ratio"))
    tpr = tissue_phantom_ratio(m)
    report(0.6, say("transmission"))
    leaves = leaf_transmission(m)
    fluence_mean, energy_mean = mean_energies_mev(m)
    return (
        ("tpr_20_10", tpr),
        ("pdd_20_10", float(reference.at(200.0) / reference.at(100.0))),
        ("d_max_mm", row.d_max_mm),
        ("pdd_10", dict(row.pdd_percent)[100.0]),
        ("surface_percent", row.surface_percent),
        ("mean_energy_mev", fluence_mean),
        ("mean_energy_by_energy_mev", energy_mean),
        ("hvl_water_mm", half_value_layer_mm(m)),
        ("leaf_transmission_percent", 100 * leaves),
        ("jaw_transmission_percent", 100 * m.jaw_transmission),
    )


def tissue_phantom_ratio(m: Machine) -> float:
    """Return TPR20,10: doses at the isocentre under 200 and 100 mm of water, 100 x 100 mm at the isocentre."""
    doses = []
    for depth in (200.0, 100.0):
        setup = Setup((_REFERENCE_MM, _REFERENCE_MM), m.sad_mm - depth)
        grid = tank_grid(setup, depth + 50.0, (4.0, 4.0, 4.0), m.sad_mm)
        doses.append(float(tank_dose(m, setup, aperture_of(m, setup), grid).depth_dose([depth])[0]))
    return doses[0] / doses[1]


def leaf_transmission(m: Machine) -> float:
    """Return the dose at 100 mm under shut leaves relative to the open field, jaws 100 x 100 mm; nan without leaves."""
    if not m.leaf_edges_mm:
        return float("nan")
    half, step = _REFERENCE_MM / 2, 4.0
    setup = Setup((_REFERENCE_MM, _REFERENCE_MM), m.sad_mm)
    # The pairs meet under a jaw, so that the gap between their rounded ends counts not.
    pairs = len(m.leaf_edges_mm) - 1
    meet = -min(half + 30.0, m.leaf_travel_mm)
    shut = Aperture((-half, half), (-half, half), m.leaf_edges_mm, ((meet, meet),) * pairs)
    grid = tank_grid(setup, _REFERENCE_MM + 30.0, (step,) * 3, m.sad_mm)
    closed = tank_dose(m, setup, shut, grid).depth_dose([_REFERENCE_MM])[0]
    return float(closed / tank_dose(m, setup, aperture_of(m, setup), grid).depth_dose([_REFERENCE_MM])[0])


def mean_energies_mev(m: Machine) -> tuple[float, float]:
    """Return the mean photon energy on the axis, weighted by fluence and by energy fluence."""
    s = spectrum(m)
    photons = s.energy_fluence / s.energy_mev
    return float(np.average(s.energy_mev, weights=photons)), float(np.average(s.energy_mev, weights=s.energy_fluence))


def half_value_layer_mm(m: Machine) -> float:
    """Return the water that halves the collision kerma in water of a narrow beam on the axis."""
    s = spectrum(m)
    kerma = s.energy_fluence * mu_en_rho_cm2_g("water", s.energy_mev)
    mu = mu_rho_cm2_g("water", s.energy_mev)
    low, high = 0.0, 200.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if kerma @ np.exp(-mu * middle) > kerma.sum() / 2 else (low, middle)
    return 10 * (low + high) / 2
