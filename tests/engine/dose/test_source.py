import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.attenuation import mu_en_rho_cm2_g, mu_rho_no_coherent_cm2_g
from engine.dose.source import contaminant_curve, release, spectrum
from tests.support.dose import at_depth, axis, beam, dose, water

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


def test_contaminants_fall_off_and_end_at_their_range():
    m = load_machine("generic-6")
    step, source, *values = contaminant_curve(m)
    assert (step, source) == (0.05, m.contamination_distance_mm)
    assert values[0] == 1.0
    assert np.all(np.diff(values) <= 0)
    assert values[-1] == 0.0
    assert (len(values) - 1) * step == pytest.approx(m.contamination_range_mm / 10, abs=2 * step)
    # Beyond 25 mm less than 0.05 % of the dose maximum is left, even in a wide field.
    assert m.contamination_share * np.interp(2.5, step * np.arange(len(values)), values) < 5e-4
    assert contaminant_curve(POINT).size == 0


def test_contaminants_add_to_the_build_up_and_to_nothing_deeper():
    box = water((140.0, 60.0, 140.0), (5.0, 2.0, 5.0))
    m = load_machine("generic-6")
    y, with_them = axis(dose(box, beam(100), m))
    bare = m.but(contamination_share=0.0)
    # In proportion to the photon dose, so that the calibration cancels.
    ratio = with_them / axis(dose(box, beam(100), bare))[1]
    ratio = ratio / ratio[y > 35].mean()
    assert ratio[0] > 1.15
    assert np.all(np.diff(ratio[y < 25]) < 1e-4)
    assert np.abs(ratio[y > 27] - 1).max() < 1e-3


def test_contaminants_fall_with_distance_faster_than_photons():
    box = water((140.0, 40.0, 140.0), (5.0, 2.0, 5.0))
    m = load_machine("generic-6")
    bare = m.but(contamination_share=0.0)

    def share(further):
        one = beam(100 * 1000 / (1000 + further), (0.0, -float(further), 0.0))
        return axis(dose(box, one, m))[1][0] / axis(dose(box, one, bare))[1][0]

    assert 1 < share(200) < share(0) < share(-100)


def test_surface_dose_grows_linearly_with_the_field():
    # J. Med. Phys. 45 (2020) 175, Table 4, 6 MV: 10.5 +- 0.7, 16.2 +- 0.9 and 26 +- 2.3 % for 5, 10 and 20 cm fields.
    found = {}
    for side in (50.0, 100.0, 200.0):
        wide = side * 1.1 + 140
        wide = 10 * round(wide / 10)
        _, d = axis(dose(water((wide, 40.0, wide), (5.0, 0.5, 5.0)), beam(side), "generic-6"))
        # At 0.07 mm, by a parabola through the first three voxels: the curve bends there.
        found[side] = 100 * (d[0] - 0.36 * (d[1] - d[0]) + 0.2448 * (d[2] - 2 * d[1] + d[0])) / d.max()
    assert found[50.0] == pytest.approx(10.5, abs=1.4)
    assert found[100.0] == pytest.approx(16.2, abs=1.8)
    assert found[200.0] == pytest.approx(26.0, abs=4.6)
    assert (found[200.0] - found[100.0]) / (found[100.0] - found[50.0]) == pytest.approx(2.0, abs=0.5)


def test_without_flattening_filter_the_beam_is_softer_and_peaked_forward():
    flat, peaked = load_machine("generic-6"), load_machine("generic-6-unflattened")
    assert peaked.mean_energy_mev() < flat.mean_energy_mev()
    assert peaked.extra_focal_share == pytest.approx(0.68 * flat.extra_focal_share, rel=0.01)
    assert np.all(np.diff(peaked.horn_fluence) < 0)
    assert max(peaked.softening_mu) < 1.02 < max(flat.softening_mu)
    box = water((280.0, 240.0, 280.0), 5.0)
    near = {m.name: axis(dose(box, beam(100), m)) for m in (flat, peaked)}
    fall = {name: at_depth(c, 200) / at_depth(c, 100) for name, c in near.items()}
    # PDD(20)/PDD(10): 0.575 and 0.548 (commissioning papers, memory).
    assert fall["generic-6"] - fall["generic-6-unflattened"] == pytest.approx(0.027, abs=0.012)
