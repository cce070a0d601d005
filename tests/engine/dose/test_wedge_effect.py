"""Wedges absorb by energy, harden as water would, and tilt the isodose lines by their angle."""

from dataclasses import replace

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.beams.fluence import fluence_map
from engine.beams.machine_file import load_machine
from engine.beams.wedge import Wedge
from engine.dose.attenuation import mu_rho_no_coherent_cm2_g
from engine.dose.source import spectrum
from engine.dose.wedge_effect import wedge_table, wedged
from engine.space.sampling import trilinear
from tests.support.dose import at_depth, axis, beam, dose, water

POINT = load_machine("point-6")
SLOPE = Wedge("S", "physical", 30, (-100, 100), material="iron", density_g_cm3=7.87, thickness_mm=(1.0, 41.0))
PLATE = SLOPE.but(name="P", position_mm=(-100, 99.9, 100), thickness_mm=(20.0, 20.0, 20.001))
VIRTUAL = Wedge("V", "virtual", 30, (-100, 100), transmission=(2.0, 0.5))
M = POINT.but(wedges=(SLOPE, PLATE, VIRTUAL))
BOX = water((200.0, 200.0, 200.0), 4.0)


def with_wedge(name, orientation=0.0, side=100.0):
    return beam(side, (0.0, 100.0, 0.0)).but(wedge=name, wedge_orientation_deg=orientation)


def test_no_wedge_leaves_the_very_map():
    field = fluence_map(beam(80).aperture, M)
    assert wedged(field, beam(80), M) is field


def test_behind_a_wedge_the_released_energy_is_that_of_its_spectrum():
    # TERMA by depth of the true filtered spectrum against that of water put in its place.
    table, of = wedge_table(M, SLOPE), spectrum(M)
    for thickness in (5.0, 20.0, 40.0):
        mu = mu_rho_no_coherent_cm2_g("iron", of.energy_mev)
        left = of.energy_fluence * of.mu_cm2_g * np.exp(-mu * 7.87 * thickness / 10)
        hardening = np.interp(thickness, table.thickness_mm, table.hardening_g_cm2)
        factor = np.interp(thickness, table.thickness_mm, table.factor[:, 0])
        for depth, tolerance in ((0.0, 2e-3), (5.0, 4e-3), (10.0, 4e-3), (25.0, 8e-3)):
            true = float(left @ np.exp(-of.mu_cm2_g * depth))
            stood_in = factor * float(of.energy_fluence @ (of.mu_cm2_g * np.exp(-of.mu_cm2_g * (depth + hardening))))
            assert stood_in == pytest.approx(true, rel=tolerance)


def test_one_energy_is_absorbed_exponentially():
    one = M.but(spectrum_mev=((1.99, 2.01),), spectrum_fluence=(1.0,))
    open_field = fluence_map(beam(100).aperture, one)
    field = wedged(open_field, with_wedge("S"), one)
    mu = float(mu_rho_no_coherent_cm2_g("iron", 2.0)) * 7.87 / 10
    water_mu = float(mu_rho_no_coherent_cm2_g("water", 2.0))
    row, column = (int(np.argmin(np.abs(a))) for a in (field.y_mm - 30, field.x_mm))
    through = field.fluence[row, column] * np.exp(-water_mu * field.hardening_g_cm2[row, column])
    # 30 mm towards the toe: 1 + 40 * 70 / 200 mm, along a ray that leans by 30 in 1000.
    assert through == pytest.approx(np.exp(-mu * 15.0 * np.sqrt(1 + 0.03**2)), rel=2e-3)


@pytest.mark.parametrize("orientation", [0.0, 90.0, 180.0, 270.0])
def test_the_toe_side_gets_more(orientation):
    toe = {0.0: (0, 1), 90.0: (-1, 0), 180.0: (0, -1), 270.0: (1, 0)}[orientation]
    field = wedged(fluence_map(beam(100).aperture, M), with_wedge("S", orientation), M)
    # The map is to be read with its hardening; alone it falls less than the energy released behind it.
    assert field.at(30 * toe[0], 30 * toe[1]) > 1.05 * field.at(-30 * toe[0], -30 * toe[1])
    across = field.at(30 * toe[1], 30 * toe[0]) / field.at(-30 * toe[1], -30 * toe[0])
    assert across == pytest.approx(1.0, abs=1e-5)


