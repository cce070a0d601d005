"""Stopping powers of electrons against NIST ESTAR, and ranges by an integration made here."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from engine.base.sources import read_table
from engine.dose import attenuation
from tests.reference.table import held

DATA = Path(__file__).parent / "data"
POWERS = read_table(DATA / "estar_water.csv")
RANGES = read_table(DATA / "estar_water_range.csv")


SUBJECT = "NIST data"
ESTAR = "NIST ESTAR"


def test_stopping_powers_within_a_thousandth():
    energy = POWERS["kinetic_energy_MeV"]
    collision = attenuation.collision_stopping_mev_cm2_g("water", energy)
    radiative = attenuation.radiative_stopping_mev_cm2_g("water", energy)
    held(
        SUBJECT,
        "collision stopping power of water, 0.01 to 20 MeV",
        collision,
        POWERS["S_collision_MeV_cm2_g"],
        rel=1e-3,
        source=ESTAR,
        known="read",
        at=[f"{e:g} MeV" for e in energy],
    )
    # The smallest radiative values are listed with three digits.
    assert np.allclose(radiative, POWERS["S_radiative_MeV_cm2_g"], rtol=1e-3, atol=6e-6)


@pytest.mark.parametrize(("energy", "bone", "lung"), [(1.0, 1.659, 1.827), (2.0, 1.643, 1.802)])
def test_collision_stopping_power_of_tissues(energy, bone, lung):
    """NIST ESTAR [read], listed to three decimals."""
    assert attenuation.collision_stopping_mev_cm2_g("bone_cortical", energy) == pytest.approx(bone, abs=1e-3)
    assert attenuation.collision_stopping_mev_cm2_g("lung", energy) == pytest.approx(lung, abs=1e-3)


def test_tabulated_range_and_yield():
    table, energy = attenuation.electron_table("water"), RANGES["kinetic_energy_MeV"]
    found = np.exp(np.interp(np.log(energy), np.log(table["energy_mev"]), np.log(table["csda_range_g_cm2"])))
    held(
        SUBJECT,
        "range of electrons in water",
        found,
        RANGES["csda_range_g_cm2"],
        rel=1e-3,
        source="ESTAR stopping powers, integrated apart",
        known="read, computed",
        unit=" g/cm²",
        at=[f"{e:g} MeV" for e in energy],
    )
    found = np.interp(energy, table["energy_mev"], table["radiation_yield"])
    assert np.allclose(found[2:], RANGES["radiation_yield"][2:], rtol=1e-2)


def test_range_integrated_here_from_the_look_ups():
    energy = np.geomspace(0.01, 10.0, 20001)
    total = attenuation.collision_stopping_mev_cm2_g("water", energy)
    total = total + attenuation.radiative_stopping_mev_cm2_g("water", energy)
    path = np.trapezoid(energy / total, np.log(energy)) + 2.515e-4
    assert path == pytest.approx(4.975, rel=1e-3)
