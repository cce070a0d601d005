import numpy as np
import pytest

from engine.beams.beam import Aperture
from engine.beams.fluence import fluence_map
from engine.beams.machine_file import load_machine
from engine.dose.attenuation import mu_rho_no_coherent_cm2_g
from engine.dose.fan import Window, fan_of, fill, passed, window_of
from engine.dose.medium import medium_of
from engine.dose.sight import sight_of
from engine.dose.source import contaminant_curve, release
from engine.space.grid import Grid
from tests.support.dose import beam, water

POINT = load_machine("point-6")
ONE_ENERGY = POINT.but(spectrum_mev=((1.24, 1.26),), spectrum_fluence=(1.0,))
BOX = water((200.0, 200.0, 200.0), 4.0)


def fan_through(box, one, wanted=None, machine=POINT):
    medium = medium_of(box, machine)
    sight, window = sight_of(one, "HFS", 1000.0), window_of([one.aperture])
    return medium, sight, window, fan_of(window, sight, medium.coarse_g_cm3, medium.coarse, wanted or box.grid)


def filled(box, one, machine=ONE_ENERGY, share=0.5):
    medium, sight, window, fan = fan_through(box, one, None, machine)
    table = release(machine, lambda e: np.full_like(e, share))
    field = fluence_map(one.aperture, machine, fan.step_mm / np.sqrt(12))
    curve = contaminant_curve(machine)
    return fan, fill(fan, sight, medium, table, field, window, curve)


def places(fan):
    planes, rows, columns = fan.shape
    eta = fan.step_mm / 1000
    return (
        fan.first[2] * np.exp(eta * np.arange(planes)),
        1000 * (fan.first[1] + eta * np.arange(rows)),
        1000 * (fan.first[0] + eta * np.arange(columns)),
    )


@pytest.mark.parametrize(("gantry", "couch"), [(0.0, 0.0), (37.0, 0.0), (90.0, 20.0)])
def test_it_holds_the_field_and_all_matter_on_its_way(gantry, couch):
    _, sight, _, fan = fan_through(BOX, beam(60, (0.0, 100.0, 0.0), gantry, 15.0, couch))
    t, y, x = places(fan)
    assert max(x[0], y[0]) < -60 < 60 < min(x[-1], y[-1])
    corners = sight.corners(BOX.grid)[:, 2]
    assert corners.min() - 10 < t[0] < 1000 - 100
    assert 1000 + 100 < t[-1] < corners.max() + 10


def test_a_symmetric_field_has_a_symmetric_fan():
    _, y, x = places(fan_through(BOX, beam(60))[3])
    assert np.allclose(x, -x[::-1])
    assert np.allclose(y, -y[::-1])


def test_a_beam_that_misses_has_none():
    assert fan_through(BOX, beam(Aperture((180.0, 200.0), (-10.0, 10.0)), (0.0, 100.0, 0.0)))[3] is None


def test_a_small_dose_grid_needs_a_short_fan():
    small = Grid((0.0, 50.0, 0.0), (2.5, 2.5, 2.5), (4, 4, 4))
    whole, part = (fan_through(BOX, beam(100), wanted)[3] for wanted in (None, small))
    assert part.shape[0] * part.step_mm < 0.8 * whole.shape[0] * whole.step_mm


def test_one_energy_releases_exp_times_volume():
    # T = mu exp(-mu d) (SAD / t)^2 x secant, times density and the cell's volume (t / SAD)^3: closed form.
    fan, out = filled(BOX, beam(80))
    mu = float(mu_rho_no_coherent_cm2_g("water", 1.25))
    t, y, x = places(fan)
    for n, row, column in ((10, fan.shape[1] // 2, fan.shape[2] // 2), (60, fan.shape[1] // 2 + 9, fan.shape[2] // 2 - 12)):
        secant = np.sqrt(1 + (x[column] ** 2 + y[row] ** 2) / 1e6)
        depth = (t[n] - 1000) / 10 * secant
        truth = 0.5 * mu * np.exp(-mu * depth) * secant * (t[n] / 1000)
        assert out.energy[n, row, column] == pytest.approx(truth, rel=3e-3)
        assert out.rho[n, row, column] == pytest.approx(t[n] / 1000, rel=1e-5)


def test_what_rays_pass_is_remembered_while_a_leaf_moves_and_not_while_the_gantry_turns():
    medium, sight, _, fan = fan_through(BOX, beam(80, gantry_deg=30.0))
    rho, depth = passed(fan, sight, medium)
    kept = rho.copy(), depth.copy()
    edges = tuple(np.linspace(-200, 200, 61).tolist())
    closing = Aperture((-40.0, 40.0), (-40.0, 40.0), edges, tuple((-40.0, 40.0 - (n == 30)) for n in range(60)))
    again_medium, again_sight, _, again_fan = fan_through(BOX, beam(closing, gantry_deg=30.0))
    again = passed(again_fan, again_sight, again_medium)
    assert again[0] is rho
    assert again[1] is depth
    filled(BOX, beam(80, gantry_deg=30.0))
    assert np.array_equal(rho, kept[0])
    assert np.array_equal(depth, kept[1])
    turned = fan_through(BOX, beam(80, gantry_deg=31.0))
    assert not np.array_equal(passed(turned[3], turned[1], turned[0])[1], depth)


def test_nothing_is_released_outside_the_window():
    fan, out = filled(BOX, beam(40), ONE_ENERGY.but(jaw_transmission=0.1))
    _, y, x = places(fan)
    far = np.abs(x) > 20 + 36
    assert out.energy[:, :, far].max() == 0
    assert out.energy[:, :, np.abs(x) < 40].min() >= 0
    assert out.energy[30, np.abs(y) < 30][:, (x > 24) & (x < 34)].min() > 0


def test_contaminants_fall_with_depth():
    fan, out = filled(BOX, beam(100), load_machine("generic-6"))
    line = out.soft[:, fan.shape[1] // 2, fan.shape[2] // 2]
    t = places(fan)[0]
    inside = line[t > 1001]
    assert inside[0] > 0.1
    assert np.all(np.diff(inside) <= 0)
    assert inside[-1] == 0


def test_shares_of_the_window_and_the_rest_are_one_smoothly():
    window = Window((-20.0, 30.0), (-10.0, 10.0))
    x = np.linspace(-80, 90, 341)
    share = window.share(x, np.zeros(1))[0]
    assert np.all(share[(x > -39.9) & (x < 49.9)] == 1)
    assert np.all(share[(x < -56.1) | (x > 66.1)] == 0)
    assert np.abs(np.diff(share)).max() < 0.05


def test_the_window_keeps_to_what_the_leaves_open():
    edges = (-20.0, -10.0, 0.0, 10.0, 20.0)
    leaves = ((0.0, 0.0), (-5.0, 12.0), (-8.0, 6.0), (3.0, 3.0))
    assert window_of([Aperture((-50.0, 50.0), (-50.0, 50.0), edges, leaves)]) == Window((-8.0, 12.0), (-10.0, 10.0))
    assert window_of([Aperture((-50.0, 50.0), (-50.0, 50.0), edges, ((0.0, 0.0),) * 4)]) is None
    assert window_of([Aperture((10.0, 10.0), (-50.0, 50.0))]) is None
