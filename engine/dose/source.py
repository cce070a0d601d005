"""The photon source: its spectrum on and off the axis, and what that spectrum releases in water by depth."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.beams.machine import Machine
from engine.dose.attenuation import mu_rho_no_coherent_cm2_g

Floats = NDArray[np.float64]

# Spectrum bins are uniform inside; four points each keep the mean attenuation within 0.01 %.
_PER_BIN = 4
_DEPTH_STEP_G_CM2 = 0.5
_DEEPEST_G_CM2 = 150.0
_TANGENT_STEP = 0.02
_WIDEST_TANGENT = 0.44
# Photons below this are absorbed where they enter; the tables start there.
_LOWEST_MEV = 0.01
_CONTAMINANT_STEP_G_CM2 = 0.05


@dataclass(frozen=True)
class Spectrum:
    """Photons at points of energy, with the coefficients of water there.

    Parameters
    ----------
    energy_mev, energy_fluence, mu_cm2_g : (n,); energy fluence sums to 1; mu is mu/rho of water without coherent scatter
    """

    energy_mev: Floats
    energy_fluence: Floats
    mu_cm2_g: Floats

    def after(self, depth_g_cm2: float) -> Floats:
        """Return the TERMA-weighted energy spectrum behind `depth_g_cm2` of water, summing to 1."""
        weight = self.energy_fluence * self.mu_cm2_g * np.exp(-self.mu_cm2_g * depth_g_cm2)
        return weight / weight.sum()


@lru_cache(maxsize=16)
def spectrum(machine: Machine) -> Spectrum:
    """Return the spectrum of a machine on its axis."""
    edges = np.array(machine.spectrum_mev)
    share = (np.arange(_PER_BIN) + 0.5) / _PER_BIN
    energy = (edges[:, :1] + (edges[:, 1:] - edges[:, :1]) * share).ravel()
    photons = np.repeat(np.array(machine.spectrum_fluence) / _PER_BIN, _PER_BIN)
    keep = (photons > 0) & (energy >= _LOWEST_MEV)
    energy, photons = energy[keep], photons[keep]
    fluence = photons * energy
    return Spectrum(energy, fluence / fluence.sum(), mu_rho_no_coherent_cm2_g("water", energy))


@dataclass(frozen=True)
class Release:
    """TERMA per unit energy fluence in water, by water depth and tangent of the angle from the axis.

    Parameters
    ----------
    depth_step_g_cm2, tangent_step : steps of the table, both from 0
    terma_cm2_g : (depths, tangents)
    primary : (depths, tangents) share of TERMA that becomes the primary component
    """

    depth_step_g_cm2: float
    tangent_step: float
    terma_cm2_g: Floats
    primary: Floats


def release(machine: Machine, primary_share: Callable[[Floats], Floats]) -> Release:
    """Return the release table of a machine.

    Parameters
    ----------
    primary_share : share of the energy removed from the beam that the primary component takes, by energy in MeV

    Notes
    -----
    Off-axis softening: a flattening filter that thins outwards hardens less. The spectrum at an angle is therefore the
    axis's times exp(h mu), with h found so that the mean attenuation coefficient changes as the machine file says.
    """
    beam = spectrum(machine)
    depth = np.arange(0.0, _DEEPEST_G_CM2 + _DEPTH_STEP_G_CM2 / 2, _DEPTH_STEP_G_CM2)
    tangents = np.arange(0.0, _WIDEST_TANGENT + _TANGENT_STEP / 2, _TANGENT_STEP) if machine.softening_deg else np.zeros(1)
    share = primary_share(beam.energy_mev)
    terma, primary = np.empty((depth.size, tangents.size)), np.empty((depth.size, tangents.size))
    through = np.exp(-np.outer(depth, beam.mu_cm2_g))
    for n, tangent in enumerate(tangents):
        per_energy = through * (energy_fluence_at(machine, float(tangent)) * beam.mu_cm2_g)
        terma[:, n] = per_energy.sum(axis=1)
        primary[:, n] = per_energy @ share / terma[:, n]
    return Release(_DEPTH_STEP_G_CM2, _TANGENT_STEP, terma, primary)


def energy_fluence_at(machine: Machine, tangent: float) -> Floats:
    """Return the energy fluence (summing to 1) of ``spectrum(machine)``'s energies at a tangent from the axis."""
    angle = float(np.rad2deg(np.arctan(tangent)))
    wish = float(np.interp(angle, machine.softening_deg, machine.softening_mu)) if machine.softening_deg else 1.0
    return _softened(spectrum(machine), wish)


def contaminant_curve(machine: Machine) -> Floats:
    """Return the curve of contaminant dose by depth, as transport reads it; empty without contamination.

    Returns
    -------
    Floats
        [step in g/cm2, distance of the electrons' source in mm, values from depth 0 to the range, relative to depth 0]

    Notes
    -----
    An exponential cut off at the range R of the electrons by (1 - (d/R)^2)^2: nothing disturbs the dose beyond it.
    """
    if not machine.contamination_share:
        return np.empty(0)
    depth = np.arange(0.0, machine.contamination_range_mm / 10 + _CONTAMINANT_STEP_G_CM2, _CONTAMINANT_STEP_G_CM2)
    rest = np.clip(1 - (10 * depth / machine.contamination_range_mm) ** 2, 0, None) ** 2
    values = np.exp(-10 * depth / machine.contamination_depth_mm) * rest
    return np.concatenate([[_CONTAMINANT_STEP_G_CM2, machine.contamination_distance_mm], values])


def contaminant_parts(curve: Floats) -> tuple[NDArray[np.float32], float, float]:
    """Return values that end in zeros, the step in g/cm2 and the distance of the source in mm; zeros of an empty curve."""
    if not curve.size:
        return np.zeros(2, np.float32), 1.0, 0.0
    return np.append(curve[2:], (0.0, 0.0)).astype(np.float32), float(curve[0]), float(curve[1])


def release_rows(by_depth: Floats) -> NDArray[np.float32]:
    """Return a table by depth and tangent for linear reading: at least two tangents, rows one after another."""
    wide = by_depth if by_depth.shape[1] > 1 else np.repeat(by_depth, 2, axis=1)
    return np.ascontiguousarray(wide, dtype=np.float32)


def _softened(beam: Spectrum, ratio: float) -> Floats:
    """Return the energy fluence whose mean attenuation is `ratio` times that of the axis, by bisection."""
    if ratio == 1.0:
        return beam.energy_fluence
    goal = ratio * float(beam.energy_fluence @ beam.mu_cm2_g)
    low, high = -60.0, 60.0
    for _ in range(50):
        h = 0.5 * (low + high)
        weight = beam.energy_fluence * np.exp(h * (beam.mu_cm2_g - beam.mu_cm2_g.mean()))
        weight = weight / weight.sum()
        low, high = (h, high) if float(weight @ beam.mu_cm2_g) < goal else (low, h)
    return weight
