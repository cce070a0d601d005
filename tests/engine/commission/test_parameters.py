"""What each parameter does to a machine, and which of them given data can tell."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import frozen_array
from engine.beams.machine_file import load_machine
from engine.commission.curves import Curve
from engine.commission.parameters import built, filtered, horned, parameters_for, softened, stretched

START = load_machine("generic-6")


def depth_dose(side=100.0, to=300.0, step=5.0):
    x = np.arange(0.0, to + 1, step)
    return Curve("depth-dose", frozen_array(x), frozen_array(np.ones(x.size)), (side, side), 1000.0)


def profile(side=200.0, depth=100.0, axis="x", step=2.0, beyond=45.0, edges="jaws"):
    half = side / 2 * (1000 + depth) / 1000 + beyond
    x = np.arange(-half, half + 1, step)
    return Curve("profile", frozen_array(x), frozen_array(np.ones(x.size)), (side, side), 1000.0, depth, axis, 0.0, edges)


def output(*sides):
    return Curve(
        "output", frozen_array(np.array(sides, float)), frozen_array(np.ones(len(sides))), (0.0, 0.0), 900.0, 100.0
    )


def keys(*curves):
    found, silent = parameters_for(START, curves)
    return {p.key for p in found}, " ".join(silent)


def test_start_values_give_the_start_machine():
    curves = (
        depth_dose(step=2.0),
        depth_dose(200.0, step=2.0),
        profile(),
        profile(depth=15.0),
        output(40, 60, 100, 150, 200),
    )
    found, silent = parameters_for(START, curves)
    machine = built(START, found, {p.key: p.start for p in found})
    assert machine.mean_energy_mev() == pytest.approx(START.mean_energy_mev(), rel=1e-9)
    for field in ("contamination_share", "extra_focal_share", "focal_fwhm_mm", "jaw_transmission", "softening_mu"):
        assert getattr(machine, field) == pytest.approx(getattr(START, field))
    assert np.interp(START.horn_mm, machine.horn_mm, machine.horn_fluence) == pytest.approx(START.horn_fluence)
    assert all(p.low <= p.start <= p.high and p.loose > 0 for p in found)
    assert len({p.key for p in found}) == len(found)
    assert "Y" in " ".join(silent)  # no profile along Y


def test_filter_hardens_and_stretch_raises():
    mean = START.mean_energy_mev()
    assert filtered(START, 3.0).mean_energy_mev() > mean > filtered(START, -3.0).mean_energy_mev()
    assert stretched(START, 1.1).mean_energy_mev() == pytest.approx(1.1 * mean)
    there_and_back = filtered(filtered(START, 2.0), -2.0)
    assert there_and_back.spectrum_fluence == pytest.approx(np.array(START.spectrum_fluence) / sum(START.spectrum_fluence))


def test_a_filter_of_aluminium_is_one():
    """1 cm weakens 1.125 MeV against 3.125 MeV by exp of the difference in NIST attenuation (0.0580 and 0.0346 cm2/g)."""
    bins = np.array(START.spectrum_mev).mean(axis=1)
    low, high = int(np.argmin(np.abs(bins - 1.125))), int(np.argmin(np.abs(bins - 3.125)))
    after, before = np.array(filtered(START, 1.0).spectrum_fluence), np.array(START.spectrum_fluence)
    ratio = after[low] / after[high] / (before[low] / before[high])
    assert ratio == pytest.approx(np.exp(-2.699 * (0.0580 - 0.0346)), rel=0.01)


def test_horn_is_a_tent_and_the_last_knot_holds_outward():
    radii = (25.0, 50.0, 100.0)
    changed = horned(1, radii, START, 0.1)
    at = lambda m, r: float(np.interp(r, m.horn_mm, m.horn_fluence))  # noqa: E731
    assert at(changed, 50) / at(START, 50) == pytest.approx(np.exp(0.1))
    assert at(changed, 0) == at(changed, 0) == 1.0
    assert at(changed, 100) == pytest.approx(at(START, 100))
    outward = horned(2, radii, START, -0.05)
    assert at(outward, 200) / at(START, 200) == pytest.approx(np.exp(-0.05))


def test_softening_scales_and_starts_from_a_generic_shape():
    half = softened(START, 0.5)
    assert half.softening_mu[4] - 1 == pytest.approx((START.softening_mu[4] - 1) / 2)
    assert softened(load_machine("point-6"), 1.0).softening_mu[-1] > 1.1


def test_data_that_cannot_tell_leave_a_sentence():
    found, silent = keys(depth_dose(to=100.0))
    assert found == set()
    assert "no depth dose reaches 150 mm" in silent
    assert "no profiles" in silent
    assert "output factors" in silent
    found, silent = keys(depth_dose(step=2.0))
    assert found == {"filter_al_cm", "energy_factor", "contamination_share", "contamination_depth_mm"}
    assert "one field only" in silent
    found, _ = keys(output(40, 100, 200))
    assert found == {"extra_focal_share"}
    found, silent = keys(profile(step=10.0, beyond=15.0))
    assert "focal_x_mm" not in found
    assert "jaw_transmission" not in found
    assert {"horn_25", "horn_50", "horn_75"} <= found
    assert "no profile resolves an edge" in silent


def test_leaves_are_told_by_profiles_that_leaves_form():
    found, _ = keys(profile(edges="leaves"))
    assert {"leaf_end_offset_mm", "leaf_transmission"} <= found
    assert "jaw_transmission" not in found


def test_each_parameter_sees_its_curves():
    curves = (depth_dose(step=2.0), profile(60.0), profile(), profile(axis="y"), output(40, 60, 100, 150, 200))
    seen = {p.key: [p.sees(c) for c in curves] for p in parameters_for(START, curves)[0]}
    assert seen["filter_al_cm"] == [True, False, False, False, False]
    assert seen["focal_x_mm"] == [False, True, True, False, False]
    assert seen["horn_75"] == [False, False, True, True, False]
    assert seen["extra_focal_share"] == [False, False, False, False, True]
