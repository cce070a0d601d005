"""Mass attenuation coefficients against NIST XCOM; energy absorption against its own identities and a recalled table."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from engine.base.sources import read_table
from engine.dose import attenuation
from tests.reference.table import held

DATA = Path(__file__).parent / "data"
WATER = read_table(DATA / "nist_water.csv")
MATERIALS = read_table(DATA / "nist_materials.csv")
TRANSFER = read_table(DATA / "nist_water_transfer.csv")
PUBLISHED = read_table(DATA / "hubbell_seltzer_water.csv")
OURS = {
    "water_liquid": "water",
    "soft_tissue_ICRU_4comp": "soft_tissue",
    "muscle_skeletal_ICRP": "muscle",
    "adipose_ICRP": "adipose",
    "lung_ICRP": "lung",
    "bone_compact_ICRU": "bone_compact",
    "bone_cortical_ICRP": "bone_cortical",
    "air_dry": "air",
    "aluminium": "aluminium",
    "tungsten": "tungsten",
}


@pytest.mark.parametrize("process", attenuation.PROCESSES)
def test_water_by_process_within_a_thousandth(process):
    found = attenuation.process_cm2_g("water", process, WATER["energy_MeV"])
    assert np.allclose(found, WATER[f"{process}_cm2_g"], rtol=1e-3, atol=1e-12)


def test_water_total_within_a_thousandth():
    found = attenuation.mu_rho_cm2_g("water", WATER["energy_MeV"])
    held(
        "NIST data",
        "mass attenuation of water, 0.01 to 20 MeV",
        found,
        WATER["mu_over_rho_total_cm2_g"],
        rel=1e-3,
        source="NIST XCOM",
        known="read",
        digits=4,
        unit=" cm²/g",
        at=[f"{e:g} MeV" for e in WATER["energy_MeV"]],
    )


def test_materials_within_a_thousandth():
    found, expected, names = [], [], []
    for theirs, ours in OURS.items():
        row = MATERIALS.text("material").index(theirs)
        for energy in ("0.06", "0.1", "0.5", "1", "2", "6", "10"):
            found.append(float(attenuation.mu_rho_cm2_g(ours, float(energy))))
            expected.append(float(MATERIALS[f"mu_rho_{energy}MeV"][row]))
            names.append(f"{theirs}, {energy} MeV")
    held(
        "NIST data",
        "mass attenuation of ten materials at seven energies",
        found,
        expected,
        rel=1e-3,
        source="NIST XCOM",
        known="read",
        digits=4,
        unit=" cm²/g",
        at=names,
    )


def test_transfer_and_absorption_against_a_separate_calculation():
    energy = TRANSFER["energy_MeV"]
    mu_tr = attenuation.mu_tr_rho_cm2_g("water", energy)
    mu_en = attenuation.mu_en_rho_cm2_g("water", energy)
    for name, found, column in (
        ("energy transfer", mu_tr, "mutr_over_rho_computed_cm2_g"),
        ("energy absorption", mu_en, "muen_over_rho_computed_cm2_g"),
    ):
        held(
            "NIST data",
            f"mass {name} of water",
            found,
            TRANSFER[column],
            rel=2e-3,
            source="NIST XCOM and ESTAR, evaluated apart",
            known="read, computed",
            digits=4,
            unit=" cm²/g",
            at=[f"{e:g} MeV" for e in energy],
        )


def test_absorption_is_near_the_recalled_table():
    energy, expected = PUBLISHED["energy_MeV"], PUBLISHED["muen_over_rho_published_cm2_g"]
    allowed = np.where((energy >= 0.5) & (energy <= 4), 0.003, np.where(energy > 12, 0.017, 0.011))
    assert np.all(np.abs(attenuation.mu_en_rho_cm2_g("water", energy) / expected - 1) < allowed)
