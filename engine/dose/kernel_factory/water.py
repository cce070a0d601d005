"""What the Monte Carlo needs to know of water: photon processes, and a ladder of electron steps."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from engine.base.sources import Table, read_table
from engine.dose.kernel_factory.elastic import (
    AVOGADRO,
    CLASSICAL_RADIUS_CM,
    ELECTRON_MEV,
    deflection_quantiles,
    moments_per_cm,
)

Floats = NDArray[np.float64]

CUT_PHOTON_MEV = 0.01
CUT_ELECTRON_MEV = 0.0101
CUT_KNOCK_ON_MEV = 0.1
CUT_RADIATION_MEV = 0.01
# Energies at which an electron may be stopped on the spot when its range is short against its distance.
LOCAL_MEV = 0.2
_STEPS_PER_DECADE = 64
_HIGHEST_MEV = 24.0
_RADIATION_QUANTILES = 128
WATER_ATOMS_PER_G = ((1, 0.111894 / 1.00794 * AVOGADRO), (8, 0.888106 / 15.9994 * AVOGADRO))


class Water(NamedTuple):
    """Tables on two logarithmic grids, unit density, lengths in cm, energies in MeV.

    Photon grid (index = (ln E - photon_start) * photon_scale): mu_cm (n,), compton (n,), photo (n,): attenuation
    without coherent scatter, share of Compton events, and of Compton plus photoelectric events.
    Electron ladder: rung_mev (k + 1,) ascending; step i leads from rung i + 1 to rung i: path_cm, knock_on_cm and
    radiate_cm (events per cm), deflection (k, q + 1) and radiation (k, q + 1) quantile tables; range_cm at the rungs.
    """

    photon_start: float
    photon_scale: float
    mu_cm: Floats
    compton: Floats
    photo: Floats
    rung_start: float
    rung_scale: float
    rung_mev: Floats
    range_cm: Floats
    path_cm: Floats
    knock_on_cm: Floats
    radiate_cm: Floats
    deflection: Floats
    radiation: Floats


def _photon_grid(table: Table) -> tuple[float, float, Floats, Floats, Floats]:
    fine = np.geomspace(0.01, 25.0, 3000)
    grid = table["energy_mev"]

    def of(column: str) -> Floats:
        values = table[column]
        above = values > 0
        curve = np.zeros_like(fine)
        inside = fine >= grid[above][0]
        curve[inside] = np.exp(np.interp(np.log(fine[inside]), np.log(grid[above]), np.log(values[above])))
        return curve

    compton, photo = of("incoherent_cm2_g"), of("photoelectric_cm2_g")
    mu = compton + photo + of("pair_nuclear_cm2_g") + of("pair_electron_cm2_g")
    scale = (len(fine) - 1) / np.log(fine[-1] / fine[0])
    return float(np.log(fine[0])), float(scale), mu, compton / mu, (compton + photo) / mu


def knock_ons(kinetic_mev: Floats, electrons_per_g: float, cut_mev: float) -> tuple[Floats, Floats]:
    """Return how many knock-on electrons above a cut an electron makes per cm, and the energy they take (MeV/cm).

    Moller's cross section for transfers W from the cut to half the kinetic energy.
    """
    number, energy = np.zeros_like(kinetic_mev), np.zeros_like(kinetic_mev)
    nodes, weights = np.polynomial.legendre.leggauss(64)
    for i, t in enumerate(kinetic_mev):
        if t <= 2 * cut_mev:
            continue
        low, high = np.log(cut_mev), np.log(0.5 * t)
        w = np.exp(low + (high - low) * 0.5 * (nodes + 1))
        total = t + ELECTRON_MEV
        beta2 = t * (t + 2 * ELECTRON_MEV) / total**2
        shape = 1 / w**2 + 1 / (t - w) ** 2 + 1 / total**2
        shape -= ELECTRON_MEV * (2 * t + ELECTRON_MEV) / (total**2 * w * (t - w))
        rate = 2 * np.pi * CLASSICAL_RADIUS_CM**2 * ELECTRON_MEV / beta2 * electrons_per_g
        area = rate * shape * w * weights * 0.5 * (high - low)
        number[i], energy[i] = area.sum(), (area * w).sum()
    return number, energy


def schiff_shape(kinetic_mev: float, photon_mev: Floats, z: float = 7.8) -> Floats:
    """Return k times the bremsstrahlung cross section differential in k, unscaled.

    Schiff's spectrum integrated over angle, formula 3BS(e) of H. W. Koch and J. W. Motz, Rev. Mod. Phys. 31 (1959) 920
    [memory]; used for the shape only, the size comes from the radiative stopping power.
    """
    start = kinetic_mev / ELECTRON_MEV + 1.0
    k = photon_mev / ELECTRON_MEV
    end = np.maximum(start - k, 1.0)
    ratio = end / start
    third = z ** (1.0 / 3.0) / 111.0
    b = np.maximum(2.0 * start * end * third / k, 1e-9)
    log_m = -np.log((k / (2.0 * start * end)) ** 2 + third**2)
    turn = np.arctan(b)
    first = (1.0 + ratio**2 - 2.0 / 3.0 * ratio) * (log_m + 1.0 - 2.0 / b * turn)
    second = 2.0 / b**2 * np.log1p(b**2) + 4.0 * (2.0 - b**2) / (3.0 * b**3) * turn - 8.0 / (3.0 * b**2) + 2.0 / 9.0
    return np.maximum(first + ratio * second, 0.0)


def radiation(kinetic_mev: Floats, radiative_mev_cm: Floats, cut_mev: float) -> tuple[Floats, Floats]:
    """Return bremsstrahlung photons per cm above a cut, and quantiles of ln(k/cut)/ln(T/cut), (n, quantiles + 1).

    Scaled so that the photons above the cut carry the whole radiative stopping power.
    """
    number = np.zeros_like(kinetic_mev)
    table = np.zeros((len(kinetic_mev), _RADIATION_QUANTILES + 1))
    share = np.linspace(0.0, 1.0, 801)
    for i, t in enumerate(kinetic_mev):
        if t <= 2.0 * cut_mev:
            continue
        k = cut_mev * (t / cut_mev) ** share
        per_log = schiff_shape(float(t), k)
        width = np.log(t / cut_mev)
        photons = np.concatenate([[0.0], np.cumsum(0.5 * (per_log[1:] + per_log[:-1]) * np.diff(share))]) * width
        carried = np.trapezoid(per_log * k, share) * width
        number[i] = photons[-1] * radiative_mev_cm[i] / carried
        table[i] = np.interp(np.linspace(0, 1, _RADIATION_QUANTILES + 1), photons / photons[-1], share)
    return number, table


def read_water(folder: Path) -> Water:
    """Read the photon and electron tables of water in a folder and prepare them for the Monte Carlo."""
    electrons = read_table(folder / "electrons_water.csv")
    grid = np.log(electrons["energy_mev"])

    def curve(column: str) -> CubicSpline:
        return CubicSpline(grid, np.log(electrons[column]))

    collision, radiative, csda = (curve(c) for c in ("collision_mev_cm2_g", "radiative_mev_cm2_g", "csda_range_g_cm2"))
    count = round(np.log10(_HIGHEST_MEV / 0.01) * _STEPS_PER_DECADE)
    rung = np.geomspace(0.01, _HIGHEST_MEV, count + 1)
    middle = np.sqrt(rung[1:] * rung[:-1])
    electrons_per_g = sum(z * n for z, n in WATER_ATOMS_PER_G)
    number, _ = knock_ons(middle, electrons_per_g, CUT_KNOCK_ON_MEV)
    nodes, weights = np.polynomial.legendre.leggauss(6)
    inside = rung[:-1, None] + np.diff(rung)[:, None] * 0.5 * (nodes + 1)
    _, taken = knock_ons(inside.ravel(), electrons_per_g, CUT_KNOCK_ON_MEV)
    slow = np.exp(collision(np.log(inside))) - taken.reshape(inside.shape)
    path = 0.5 * np.diff(rung) * np.sum(weights / slow, axis=1)
    photons, quantiles = radiation(middle, np.exp(radiative(np.log(middle))), CUT_RADIATION_MEV)
    turning = moments_per_cm(middle, WATER_ATOMS_PER_G, CUT_KNOCK_ON_MEV)
    return Water(
        *_photon_grid(read_table(folder / "photons_water.csv")),
        float(np.log(rung[0])),
        float(count / np.log(rung[-1] / rung[0])),
        rung,
        np.exp(csda(np.log(rung))),
        path,
        number,
        photons,
        deflection_quantiles(turning * path[:, None]),
        quantiles,
    )
