"""Look-ups of mass coefficients and the rule from density to medium."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import assets
from engine.base.errors import InputError
from engine.base.sources import read_table
from engine.dose import attenuation


def energies():
    return st.floats(0.01, 25.0)


@pytest.mark.parametrize("medium", attenuation.MEDIA)
def test_every_medium_has_tables_with_their_source(medium):
    assert attenuation.photon_table(medium).source.known == "computed"
    assert "XCOM" in attenuation.photon_table(medium).source.place
    assert "ESTAR" in attenuation.electron_table(medium).source.place


@pytest.mark.parametrize("medium", attenuation.MEDIA)
def test_pair_production_rises_and_the_total_is_smooth_between_the_listed_energies(medium):
    """An interpolation that swings between the energies of the source would bend the curve."""
    energy = np.geomspace(1.1, 24, 300)
    assert np.all(np.diff(attenuation.process_cm2_g(medium, "pair_nuclear", energy)) > 0)
    assert np.all(np.diff(attenuation.process_cm2_g(medium, "pair_electron", energy[energy > 2.05])) > 0)
    slope = np.diff(np.log(attenuation.mu_rho_cm2_g(medium, energy))) / np.diff(np.log(energy))
    assert np.max(np.abs(np.diff(slope))) < 0.06


@pytest.mark.parametrize("medium", attenuation.MEDIA)
@given(energy=energies())
def test_processes_add_up_and_the_coefficients_are_nested(medium, energy):
    total = attenuation.mu_rho_cm2_g(medium, energy)
    parts = sum(attenuation.process_cm2_g(medium, p, energy) for p in attenuation.PROCESSES)
    assert parts == pytest.approx(total, rel=2e-3)
    assert total >= attenuation.mu_rho_no_coherent_cm2_g(medium, energy) > 0
    assert attenuation.mu_rho_no_coherent_cm2_g(medium, energy) > attenuation.mu_tr_rho_cm2_g(medium, energy)
    assert attenuation.mu_tr_rho_cm2_g(medium, energy) >= attenuation.mu_en_rho_cm2_g(medium, energy) > 0


def test_look_up_returns_the_table_at_its_points_and_keeps_the_shape():
    table = attenuation.photon_table("muscle")
    grid = table["energy_mev"]
    assert np.allclose(attenuation.mu_rho_cm2_g("muscle", grid), table["mu_rho_cm2_g"], rtol=1e-12)
    assert attenuation.mu_rho_cm2_g("muscle", np.ones((2, 3))).shape == (2, 3)
    assert attenuation.mu_rho_cm2_g("muscle", []).shape == (0,)


def test_pairs_are_absent_below_their_threshold_and_set_in_above():
    pair = attenuation.process_cm2_g("water", "pair_nuclear", [0.5, 1.0219, 1.0235, 1.1, 2.0])
    assert pair[0] == pair[1] == 0
    assert 0 < pair[2] < pair[3] < pair[4]


def test_the_k_edge_of_tungsten_is_there():
    below, above = attenuation.mu_rho_cm2_g("tungsten", [0.0695, 0.06953])
    assert above > 4 * below


@pytest.mark.parametrize("energy", [0.0, 0.009, 25.1, np.nan, -1.0])
def test_energies_outside_the_tables_are_refused(energy):
    with pytest.raises(InputError, match="MeV"):
        attenuation.mu_rho_cm2_g("water", energy)


def test_unknown_names_are_refused():
    with pytest.raises(InputError, match="cheese"):
        attenuation.mu_rho_cm2_g("cheese", 1.0)
    with pytest.raises(InputError, match="photonuclear"):
        attenuation.process_cm2_g("water", "photonuclear", 1.0)


@given(st.floats(0.0, 30.0))
def test_shares_of_a_voxel_sum_to_one(density):
    shares = attenuation.medium_shares(density)
    assert sum(shares.values()) == pytest.approx(1.0)
    assert all(s >= 0 for s in shares.values())


@pytest.mark.parametrize(
    ("density", "medium"),
    [(0.0012, "air"), (0.26, "lung"), (0.94, "adipose"), (1.0, "water"), (1.06, "muscle"), (1.92, "bone_cortical")],
)
def test_densities_stand_for_the_expected_medium(density, medium):
    assert attenuation.medium_shares(density)[medium] == pytest.approx(1.0)


def spectrum():
    table = read_table(assets.path("physics/spectra/spectrum_6mv.csv"))
    return table["E_mid_MeV"], table["E_mid_MeV"] * table["relative_fluence"]


def test_water_is_exactly_water_and_ratios_are_those_of_the_media():
    energy, weight = spectrum()
    rule = attenuation.density_rule(energy, weight)
    assert rule.relative_attenuation(1.0) == rule.relative_kerma(1.0) == rule.dose_to_water(1.0) == 1.0
    water = np.sum(weight * attenuation.mu_rho_no_coherent_cm2_g("water", energy))
    bone = np.sum(weight * attenuation.mu_rho_no_coherent_cm2_g("bone_cortical", energy))
    assert rule.relative_attenuation(1.9) == pytest.approx(bone / water, rel=1e-12)
    assert rule.dose_to_water(1.9) == pytest.approx(1.112, abs=0.005)  # water/bone 1.115 at 1 MeV, 1.110 at 2 MeV


def test_the_rule_is_continuous_between_its_anchors():
    rule = attenuation.density_rule(*spectrum())
    density = np.linspace(0, 3, 30001)
    assert np.max(np.abs(np.diff(rule.relative_attenuation(density)))) < 5e-4
    blended = sum(
        share * attenuation.density_rule(*spectrum()).relative_kerma(at)
        for (name, share), at in zip(attenuation.medium_shares(1.4).items(), (0.001, 0.3, 0.94, 1.0, 1.06, 2.0))
    )
    assert rule.relative_kerma(1.4) == pytest.approx(blended, rel=1e-9)


@pytest.mark.parametrize("weight", [[0.0, 0.0], [1.0, -1.0], [1.0]])
def test_a_spectrum_that_is_none_is_refused(weight):
    with pytest.raises(InputError, match="spectrum"):
        attenuation.density_rule([1.0, 2.0], weight)
