import numpy as np
import pytest

from engine.beams.machine_file import load_machine, shipped_machines
from engine.dose.calculate import _reference_depth_dose
from engine.dose.monitor import calibration, gy_per_unit
from tests.support.dose import axis, beam, dose, water


def test_the_highest_dose_becomes_one():
    depth = np.arange(40.0)
    energy = 3.0 * (1 - 0.01 * (depth - 12.4) ** 2 / 10)
    f = calibration(energy, np.zeros(40), 0.0)
    assert f * 3.0 == pytest.approx(1.0, rel=1e-4)


def test_contaminants_count_towards_the_maximum():
    depth = np.arange(60.0)
    energy = np.exp(-depth / 100) * (1 - np.exp(-depth / 5 - 0.3))
    soft = np.exp(-depth / 6)
    f = calibration(energy, soft, 0.2)
    assert (f * energy + 0.2 * soft).max() == pytest.approx(1.0, rel=2e-3)
    assert f < calibration(energy, np.zeros(60), 0.0)


@pytest.mark.parametrize("name", shipped_machines())
def test_one_monitor_unit_is_one_centigray_in_another_phantom(name):
    # Another phantom size and voxel than the calibration used: the definition must hold there too.
    y, d = axis(dose(water((240.0, 200.0, 240.0), (4.0, 2.0, 4.0)), beam(100), name))
    assert d.max() == pytest.approx(0.01, rel=4e-3)
    assert 12 < y[np.argmax(d)] < 30


def test_the_factor_is_remembered():
    machine = load_machine("point-6")
    assert gy_per_unit(machine, _reference_depth_dose) is gy_per_unit(machine.but(), _reference_depth_dose)


def test_a_machine_file_may_calibrate_at_another_point():
    # 1 MU = 0.8 cGy at 100 mm depth, source to surface 900 mm: read back in another phantom.
    machine = load_machine("generic-6").but(
        calibration_depth_mm=100.0, calibration_ssd_mm=900.0, calibration_gy_per_mu=0.008
    )
    y, d = axis(dose(water((240.0, 200.0, 240.0), 4.0), beam(100, (0.0, 100.0, 0.0)), machine))
    assert np.exp(np.interp(100.0, y, np.log(d))) == pytest.approx(0.008, rel=3e-3)


def test_only_the_scale_depends_on_the_calibration():
    plain = load_machine("generic-6")
    other = plain.but(calibration_depth_mm=100.0)
    box = water((160.0, 160.0, 160.0), 5.0)
    ratio = dose(box, beam(60), other).gy / dose(box, beam(60), plain).gy
    assert ratio.min() == pytest.approx(ratio.max(), rel=1e-4)
    # PDD(10) of 0.667 +- 0.010 in a 10 x 10 cm field (BJR Supplement 25, memory).
    assert 1 / ratio.mean() == pytest.approx(0.667, abs=0.015)
