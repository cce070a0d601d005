"""Angular deflection of electrons over a step: Goudsmit-Saunderson with screened Rutherford-Mott scattering in water."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

ELECTRON_MEV = 0.510998950
FINE_STRUCTURE = 1.0 / 137.035999
CLASSICAL_RADIUS_CM = 2.8179403e-13
HBAR_C_MEV_CM = 1.97326980e-11
BOHR_CM = 5.29177211e-9
AVOGADRO = 6.02214076e23

ORDERS = 420
QUANTILES = 400


def knock_on_cosine(kinetic_mev: Floats | float, given_mev: Floats | float) -> Floats:
    """Return the cosine of the primary electron's deflection when it gives `given_mev` to a free electron."""
    t, m2 = np.asarray(kinetic_mev, dtype=np.float64), 2.0 * ELECTRON_MEV
    left = t - np.asarray(given_mev, dtype=np.float64)
    return np.sqrt(left * (t + m2) / (t * (left + m2)))


def _legendre(cosine: Floats, orders: int) -> Floats:
    """Return P_l(cosine) for l = 0..orders, (orders + 1, points)."""
    p = np.empty((orders + 1, len(cosine)))
    p[0], p[1] = 1.0, cosine
    for order in range(1, orders):
        p[order + 1] = ((2 * order + 1) * cosine * p[order] - order * p[order - 1]) / (order + 1)
    return p


def moments_per_cm(
    kinetic_mev: Floats, per_g: tuple[tuple[int, float], ...], explicit_mev: float, orders: int = ORDERS
) -> Floats:
    """Return G_l = N integral (1 - P_l) dsigma for l = 0..orders at each energy, in 1/cm at unit density.

    Parameters
    ----------
    kinetic_mev : (n,) electron kinetic energies
    per_g : (atomic number, atoms per gram) of each element
    explicit_mev : energy transfers above this are followed one by one and so left out of scattering by electrons

    Notes
    -----
    Nuclei: Rutherford with Moliere's screening angle, times the McKinley-Feshbach factor for spin.
    Electrons: the same with Z instead of Z squared, up to the angle of the largest transfer not followed explicitly.
    """
    out = np.zeros((len(kinetic_mev), orders + 1))
    nodes, weights = np.polynomial.legendre.leggauss(16)
    for i, t in enumerate(kinetic_mev):
        momentum = np.sqrt(t * (t + 2 * ELECTRON_MEV))
        beta = momentum / (t + ELECTRON_MEV)
        limit = 1.0 - float(knock_on_cosine(t, min(explicit_mev, 0.5 * t)))
        for z, atoms in per_g:
            radius = 0.88534 * BOHR_CM * z ** (-1.0 / 3.0)
            screen = (HBAR_C_MEV_CM / (momentum * radius)) ** 2
            screen *= 1.13 + 3.76 * (FINE_STRUCTURE * z / beta) ** 2
            eta2 = 0.5 * screen
            strength = 2 * np.pi * atoms * (CLASSICAL_RADIUS_CM * ELECTRON_MEV / (momentum * beta)) ** 2
            # In s = ln(x + 2 eta) with x = 1 - cosine the Rutherford peak becomes a smooth curve.
            edges = np.linspace(np.log(eta2), np.log(2.0 + eta2), 61)
            half = 0.5 * np.diff(edges)[:, None]
            s = (0.5 * (edges[1:] + edges[:-1])[:, None] + half * nodes).ravel()
            x = np.clip(np.exp(s) - eta2, 0.0, 2.0)
            measure = (half * weights).ravel() * np.exp(-s) * strength
            spin = 1.0 - 0.5 * beta**2 * x + np.pi * FINE_STRUCTURE * z * beta * (np.sqrt(0.5 * x) - 0.5 * x)
            density = measure * (z * z * spin + z * (x < limit))
            out[i] += (1.0 - _legendre(1.0 - x, orders)) @ density
    return out


def deflection_quantiles(moments_times_path: Floats, quantiles: int = QUANTILES) -> Floats:
    """Return 1 - cosine of the deflection over a step, at quantiles that crowd towards large angles.

    Parameters
    ----------
    moments_times_path : (n, orders + 1) G_l times the step length; G_0 = 0

    Returns
    -------
    (n, quantiles + 1); entry j is exceeded with probability (j / quantiles)**3, so that entry 0 is the largest. The
    table is scaled so that the mean is exactly 1 - exp(-G_1 s), which keeps range and straightness right (Lewis).
    """
    orders = moments_times_path.shape[1] - 1
    x = np.concatenate([[0.0], np.geomspace(1e-8, 2.0, 1200)])
    p = _legendre(1.0 - x, orders)
    falling = np.exp(-moments_times_path[:, 1:orders])
    # Integral of the Goudsmit-Saunderson series from 1 - x to 1, term by term.
    within = 0.5 * x + 0.5 * falling @ (p[: orders - 1] - p[2 : orders + 1])
    out = np.empty((len(moments_times_path), quantiles + 1))
    exceed = (np.arange(quantiles + 1) / quantiles) ** 3
    for i, row in enumerate(within):
        beyond = np.minimum.accumulate(np.clip(1.0 - row, 0.0, 1.0))
        ascending = beyond[::-1] + np.arange(len(beyond)) * 1e-16
        out[i] = np.interp(exceed, ascending, x[::-1])
        target = 1.0 - np.exp(-moments_times_path[i, 1])
        mean = np.sum(0.5 * (out[i, 1:] + out[i, :-1]) * np.diff(exceed))
        out[i] = np.clip(out[i] * target / mean, 0.0, 2.0)
    return out
