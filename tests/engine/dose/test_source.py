import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.attenuation import mu_en_rho_cm2_g, mu_rho_no_coherent_cm2_g
from engine.dose.source import release, spectrum

POINT = load_machine("point-6")
NARROW = POINT.but(spectrum_mev=((1.24, 1.26),), spectrum_fluence=(1.0,))


def half(energy):
    return np.full_like(energy, 0.5)


def test_one_energy_falls_exponentially():
    table = release(NARROW, half)
    mu = float(mu_rho_no_coherent_cm2_g("water", 1.25))
    depth = table.depth_step_g_cm2 * np.arange(table.terma_cm2_g.shape[0])
    assert np.allclose(table.terma_cm2_g[:, 0], mu * np.exp(-mu * depth), rtol=3e-3)
    assert np.allclose(table.primary, 0.5)


def test_terma_and_hardening_of_the_mohan_spectrum():
    # TERMA per energy fluence, mean attenuation and transmission of the Mohan 1985 6 MV spectrum with NIST data,
    # computed independently (photon transport behind the central-axis tables in tests/reference).
    beam = spectrum(POINT)
    table = release(POINT, half)
    at = [round(d / table.depth_step_g_cm2) for d in (0.0, 10.0)]
    per_fluence = [float(beam.energy_fluence @ np.exp(-beam.mu_cm2_g * d)) for d in (0.0, 10.0, 20.0)]
    assert table.terma_cm2_g[at[0], 0] == pytest.approx(0.04813, rel=5e-3)
    assert table.terma_cm2_g[at[1], 0] / per_fluence[1] == pytest.approx(0.04586, rel=5e-3)
    assert per_fluence[1] == pytest.approx(0.625, abs=2e-3)
    assert per_fluence[2] == pytest.approx(0.399, abs=2e-3)


def test_the_mean_collision_share_follows_hardening():
    beam = spectrum(POINT)
    share = mu_en_rho_cm2_g("water", beam.energy_mev) / beam.mu_cm2_g
    assert float(beam.after(0.0) @ share) == pytest.approx(0.518, abs=3e-3)
    assert float(beam.after(10.0) @ share) == pytest.approx(0.531, abs=3e-3)


def test_softening_changes_the_mean_attenuation_as_asked():
    m = POINT.but(softening_deg=(0.0, 5.0, 15.0), softening_mu=(1.0, 1.05, 1.16))
    table = release(m, half)
    tangent = np.tan(np.deg2rad(5.0))
    column = np.interp(tangent, table.tangent_step * np.arange(table.terma_cm2_g.shape[1]), table.terma_cm2_g[0])
    assert column / table.terma_cm2_g[0, 0] == pytest.approx(1.05, abs=2e-3)
    assert np.all(table.terma_cm2_g[60, 1:] < table.terma_cm2_g[60, 0])
