"""What a wedge does to a beam: it absorbs, and it hardens what passes.

Attenuation is by energy (NIST coefficients of the wedge's material), counted in TERMA of water. The hardened spectrum is
stood in for by that behind a depth of water: the depth from which TERMA falls over 10 cm as it does behind the wedge. At
depth 0 the product is exact. Photons that scatter in the wedge are not followed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.fluence import FluenceMap
from engine.beams.machine import Machine
from engine.beams.wedge import Wedge
from engine.dose.attenuation import mu_rho_no_coherent_cm2_g
from engine.dose.source import energy_fluence_at, spectrum

Floats = NDArray[np.float64]

_THICKNESSES = 49
_TANGENTS = np.linspace(0.0, 0.42, 22)
_MATCH_G_CM2 = 10.0
_DEEPEST_G_CM2 = 80.0


@dataclass(frozen=True)
class WedgeTable:
    """What a thickness of the wedge's material does.

    Parameters
    ----------
    thickness_mm : (n,) along the ray, from 0, evenly spaced
    hardening_g_cm2 : (n,) depth of water that hardens alike
    factor : (n, tangents) TERMA at depth 0 behind the wedge over that of the open beam at depth `hardening_g_cm2`
    """

    thickness_mm: Floats
    hardening_g_cm2: Floats
    factor: Floats


def wedged(field: FluenceMap, beam: Beam, machine: Machine) -> FluenceMap:
    """Return a fluence map behind the wedge a beam names; the same map without one.

    Raises
    ------
    InputError
        If the machine has no such wedge, or it cannot stand that way.
    """
    if not beam.wedge:
        return field
    wedge = machine.wedge(beam.wedge)
    if wedge is None:
        raise InputError(
            say("{machine} has no wedge {wedge}", machine=machine.name, wedge=beam.wedge),
            say("beam {beam}", beam=beam.name),
            "Choose a wedge the machine has, or none.",
        )
    if beam.wedge_orientation_deg not in wedge.orientations_deg:
        raise InputError(
            say("wedge {wedge} cannot stand at {angle:g} degrees", wedge=wedge.name, angle=beam.wedge_orientation_deg),
            say("beam {beam}", beam=beam.name),
            "Choose another direction of the wedge.",
        )
    x, y = field.x_mm[None, :], field.y_mm[:, None]
    profile = wedge.profile_at(wedge.along_mm(x, y, beam.wedge_orientation_deg))
    if wedge.kind == "virtual":
        factor = profile.astype(np.float32)
        return replace(field, fluence=field.fluence * factor, contamination=field.contamination * factor)
    table = wedge_table(machine, wedge)
    tangent = np.hypot(x, y) / machine.sad_mm
    passed = np.minimum(profile * np.sqrt(1 + tangent**2), table.thickness_mm[-1])
    place = np.stack(np.broadcast_arrays(passed / table.thickness_mm[1], np.minimum(tangent, _TANGENTS[-1]) / _TANGENTS[1]))
    factor = map_coordinates(table.factor, place, order=1, mode="nearest").astype(np.float32)
    hardening = np.interp(passed, table.thickness_mm, table.hardening_g_cm2).astype(np.float32)
    return replace(
        field, fluence=field.fluence * factor, contamination=field.contamination * factor, hardening_g_cm2=hardening
    )


@lru_cache(maxsize=32)
def wedge_table(machine: Machine, wedge: Wedge) -> WedgeTable:
    """Return what thicknesses of a physical wedge do to a machine's spectrum."""
    beam = spectrum(machine)
    thickness = np.linspace(0.0, 1.1 * max(wedge.thickness_mm), _THICKNESSES)
    mu_wedge = mu_rho_no_coherent_cm2_g(wedge.material, beam.energy_mev)
    left = np.exp(-np.outer(thickness / 10 * wedge.density_g_cm3, mu_wedge))
    released = beam.energy_fluence * beam.mu_cm2_g
    step = np.exp(-beam.mu_cm2_g * _MATCH_G_CM2)
    wanted = (left * step) @ released / (left @ released)
    depth = np.arange(0.0, _DEEPEST_G_CM2, 0.25)
    through = np.exp(-np.outer(depth, beam.mu_cm2_g))
    in_water = (through * step) @ released / (through @ released)
    # Rises with depth, because water hardens; what softens (pairs in heavy metal) counts as no hardening.
    hardening = np.interp(wanted, in_water, depth)
    factor = np.empty((_THICKNESSES, _TANGENTS.size))
    behind = np.exp(-np.outer(hardening, beam.mu_cm2_g))
    for n, tangent in enumerate(_TANGENTS):
        here = energy_fluence_at(machine, float(tangent)) * beam.mu_cm2_g
        factor[:, n] = left @ here / (behind @ here)
    return WedgeTable(thickness, hardening, factor)
