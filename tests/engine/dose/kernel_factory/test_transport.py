"""Histories: energy conservation, repeatability, and electrons that go as far as they should."""

from __future__ import annotations

import numpy as np
import pytest

import assets
from engine.dose.attenuation import electron_table
from engine.dose.kernel_factory import transport
from engine.dose.kernel_factory.water import read_water


@pytest.fixture(scope="module")
def data():
    return read_water(assets.path("physics"))


@pytest.mark.parametrize("energy", [0.1, 1.3, 6.0, 20.0])
def test_energy_is_conserved_and_equal_seeds_give_equal_results(data, energy):
    first = transport.photon_histories(data, energy, 300, 5)
    assert first.sum() == pytest.approx(300 * energy, rel=1e-12)
    assert first.min() >= 0
    assert np.array_equal(first, transport.photon_histories(data, energy, 300, 5))
    assert not np.array_equal(first, transport.photon_histories(data, energy, 300, 6))


def test_no_pairs_no_annihilation_below_the_threshold(data):
    few = transport.photon_histories(data, 0.3, 2000, 1)
    assert few[transport.RADIATED].sum() < 0.001 * few.sum()


def test_primary_energy_stays_within_the_range_of_the_electrons(data):
    table, radii = electron_table("water"), transport.radius_edges_cm()
    dose = transport.photon_histories(data, 2.0, 5000, 3)[transport.PRIMARY].sum(axis=0)[:-1]
    reach = np.interp(2.0, table["energy_mev"], table["csda_range_g_cm2"])
    assert dose[radii[:-1] > reach].sum() == 0
    assert dose[(radii[:-1] > 0.3 * reach)].sum() > 0


def test_edges_span_the_sphere():
    angles, radii = transport.angle_edges_deg(), transport.radius_edges_cm()
    assert (angles[0], angles[-1], len(angles)) == (0.0, 180.0, transport.ANGLE_BINS + 1)
    assert (radii[0], radii[1], len(radii)) == (0.0, transport.FIRST_CM, transport.RADIUS_BINS + 1)
    assert radii[-1] == pytest.approx(60.0)
    assert np.all(np.diff(angles) > 0)
    assert np.all(np.diff(radii) > 0)


def test_electrons_leave_next_to_nothing_beyond_their_range_and_most_of_it_forward(data):
    table = electron_table("water")
    reach = np.interp(6.0, table["energy_mev"], table["csda_range_g_cm2"])
    depth = transport.electron_histories(data, 6.0, 2000, 4, 200)
    z = (np.arange(200) + 0.5) * transport.DEPTH_BIN_CM
    # Electrons that happen to make few knock-ons go a little further than the mean.
    assert depth[z > 1.02 * reach].sum() < 2e-3 * depth.sum()
    assert depth[z > 1.15 * reach].sum() < 1e-4 * depth.sum()
    assert 0.94 < depth.sum() / 6.0 < 0.985
    assert 0.36 < np.sum(depth * z) / depth.sum() / reach < 0.5
