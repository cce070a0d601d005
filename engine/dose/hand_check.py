"""Monitor units by hand: the factor formalism of AAPM TG-71 (2014), for an independent check of a point's dose.

Formulas from memory of the report and of textbooks; every function is plain arithmetic on factors that were measured,
published, or computed in water (``water_tables``). Nothing here knows a patient: depth is water depth, the field is a
rectangle, the point lies on the axis. Lengths in mm at the plane each name says, doses in Gy, factors as ratios.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from engine.base.errors import InputError
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say
from engine.beams.machine import Machine

# Equal area would give 0.886; 0.891 gives equal scatter (Bjärngard and Siddon, Med. Phys. 9 (1982) [read in abstract]).
CIRCLE_TO_SQUARE = 0.891


def equivalent_square_mm(width_mm: float, length_mm: float) -> float:
    """Return the side of the square with the same area over perimeter, 2ab/(a+b) (Sterling et al. 1964)."""
    return 2 * width_mm * length_mm / (width_mm + length_mm)


def inverse_square(from_mm: float, to_mm: float) -> float:
    """Return fluence at the distance `to_mm` from the source relative to that at `from_mm`."""
    return (from_mm / to_mm) ** 2


def mayneord(depth_mm: float, maximum_mm: float, ssd_mm: float, new_ssd_mm: float) -> float:
    """Return the factor from PDD at one source-surface distance to another, same field at the surface.

    Inverse square only: scatter makes it up to 1 % too large at depth for longer distances.
    """
    return ((new_ssd_mm + maximum_mm) / (ssd_mm + maximum_mm) * (ssd_mm + depth_mm) / (new_ssd_mm + depth_mm)) ** 2


def tpr_20_10(pdd_20_10: float) -> float:
    """Return TPR20,10 from PDD(20 cm)/PDD(10 cm) of a 100 mm field at SSD 1000 mm (IAEA TRS-398, 2000, 6.3.1)."""
    return 1.2661 * pdd_20_10 - 0.0595


def tmr_from_pdd(
    pdd: float, depth_mm: float, maximum_mm: float, ssd_mm: float, sp_at_maximum: float, sp_at_depth: float
) -> float:
    """Return the tissue-maximum ratio at a depth for the field as wide as it is there.

    Parameters
    ----------
    pdd : as a ratio, for the field at the surface
    sp_at_maximum, sp_at_depth : phantom scatter factors of the field's widths at the depth of maximum and at the depth
    """
    return pdd * ((ssd_mm + depth_mm) / (ssd_mm + maximum_mm)) ** 2 * sp_at_maximum / sp_at_depth


def mu_fixed_ssd(
    dose_gy: float,
    collimator_scatter: float,
    phantom_scatter: float,
    pdd: float,
    ssd_mm: float,
    normalised_at_mm: float,
    reference_ssd_mm: float = 1000.0,
    gy_per_mu: float = 0.01,
    other: float = 1.0,
) -> float:
    """Return the monitor units of a set-up by source-surface distance.

    Parameters
    ----------
    collimator_scatter : Sc of the jaws' setting
    phantom_scatter : Sp of the irradiated field at the normalisation depth
    pdd : as a ratio to the dose at the normalisation depth, for this distance
    normalised_at_mm : normalisation depth d0, where `gy_per_mu` holds for the reference field at `reference_ssd_mm`
    other : product of wedge, tray and off-axis factors
    """
    distance = inverse_square(reference_ssd_mm + normalised_at_mm, ssd_mm + normalised_at_mm)
    return _units(dose_gy, gy_per_mu * collimator_scatter * phantom_scatter * pdd * distance * other)


def mu_isocentric(
    dose_gy: float,
    collimator_scatter: float,
    phantom_scatter: float,
    tpr: float,
    source_to_point_mm: float,
    normalised_at_mm: float,
    reference_ssd_mm: float = 1000.0,
    gy_per_mu: float = 0.01,
    other: float = 1.0,
) -> float:
    """Return the monitor units by tissue-phantom ratio; both it and Sp are for the field's width at the point."""
    distance = inverse_square(reference_ssd_mm + normalised_at_mm, source_to_point_mm)
    return _units(dose_gy, gy_per_mu * collimator_scatter * phantom_scatter * tpr * distance * other)


def _units(dose_gy: float, gy_per_mu: float) -> float:
    if not (np.isfinite(gy_per_mu) and gy_per_mu > 0 and np.isfinite(dose_gy) and dose_gy >= 0):
        raise InputError(
            say("no monitor units follow from {dose_gy} Gy at {gy_per_mu} Gy/MU", dose_gy=dose_gy, gy_per_mu=gy_per_mu),
            "monitor units by hand",
            "Check the factors.",
        )
    return dose_gy / gy_per_mu