def test_a_virtual_wedge_shapes_and_does_not_harden():
    field = fluence_map(beam(100).aperture, M)
    shaped = wedged(field, with_wedge("V"), M)
    assert shaped.hardening_g_cm2.size == 0
    assert shaped.at(0, 25.0) / shaped.at(0, -25.0) == pytest.approx(2.0 ** (50 / 100), rel=1e-4)


def test_a_plate_hardens_the_depth_dose():
    plain, behind = axis(dose(BOX, beam(100, (0.0, 100.0, 0.0)), M)), axis(dose(BOX, with_wedge("P"), M))
    ratio = [at_depth(behind, d) / at_depth(plain, d) for d in (20.0, 100.0, 180.0)]
    assert ratio[0] < ratio[1] < ratio[2]
    # About 0.3 % per cm of depth for 2 cm of iron at 6 MV; more than 1 % and less than 6 % over 16 cm.
    assert 1.01 < ratio[2] / ratio[0] < 1.06


@pytest.mark.parametrize("machine", ["generic-6", "generic-10"])
@pytest.mark.parametrize("name", ["W30", "W60", "V45"])
def test_isodose_lines_tilt_by_the_angle_of_the_wedge(machine, name):
    m = load_machine(machine)
    result = dose(BOX, with_wedge(name), m)
    depths = np.linspace(25.0, 190.0, 800)

    def curve(z):
        return trilinear(result.gy, result.grid, np.stack([0 * depths, depths, np.full(800, z)], axis=1))

    goal = float(np.interp(100.0, depths, curve(0.0)))
    reached = [float(np.interp(-goal, -curve(z), depths)) for z in (-25.0, 25.0)]
    # The toe points to +Y of the device, which is the patient's head here; the line lies deeper there.
    tilt = np.rad2deg(np.arctan((reached[1] - reached[0]) / 50.0))
    assert tilt == pytest.approx(m.wedge(name).angle_deg, abs=1.5)


def test_the_dose_behind_a_wedge_moves_continuously_with_it():
    a = fluence_map(beam(100).aperture, M)
    slightly = SLOPE.but(thickness_mm=(1.0, 41.05))
    one = wedged(a, with_wedge("S"), M).fluence
    other = wedged(a, with_wedge("S"), M.but(wedges=(slightly,))).fluence
    assert 0 < np.abs(one / np.maximum(other, 1e-6) - 1)[one > 0.1].max() < 2e-3


def test_contaminants_are_absorbed_with_the_rest():
    generic = load_machine("generic-6")
    field = fluence_map(beam(100).aperture, generic)
    behind = wedged(field, with_wedge("W45"), generic)
    assert 0.3 < behind.contamination.max() / field.contamination.max() < 1.0


def test_unknown_wedges_and_directions_are_refused():
    field = fluence_map(beam(100).aperture, M)
    with pytest.raises(InputError, match="no wedge"):
        wedged(field, with_wedge("W99"), M)
    turned = replace(field)
    with pytest.raises(InputError, match="cannot stand"):
        wedged(turned, with_wedge("V", 90.0), M.but(wedges=(VIRTUAL.but(orientations_deg=(0.0, 180.0)),)))
    with pytest.raises(InputError, match="no wedge"):
        dose(BOX, with_wedge("W30"), POINT)


def test_turning_the_wedge_or_the_collimator_is_the_same_for_a_square_field():
    # On a point source the jaws are one square; the toe at +Y turned by 90 degrees lies at -X, either way.
    small = water((140.0, 120.0, 140.0), 5.0)
    by_wedge = dose(small, beam(80).but(wedge="S", wedge_orientation_deg=90.0), M)
    by_collimator = dose(small, beam(80, collimator_deg=90.0).but(wedge="S"), M)
    assert np.allclose(by_wedge.gy, by_collimator.gy, atol=2e-3 * by_wedge.gy.max())
