"""Monitor units by hand: the formulas' own identities, and the engine against them in water."""

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from engine.dose import hand_check as hand
from tests.support.dose import at_depth, axis, beam, dose, water


def tables():
    return hand.water_tables(load_machine("point-6"))


def test_a_rectangle_turned_has_the_same_square_and_a_square_is_itself():
    assert hand.equivalent_square_mm(50, 200) == hand.equivalent_square_mm(200, 50)
    assert hand.equivalent_square_mm(80, 80) == 80


def test_mayneord_undone_is_one():
    there, back = hand.mayneord(100, 15, 1000, 1200), hand.mayneord(100, 15, 1200, 1000)
    assert there * back == pytest.approx(1, abs=1e-12)
    assert hand.mayneord(15, 15, 1000, 1200) == 1


def test_monitor_units_follow_dose_and_refuse_nonsense():
    def one(gy, sc=1.0):
        return hand.mu_fixed_ssd(gy, sc, 1.0, 0.65, 1000, 15)

    assert one(4.0) == pytest.approx(2 * one(2.0), rel=1e-12)
    for gy, sc in ((2.0, 0.0), (-1.0, 1.0), (float("nan"), 1.0)):
        with pytest.raises(InputError, match="no monitor units"):
            one(gy, sc)


@pytest.mark.parametrize("depth", [50.0, 100.0, 200.0])
def test_the_two_formulas_agree_when_the_ratio_comes_from_depth_dose(depth):
    t, normalised, side = tables(), 100.0, 120.0
    at_point, at_norm = side * (1000 + depth) / 1000, side * (1000 + normalised) / 1000
    unit = t.reference_gy_per_mu(normalised)
    fixed = hand.mu_fixed_ssd(
        2.0, t.sc(side), t.sp(at_norm, normalised), t.pdd(side, depth, normalised), 1000, normalised, gy_per_mu=unit
    )
    centred = hand.mu_isocentric(
        2.0,
        t.sc(side),
        t.sp(at_point, normalised),
        t.tpr(at_point, depth, normalised),
        1000 + depth,
        normalised,
        gy_per_mu=unit,
    )
    assert centred == pytest.approx(fixed, rel=1e-9)
    assert fixed == pytest.approx(2.0 / t.dose(side, depth), rel=1e-9)


def test_outside_the_tables_is_refused():
    with pytest.raises(InputError, match="outside the tables"):
        tables().dose(300.0, 100.0)


@pytest.mark.parametrize(
    ("jaws", "ssd", "depth"),
    [((80.0, 80.0), 900.0, 100.0), ((60.0, 150.0), 950.0, 60.0), ((120.0, 100.0), 1000.0, 180.0)],
)
def test_the_engine_agrees_with_the_hand_in_water(jaws, ssd, depth):
    # An isocentric set-up of a rectangle: the tables know only squares at SSD 1000 mm. The equivalent square is good
    # to a per cent.
    t, normalised = tables(), 100.0
    result = dose(
        water((320.0, 280.0, 320.0), 4.0),
        beam(Aperture((-jaws[0] / 2, jaws[0] / 2), (-jaws[1] / 2, jaws[1] / 2)), (0.0, 1000.0 - ssd, 0.0)),
    )
    setting = hand.equivalent_square_mm(*jaws)
    at_point = setting * (ssd + depth) / 1000
    mu = hand.mu_isocentric(
        1.0,
        t.sc(setting),
        t.sp(at_point, normalised),
        t.tpr(at_point, depth, normalised),
        ssd + depth,
        normalised,
        gy_per_mu=t.reference_gy_per_mu(normalised),
    )
    assert mu * at_depth(axis(result), depth) == pytest.approx(1.0, rel=0.015)


def test_tables_are_plain_depth_doses():
    t = tables()
    assert np.all(np.diff(t.gy_per_mu[:, 10:], axis=1) < 0)
    assert np.all(np.diff(t.gy_per_mu[:, t.depths_mm > 90][:, 0]) > 0)
    assert np.allclose(t.collimator_scatter, 1.0, atol=1e-6)
