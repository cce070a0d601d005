"""Superposition of the shipped point kernels in layers, density scaled along straight lines and nothing else.

What stands between the engine and photons and electrons followed one by one (``monte_carlo``): every energy's own
kernel at every depth, in its own angles and radii, without cones, exponentials or cells. Where it parts from the Monte
Carlo, density scaling itself is wrong; where the engine parts from it, the engine's discretisation is.

Axis, fields and divergence are taken as in ``monte_carlo``: one ray stands for all, and what it leaves within the
field's width, widening with the distance, is the dose on the axis.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numba import njit

from engine.beams.machine_file import load_machine
from engine.dose.kernels import load_points
from engine.dose.medium import rule
from engine.dose.source import spectrum
from tests.support.monte_carlo import BIN_CM, DEPTH_CM, FIELDS_CM, PHANTOMS, SSD_CM

# Steps of depth for primary energy and for scatter (g/cm2), and pieces of a kernel's bins in angle and radius.
_PRIMARY, _SCATTER = (0,), (1, 2, 3, 4)
_STEPS_G_CM2 = {_PRIMARY: 0.02, _SCATTER: 0.1}
_PIECES = 3, 2


@njit
def _depth_at(mass, edges, passed, rho):  # type: ignore[no-untyped-def]
    """Return the depth (cm) with `mass` (g/cm2) above it; below 0 outside the layers."""
    if mass < 0.0 or mass >= passed[-1]:
        return -1.0
    n = 0
    while mass >= passed[n + 1]:
        n += 1
    return edges[n] + (mass - passed[n]) / rho[n]


@njit
def _spread(energy, angles, radii, masses, layers, fields, pieces, out):  # type: ignore[no-untyped-def]
    """Add to `out` (bins, fields) what each depth's energy (depths, angles, radii) leaves within each field."""
    edges, passed, rho = layers
    for d in range(masses.size):
        start = _depth_at(masses[d], edges, passed, rho)
        for a in range(angles.size - 1):
            first, last = np.cos(angles[a]), np.cos(angles[a + 1])
            for r in range(radii.size - 1):
                given = energy[d, a, r] / (pieces[0] * pieces[1])
                for i in range(pieces[0]):
                    cosine = first + (last - first) * (i + 0.5) / pieces[0]
                    for j in range(pieces[1]):
                        way = radii[r] + (radii[r + 1] - radii[r]) * (j + 0.5) / pieces[1]
                        z = _depth_at(masses[d] + way * cosine, edges, passed, rho)
                        if z < 0.0:
                            continue
                        off = abs((z - start) * np.sqrt(1 - cosine * cosine) / cosine)
                        for f in range(fields.size):
                            half = 0.5 * fields[f] * (SSD_CM + z) / SSD_CM
                            if off < half:
                                out[int(z / BIN_CM), f] += given
                            elif off < np.sqrt(2.0) * half:
                                # Between the sides and the corners of the square.
                                out[int(z / BIN_CM), f] += given * (1 - np.arccos(half / off) / (np.pi / 4))


@lru_cache
def scaled_dose(machine_name: str, phantom: str):  # type: ignore[no-untyped-def]
    """Return dose on the axis per unit energy fluence at the surface (cm2/g, bins x fields), as ``monte_carlo``."""
    machine, points = load_machine(machine_name), load_points()
    beam = spectrum(machine)
    mass = np.array([density for _, density in PHANTOMS[phantom]])
    rho = mass * rule(machine).relative_attenuation(mass)
    edges = np.cumsum([0.0, *(thick for thick, _ in PHANTOMS[phantom])])
    passed = np.cumsum([0.0, *(np.diff(edges) * rho)])
    place = np.interp(np.log(beam.energy_mev), np.log(points.energy_mev), np.arange(points.energy_mev.size))
    # Energies of the spectrum between those of the kernels.
    mix = np.clip(1 - np.abs(place[:, None] - np.arange(points.energy_mev.size)), 0, None)
    out = np.zeros((round(DEPTH_CM / BIN_CM), len(FIELDS_CM)))
    for components, step in _STEPS_G_CM2.items():
        middles = np.arange(step / 2, passed[-1], step)
        lost = beam.energy_fluence * beam.mu_cm2_g * np.exp(-np.outer(middles, beam.mu_cm2_g))
        energy = step * np.tensordot(lost @ mix, points.share[:, list(components)].sum(axis=1), axes=1)
        angles = np.deg2rad(points.angle_edges_deg)
        _spread(energy, angles, points.radius_edges_cm, middles, (edges, passed, rho), np.array(FIELDS_CM), _PIECES, out)
    depth = BIN_CM * (np.arange(len(out)) + 0.5)
    own = mass[np.minimum(np.searchsorted(edges[1:], depth), mass.size - 1)]
    return out / (BIN_CM * own[:, None]) * (SSD_CM / (SSD_CM + depth))[:, None] ** 2
