"""The shipped point kernels against shares and laws that follow from the Klein-Nishina formula and NIST data alone."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import assets
from engine.base.sources import read_table
from engine.dose import attenuation
from tests.reference.table import held

SHARES = read_table(Path(__file__).parent / "data" / "kernel_energy_fractions.csv")
FORMULA = read_table(Path(__file__).parent / "data" / "klein_nishina.csv")
COMPONENTS = ("primary", "first_scatter", "second_scatter", "multiple_scatter", "brems_annihilation")
MC2 = 0.510998950


@pytest.fixture(scope="module")
def kernels():
    with np.load(assets.path("kernels/water_points.npz")) as file:
        return {name: file[name] for name in file.files}


def totals(kernels):
    return kernels["share"].sum(axis=(2, 3), dtype=np.float64) + kernels["escaped"]


def compton(energy, low_deg=0.0, high_deg=180.0):
    """Return the kept fraction k and the probability weight of Klein-Nishina scattering at Gauss points in the cosine."""

    def density(cosine):
        k = 1 / (1 + energy / MC2 * (1 - cosine))
        return k, k**2 * (k + 1 / k - 1 + cosine**2)

    nodes, weights = np.polynomial.legendre.leggauss(300)
    low, high = np.cos(np.deg2rad([high_deg, low_deg]))
    k, here = density(low + (high - low) * 0.5 * (nodes + 1))
    return k, here * weights * 0.5 * (high - low) / np.sum(density(nodes)[1] * weights)


def mu(energy):
    return attenuation.mu_rho_no_coherent_cm2_g("water", energy)


SUBJECT = "Spectrum, kerma and kernels"


@pytest.mark.parametrize("component", range(5))
def test_shares_of_every_component(kernels, component):
    energy = SHARES["energy_MeV"]
    rows = [np.flatnonzero(np.isclose(kernels["energy_mev"], e))[0] for e in energy]
    name = COMPONENTS[component]
    held(
        SUBJECT,
        f"kernel share {name.replace('_', ' ')}, 0.1 to 20 MeV",
        totals(kernels)[rows, component],
        SHARES[name],
        tol=np.where(energy > 0.2, 0.005, 0.01),
        source="recursion over Klein-Nishina with NIST data",
        known="read, computed",
        at=[f"{e:g} MeV" for e in energy],
    )


def test_all_components_integrate_to_one(kernels):
    whole = totals(kernels).sum(axis=1)
    held(
        SUBJECT,
        "all components together, 20 energies",
        whole,
        np.ones_like(whole),
        tol=1e-4,
        source="conservation of energy",
        known="exact",
        digits=5,
    )
    assert kernels["share"].min() >= 0


def test_the_statistics_are_good_enough_for_the_tolerance(kernels):
    assert kernels["share_error"].max() < 0.0005


def test_primary_is_the_energy_absorbed_without_bremsstrahlung(kernels):
    """mu_en/mu, not mu_tr/mu: from 2 MeV the two differ by more than the statistics."""
    energy = kernels["energy_mev"]
    absorbed = attenuation.mu_en_rho_cm2_g("water", energy) / mu(energy)
    transferred = attenuation.mu_tr_rho_cm2_g("water", energy) / mu(energy)
    found = totals(kernels)[:, 0]
    assert np.all(np.abs(found - absorbed) < 0.004)
    high = energy >= 8
    assert np.all(np.abs(found - absorbed)[high] < np.abs(found - transferred)[high])


def test_first_scatter_is_the_klein_nishina_average(kernels):
    for energy, found in zip(kernels["energy_mev"], totals(kernels)[:, 1]):
        k, weight = compton(energy)
        low = np.maximum(k * energy, 0.01)
        absorbed = attenuation.mu_en_rho_cm2_g("water", low) / mu(low)
        share = attenuation.process_cm2_g("water", "incoherent", energy) / mu(energy)
        assert found == pytest.approx(share * np.sum(weight * k * absorbed), abs=0.003), energy


@pytest.mark.parametrize(
    ("energy", "bands"),
    [(0.5, ((10, 20), (20, 40), (40, 60), (60, 90), (90, 130))), (2.0, ((20, 40), (60, 90), (90, 130)))],
)
def test_first_scatter_by_angle_and_distance(kernels, energy, bands):
    """Photons scattered once fly straight: energy by angle follows Klein-Nishina, by distance exp(-mu r).

    At angles and distances where the way of the recoil electrons does not matter.
    """
    row = np.flatnonzero(np.isclose(kernels["energy_mev"], energy))[0]
    share = kernels["share"][row, 1].astype(np.float64)
    edges, radii = kernels["angle_edges_deg"], kernels["radius_edges_cm"]
    compton_share = attenuation.process_cm2_g("water", "incoherent", energy) / mu(energy)
    for low, high in bands:
        k, weight = compton(energy, low, high)
        scattered = k * energy
        absorbed = attenuation.mu_en_rho_cm2_g("water", scattered) / mu(scattered)
        # The table ends at its last radius; what lies beyond is not known by angle.
        expected = compton_share * weight * k * absorbed * (1 - np.exp(-mu(scattered) * radii[-1]))
        found = share[(edges[:-1] >= low) & (edges[1:] <= high)].sum(axis=0)
        assert found.sum() == pytest.approx(expected.sum(), abs=0.001), (low, high)
        for reach in (5.0, 15.0, 40.0):
            within = np.interp(reach, radii[1:], np.cumsum(found)) / found.sum()
            share_within = (1 - np.exp(-mu(scattered) * reach)) / (1 - np.exp(-mu(scattered) * radii[-1]))
            law = np.sum(expected * share_within) / expected.sum()
            assert within == pytest.approx(law, abs=0.008), (low, high, reach)


def test_primary_ends_within_the_range_of_the_electrons(kernels):
    table, radii = attenuation.electron_table("water"), kernels["radius_edges_cm"]
    for row, energy in enumerate(kernels["energy_mev"]):
        reach = np.interp(energy, table["energy_mev"], table["csda_range_g_cm2"])
        primary = kernels["share"][row, 0].sum(axis=0)
        assert primary[radii[:-1] > 1.05 * reach].sum() < 5e-4
        if energy >= 1:
            assert primary[radii[:-1] > 0.3 * reach].sum() > 0.01


def test_kernels_point_forward_and_more_so_with_energy(kernels):
    cosine = np.cos(np.deg2rad(kernels["angle_edges_deg"]))
    middle = 0.5 * (cosine[1:] + cosine[:-1])
    primary = kernels["share"][:, 0].sum(axis=2)
    forward = primary @ middle / primary.sum(axis=1)
    chosen = np.isin(kernels["energy_mev"].round(6), (0.5, 1.0, 2.0, 4.0, 8.0, 20.0))
    assert np.all(np.diff(forward[chosen]) > 0)
    assert forward[chosen][0] > 0


@pytest.mark.parametrize("row", range(len(FORMULA["energy_mev"])))
def test_the_formula_used_here_gives_the_listed_means_and_cross_sections(row):
    energy = FORMULA["energy_mev"][row]
    k, weight = compton(energy)
    assert np.sum(weight * (1 - k)) * energy == pytest.approx(FORMULA["mean_electron_mev"][row], rel=2e-3)
    alpha = energy / MC2
    assert energy * 2 * alpha / (1 + 2 * alpha) == pytest.approx(FORMULA["maximum_electron_mev"][row], abs=1e-3)
    # Ten electrons per molecule of water: the free-electron cross section holds for XCOM's incoherent one above 0.1 MeV.
    per_electron = attenuation.process_cm2_g("water", "incoherent", energy) / (0.55508 * 0.602214)
    assert per_electron == pytest.approx(FORMULA["cross_section_barn"][row], rel=4e-3)
