"""The fit recovers a machine it does not know, says what data cannot tell, and does not make a wrong beam pass."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array
from engine.beams.machine_file import load_machine
from engine.commission.beam_data import half_value_layer_mm
from engine.commission.fit import FitRequest, fit, residual
from engine.commission.forward import Line
from tests.support.hidden_machine import altered, depth_dose, measured, output, profile

pytestmark = pytest.mark.slow

START = load_machine("generic-6").but(wedges=())
HIDDEN = altered(START)


@pytest.fixture(scope="module")
def found():
    curves = (depth_dose(40.0, 160.0), output(30.0, 60.0, 100.0, depth=30.0), profile(120.0, 20.0))
    return fit(FitRequest(measured(HIDDEN, curves), START, "recovered"))


def test_the_model_meets_the_limits_where_the_start_did_not(found):
    before, after = found.rates("before"), found.rates()
    assert sum(good for good, _ in before.values()) < 0.95 * sum(count for _, count in before.values())
    for good, count in after.values():
        assert good >= 0.98 * count


TOLERANCES = {
    "extra_focal_share": (0.065, 0.012),
    "focal_x_mm": (2.6, 0.3),
    "jaw_transmission": (0.009, 0.0015),
    "horn_50": (-0.025, 0.006),
}


@pytest.mark.parametrize("key", TOLERANCES)
def test_a_hidden_value_is_recovered(key, found):
    wanted, band = TOLERANCES[key]
    p = next(p for p in found.parameters if p.key == key)
    assert p.value == pytest.approx(wanted, abs=band)
    assert p.determined
    assert not p.at_bound


def test_the_spectrum_is_recovered_in_what_depth_doses_tell(found):
    hard, start = half_value_layer_mm(HIDDEN), half_value_layer_mm(START)
    assert half_value_layer_mm(found.machine) == pytest.approx(hard, abs=0.2 * (hard - start))
    assert found.machine.nominal_mv == START.nominal_mv


def test_what_was_not_measured_stays_and_is_told(found):
    assert found.machine.focal_fwhm_mm[1] == START.focal_fwhm_mm[1]
    assert found.machine.leaf_transmission == START.leaf_transmission
    assert any("focal spot along Y" in u for u in found.untold)
    assert found.machine.name == "recovered"


def test_a_wrong_beam_does_not_pass():
    """Depth doses of two fields that were exchanged: no spectrum makes the small field penetrate more than the large."""
    small, large = measured(START, (depth_dose(30.0, 160.0, 20.0), depth_dose(80.0, 160.0, 20.0)), noise=0.0)
    wrong = (small.with_values(large.value), large.with_values(small.value))
    rates = fit(FitRequest(wrong, START, "wrong")).rates()
    good, count = rates["beyond the maximum"]
    assert good < 0.8 * count


def test_refusals():
    with pytest.raises(InputError, match="no measured curves"):
        fit(FitRequest((), START, "x"))
    with pytest.raises(InputError, match="of 10 MV"):
        fit(FitRequest((depth_dose(40.0).but(energy_mv=10.0),), START, "x"))
    with pytest.raises(InputError, match="larger than"):
        fit(FitRequest((depth_dose(450.0),), START, "x"))


def test_residuals_count_half_a_percent_as_one():
    x = np.arange(0.0, 301.0, 5.0)
    curve = depth_dose(100.0).but(position_mm=frozen_array(x), value=frozen_array(100 * np.exp(-0.005 * x)))
    fine = np.arange(0.0, 311.0, 0.5)
    same = Line(fine, np.exp(-0.005 * fine))
    assert np.abs(residual(curve, same, 1000.0)).max() < 0.02
    bent = Line(fine, np.exp(-0.005 * fine) * np.where(fine < 150, 1.005, 0.995))
    assert np.abs(residual(curve, bent, 1000.0)).mean() == pytest.approx((40 / 61) ** 0.5, rel=0.15)
