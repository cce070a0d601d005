"""Mass coefficients of photons and electrons by medium and energy, and which medium a density stands for.

Tables are in assets/physics (NIST XCOM and ESTAR, mixed by mass). All lookups are linear in the logarithm of energy and
coefficient; 48 points per decade keep that within 0.05 % of the source data.

A density becomes a blend of media (see ``ANCHORS``), so coefficients are continuous, piecewise-linear functions of
density: no jump where a noisy voxel crosses a border. Water of 1.00 g/cm3 is exactly water.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

import assets
from engine.base.errors import InputError
from engine.base.sources import Table, read_table
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say

Floats = NDArray[np.float64]

MEDIA = (
    *("water", "air", "lung", "adipose", "soft_tissue", "muscle"),
    *("bone_compact", "bone_cortical", "aluminium", "iron", "tungsten"),
)
PROCESSES = ("coherent", "incoherent", "photoelectric", "pair_nuclear", "pair_electron")

# Own choice, after the nominal densities of the ICRP/ICRU tissues: between two anchors the media blend linearly by
# density. Water sits between adipose and muscle so that a water phantom is computed as water. Metal is not modelled:
# above cortical bone the coefficients stay those of bone.
ANCHORS: tuple[tuple[float, str], ...] = (
    (0.0, "air"),
    (0.01, "air"),
    (0.05, "lung"),
    (0.80, "lung"),
    (0.92, "adipose"),
    (0.96, "adipose"),
    (0.99, "water"),
    (1.01, "water"),
    (1.04, "muscle"),
    (1.10, "muscle"),
    (1.85, "bone_cortical"),
    (25.0, "bone_cortical"),
)


@lru_cache(maxsize=32)
def photon_table(material: str) -> Table:
    """Return the shipped photon table of a medium (columns as in assets/physics/photons_*.csv)."""
    _known(material)
    return read_table(assets.path(f"physics/photons_{material}.csv"))


@lru_cache(maxsize=32)
def electron_table(material: str) -> Table:
    """Return the shipped electron table of a medium (columns as in assets/physics/electrons_*.csv)."""
    _known(material)
    return read_table(assets.path(f"physics/electrons_{material}.csv"))


def _known(material: str) -> None:
    if material not in MEDIA:
        raise InputError(say("there are no physics tables for it; known are {media}", media=", ".join(MEDIA)), material)


def _look_up(table: Table, column: str, energy_mev: ArrayLike) -> Floats:
    """Interpolate log-log; linearly in the one cell where a process sets in from zero."""
    energy = np.asarray(energy_mev, dtype=np.float64)
    grid, values = table["energy_mev"], table[column]
    if energy.size and not (energy.min() >= grid[0] * (1 - 1e-9) and energy.max() <= grid[-1] * (1 + 1e-9)):
        raise InputError(
            say("photon and electron tables cover {low} to {high} MeV", low=grid[0], high=grid[-1]),
            say("energy {low:g} to {high:g} MeV", low=energy.min(), high=energy.max()),
            "Keep the spectrum inside that range.",
        )
    positive = values > 0
    logs = np.log(np.where(positive, values, 1.0))
    cell = np.clip(np.searchsorted(grid, energy, side="right") - 1, 0, len(grid) - 2)
    smooth = np.exp(np.interp(np.log(energy), np.log(grid), logs))
    return np.where(positive[cell], smooth, np.interp(energy, grid, values))


def mu_rho_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the total mass attenuation coefficient with coherent scatter, cm2/g.

    Parameters
    ----------
    material : one of MEDIA
    energy_mev : photon energies, 0.01 to 25 MeV, any shape

    Raises
    ------
    InputError
        For an unknown medium or an energy outside the tables.
    """
    return _look_up(photon_table(material), "mu_rho_cm2_g", energy_mev)


def mu_rho_no_coherent_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the mass attenuation coefficient without coherent scatter, cm2/g: the one that makes TERMA."""
    return _look_up(photon_table(material), "mu_rho_no_coherent_cm2_g", energy_mev)


def mu_tr_rho_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the mass energy-transfer coefficient, cm2/g: energy to charged particles, bremsstrahlung included."""
    return _look_up(photon_table(material), "mu_tr_rho_cm2_g", energy_mev)


