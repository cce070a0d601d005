"""Tables of water for the Monte Carlo."""

from __future__ import annotations

import numpy as np
import pytest

import assets
from engine.dose import attenuation
from engine.dose.kernel_factory import water


@pytest.fixture(scope="module")
def data():
    return water.read_water(assets.path("physics"))


def test_photon_grid_reproduces_the_tables(data):
    energy = np.exp(data.photon_start + np.arange(len(data.mu_cm)) / data.photon_scale)
    inside = (energy > 0.0101) & (energy < 24.9)
    expected = attenuation.mu_rho_no_coherent_cm2_g("water", energy[inside])
    assert np.allclose(data.mu_cm[inside], expected, rtol=2e-3)
    assert np.all(data.compton <= data.photo)
    assert np.all(data.photo <= 1 + 1e-12)


def test_the_ladder_spends_the_collision_stopping_power(data):
    """Path of a step times restricted loss plus what knock-on electrons take is the whole collision loss."""
    middle = np.sqrt(data.rung_mev[1:] * data.rung_mev[:-1])
    per_g = sum(z * n for z, n in water.WATER_ATOMS_PER_G)
    _, taken = water.knock_ons(middle, per_g, water.CUT_KNOCK_ON_MEV)
    found = np.diff(data.rung_mev) / data.path_cm + taken
    assert np.allclose(found, attenuation.collision_stopping_mev_cm2_g("water", middle), rtol=2e-3)


def test_radiation_carries_the_radiative_stopping_power(data):
    middle = np.sqrt(data.rung_mev[1:] * data.rung_mev[:-1])
    at = np.linspace(0, 1, 100_001)
    for k in (100, 150, len(middle) - 1):
        share = np.interp(at, np.linspace(0, 1, data.radiation.shape[1]), data.radiation[k])
        mean = np.mean(water.CUT_RADIATION_MEV * (middle[k] / water.CUT_RADIATION_MEV) ** share)
        expected = attenuation.radiative_stopping_mev_cm2_g("water", middle[k])
        assert data.radiate_cm[k] * mean == pytest.approx(expected, rel=5e-3)


def test_knock_ons_need_twice_the_cut():
    number, energy = water.knock_ons(np.array([0.15, 0.2, 1.0]), 3.3e23, 0.1)
    assert number[0] == number[1] == energy[0] == 0
    assert number[2] > 0
    assert 0.1 < energy[2] / number[2] < 0.5


def test_schiff_falls_towards_the_tip():
    shape = water.schiff_shape(6.0, np.linspace(0.01, 5.99, 200))
    assert np.all(shape >= 0)
    assert shape[0] > 2 * shape[-1]