@dataclass(frozen=True, eq=False)
class WaterTables(Value):
    """A machine's factors in water, from square fields at SSD 1000 mm with the field given at the surface.

    Parameters
    ----------
    sides_mm : (n,) ascending, 100 among them
    depths_mm : (d,) ascending
    gy_per_mu : (n, d) dose on the axis
    collimator_scatter : (n,) Sc of each side
    ssd_mm : source-surface distance, that of the axis
    """

    sides_mm: FrozenArray
    depths_mm: FrozenArray
    gy_per_mu: FrozenArray
    collimator_scatter: FrozenArray
    ssd_mm: float = 1000.0

    def dose(self, side_mm: float, depth_mm: float) -> float:
        """Return Gy per MU of a square field, linear in the side and in the logarithm over depth."""
        self._inside(side_mm, depth_mm)
        rows = [np.interp(depth_mm, self.depths_mm, np.log(row)) for row in self.gy_per_mu]
        return float(np.exp(np.interp(side_mm, self.sides_mm, rows)))

    def sc(self, side_mm: float) -> float:
        """Return the collimator scatter factor of a square setting."""
        return float(np.interp(side_mm, self.sides_mm, self.collimator_scatter))

    def sp(self, side_mm: float, depth_mm: float) -> float:
        """Return the phantom scatter factor at a depth, the field given at that depth.

        Fields are known by their width at the surface, so 100 mm at the depth is a little less up there.
        """
        up = self.ssd_mm / (self.ssd_mm + depth_mm)
        one, reference = (self.dose(s * up, depth_mm) / self.sc(s * up) for s in (side_mm, 100.0))
        return one / reference

    def pdd(self, side_mm: float, depth_mm: float, normalised_at_mm: float) -> float:
        """Return dose at a depth over dose at the normalisation depth, field at the surface."""
        return self.dose(side_mm, depth_mm) / self.dose(side_mm, normalised_at_mm)

    def tpr(self, side_mm: float, depth_mm: float, normalised_at_mm: float) -> float:
        """Return the tissue-phantom ratio for the field's width at the point, converted from depth dose and Sp."""
        surface = side_mm * self.ssd_mm / (self.ssd_mm + depth_mm)
        at_norm = surface * (self.ssd_mm + normalised_at_mm) / self.ssd_mm
        return tmr_from_pdd(
            self.pdd(surface, depth_mm, normalised_at_mm),
            depth_mm,
            normalised_at_mm,
            self.ssd_mm,
            self.sp(at_norm, normalised_at_mm),
            self.sp(side_mm, normalised_at_mm),
        )

    def reference_gy_per_mu(self, depth_mm: float) -> float:
        """Return Gy per MU at a depth for the field that is 100 mm wide at that depth, on the reference set-up."""
        up = self.ssd_mm / (self.ssd_mm + depth_mm)
        return self.dose(100.0 * up, depth_mm) / self.sc(100.0 * up)

    def _inside(self, side_mm: float, depth_mm: float) -> None:
        low, high = self.sides_mm[0], self.sides_mm[-1]
        shallow, deep = self.depths_mm[0], self.depths_mm[-1]
        if not (low <= side_mm <= high and shallow <= depth_mm <= deep):
            raise InputError(
                say(
                    "a field of {side_mm:.0f} mm at {depth_mm:.0f} mm depth is outside the tables of {low:.0f} to "
                    "{high:.0f} mm fields, {shallow:.0f} to {deep:.0f} mm deep",
                    side_mm=side_mm,
                    depth_mm=depth_mm,
                    low=low,
                    high=high,
                    shallow=shallow,
                    deep=deep,
                ),
                "monitor units by hand",
                "Choose another point or field.",
            )


@lru_cache(maxsize=4)
def water_tables(
    machine: Machine, sides_mm: tuple[float, ...] = (40.0, 60.0, 80.0, 100.0, 150.0, 200.0), step_mm: float = 4.0
) -> WaterTables:
    """Compute a machine's factors in water: depth dose and output of square fields at SSD 1000 mm, Sc in air."""
    from engine.beams.beam import Aperture, Beam
    from engine.beams.fluence import fluence_map
    from engine.dose.calculate import calculate
    from engine.dose.request import DoseRequest
    from engine.image.density import Density
    from engine.space.grid import Grid

    deep, across = round(320.0 / step_mm), round(max(sides_mm) * 1.4 / step_mm / 2 + 70.0 / step_mm) * 2
    half = (across - 1) * step_mm / 2
    grid = Grid((-half, step_mm / 2, -half), (step_mm,) * 3, (across, deep, across))
    water = Density(own_array(np.ones(grid.shape, dtype=np.float32)), grid)
    axis = Grid((0.0, step_mm / 2, 0.0), (step_mm,) * 3, (1, deep, 1))
    dose, air = [], []
    for side in sides_mm:
        jaws = (-side / 2, side / 2)
        beam = Beam("", "", machine.name, (0.0, 0.0, 0.0), 0.0, 0.0, 0.0, Aperture(jaws, jaws))
        dose.append(calculate(DoseRequest(water, beam, machine, axis)).gy[0, :, 0].astype(np.float64))
        air.append(fluence_map(beam.aperture, machine).at(0.0, 0.0))
    sides, scatter = np.array(sides_mm), np.array(air)
    return WaterTables(
        own_array(sides),
        own_array(grid.y_mm.astype(np.float64)),
        own_array(np.array(dose)),
        own_array(scatter / np.interp(100.0, sides, scatter)),
        machine.sad_mm,
    )
