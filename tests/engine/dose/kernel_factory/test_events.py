"""Single events: kinematics and means."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numba import njit

from engine.base.sources import read_table
from engine.dose.kernel_factory import events

TABLE = read_table(Path(__file__).parents[3] / "reference" / "data" / "klein_nishina.csv")


@njit
def many_compton(energy, n):
    out = np.empty((n, 3))
    for i in range(n):
        out[i] = events.compton(energy)
    return out


@njit
def many_knock_on(energy, cut, n):
    out = np.empty((n, 3))
    for i in range(n):
        out[i] = events.knock_on(energy, cut)
    return out


@njit
def many_photoelectrons(energy, n):
    out = np.empty(n)
    for i in range(n):
        out[i] = events.photoelectron_cosine(energy)
    return out


@pytest.mark.parametrize("row", range(len(TABLE["energy_mev"])))
def test_compton_electrons_have_the_klein_nishina_mean_and_maximum(row):
    energy, n = TABLE["energy_mev"][row], 100_000
    found = many_compton(energy, n)
    kinetic = energy - found[:, 0]
    assert kinetic.mean() == pytest.approx(TABLE["mean_electron_mev"][row], abs=4 * kinetic.std() / np.sqrt(n) + 5e-4)
    assert kinetic.max() == pytest.approx(TABLE["maximum_electron_mev"][row], rel=5e-3)
    assert found[:, 0].min() == pytest.approx(TABLE["backscattered_photon_mev"][row], rel=5e-3)


def test_compton_conserves_momentum():
    found = many_compton(3.0, 2000)
    photon, cosine, electron = found.T
    kinetic = 3.0 - photon
    momentum = np.sqrt(kinetic * (kinetic + 2 * events.MC2))
    assert np.allclose(photon * cosine + momentum * electron, 3.0)
    assert np.allclose(photon * np.sqrt(1 - cosine**2), momentum * np.sqrt(1 - electron**2), atol=1e-6)


def test_knock_ons_conserve_momentum_and_never_take_more_than_half():
    given, cosine, own = many_knock_on(2.0, 0.1, 5000).T
    assert given.min() >= 0.1
    assert given.max() <= 1.0 + 1e-12

    def momentum(t):
        return np.sqrt(t * (t + 2 * events.MC2))

    assert np.allclose(momentum(given) * cosine + momentum(2.0 - given) * own, momentum(2.0), rtol=1e-9)


def test_photoelectrons_are_sideways_when_slow_and_forward_when_fast():
    assert abs(many_photoelectrons(0.001, 50_000).mean()) < 0.06
    assert many_photoelectrons(0.02, 50_000).mean() < many_photoelectrons(0.5, 50_000).mean()
    assert np.abs(many_photoelectrons(2.0, 5000)).max() <= 1.0


def test_turning_keeps_length_and_angle():
    rng = np.random.default_rng(2)
    for _ in range(200):
        v = rng.normal(size=3)
        v /= np.linalg.norm(v)
        cosine = rng.uniform(-1, 1)
        out = np.array(events.turn(tuple(v), cosine, rng.uniform(0, 2 * np.pi)))
        assert np.linalg.norm(out) == pytest.approx(1.0)
        assert out @ v == pytest.approx(cosine, abs=1e-9)
    for pole in (1.0, -1.0):
        assert events.turn((0.0, 0.0, pole), 0.3, 1.0)[2] == pytest.approx(0.3 * pole)


def test_emission_narrows_with_energy_and_isotropy_has_no_direction():
    mean = [np.mean([events.emission_cosine(e) for _ in range(3000)]) for e in (1.0, 10.0)]
    assert mean[0] < mean[1] < 1.0
    assert np.linalg.norm(np.mean([events.anywhere() for _ in range(4000)], axis=0)) < 0.05