def mu_en_rho_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the mass energy-absorption coefficient, cm2/g: as mu_tr, less what is radiated as bremsstrahlung."""
    return _look_up(photon_table(material), "mu_en_rho_cm2_g", energy_mev)


def process_cm2_g(material: str, process: str, energy_mev: ArrayLike) -> Floats:
    """Return the mass coefficient of one of PROCESSES, cm2/g."""
    if process not in PROCESSES:
        raise InputError(say("no such photon process; known are {processes}", processes=", ".join(PROCESSES)), process)
    return _look_up(photon_table(material), f"{process}_cm2_g", energy_mev)


def collision_stopping_mev_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the collision stopping power of electrons of kinetic energy `energy_mev`, MeV cm2/g."""
    return _look_up(electron_table(material), "collision_mev_cm2_g", energy_mev)


def radiative_stopping_mev_cm2_g(material: str, energy_mev: ArrayLike) -> Floats:
    """Return the radiative stopping power of electrons, MeV cm2/g."""
    return _look_up(electron_table(material), "radiative_mev_cm2_g", energy_mev)


def medium_shares(density_g_cm3: ArrayLike) -> dict[str, Floats]:
    """Return, for densities of any shape, the share of each medium; shares of a voxel sum to 1 (see ANCHORS)."""
    density = np.clip(np.asarray(density_g_cm3, dtype=np.float64), 0.0, ANCHORS[-1][0])
    at = [a for a, _ in ANCHORS]
    return {
        name: np.interp(density, at, [float(name == medium) for _, medium in ANCHORS])
        for name in dict.fromkeys(medium for _, medium in ANCHORS)
    }


@dataclass(frozen=True, eq=False)
class DensityRule(Value):
    """Ratios to water as functions of density, averaged over a spectrum; exact between its points by ``np.interp``.

    Parameters
    ----------
    density_g_cm3 : (n,) ascending
    attenuation : (n,) mu/rho without coherent scatter, medium over water
    kerma : (n,) mu_en/rho, medium over water: collision kerma, so dose to medium under charged-particle equilibrium
    water_over_medium : (n,) ratio of collision stopping powers, water over medium: turns dose to medium into dose to
        a small amount of water in that medium
    """

    density_g_cm3: FrozenArray
    attenuation: FrozenArray
    kerma: FrozenArray
    water_over_medium: FrozenArray

    def relative_attenuation(self, density_g_cm3: ArrayLike) -> Floats:
        """Return (mu/rho) / (mu/rho of water) for densities of any shape."""
        return np.interp(np.asarray(density_g_cm3), self.density_g_cm3, self.attenuation)

    def relative_kerma(self, density_g_cm3: ArrayLike) -> Floats:
        """Return (mu_en/rho) / (mu_en/rho of water) for densities of any shape."""
        return np.interp(np.asarray(density_g_cm3), self.density_g_cm3, self.kerma)

    def dose_to_water(self, density_g_cm3: ArrayLike) -> Floats:
        """Return dose to water / dose to medium for densities of any shape."""
        return np.interp(np.asarray(density_g_cm3), self.density_g_cm3, self.water_over_medium)


def density_rule(energy_mev: ArrayLike, energy_fluence: ArrayLike) -> DensityRule:
    """Return the ratios to water by density for a photon spectrum.

    Parameters
    ----------
    energy_mev : (m,) bin centres
    energy_fluence : (m,) relative energy fluence per bin (photons times energy), any scale

    Notes
    -----
    Ratios are of spectrum means, weighted with the energy fluence. Stopping-power ratios are taken at 0.45 of the
    photon energy (the mean energy of electrons slowing down is near that), weighted with energy fluence times mu_en of
    water; they change by less than 1 % from 0.5 to 5 MeV in tissue, so the choice is not critical.
    """
    energy = np.asarray(energy_mev, dtype=np.float64)
    weight = np.asarray(energy_fluence, dtype=np.float64)
    if energy.shape != weight.shape or energy.ndim != 1 or not np.all(weight >= 0) or not weight.sum() > 0:
        raise InputError("a spectrum needs one weight per energy, none negative, not all zero", "spectrum")
    of_kerma = weight * mu_en_rho_cm2_g("water", energy)
    electron = np.maximum(0.45 * energy, 0.01)

    def mean(material: str) -> tuple[float, float, float]:
        return (
            float(np.sum(weight * mu_rho_no_coherent_cm2_g(material, energy))),
            float(np.sum(weight * mu_en_rho_cm2_g(material, energy))),
            float(np.sum(of_kerma * collision_stopping_mev_cm2_g(material, electron))),
        )

    water = mean("water")
    media = {name: mean(name) for _, name in ANCHORS}
    return DensityRule(
        own_array(np.array([a for a, _ in ANCHORS])),
        own_array(np.array([media[name][0] / water[0] for _, name in ANCHORS])),
        own_array(np.array([media[name][1] / water[1] for _, name in ANCHORS])),
        own_array(np.array([water[2] / media[name][2] for _, name in ANCHORS])),
    )
