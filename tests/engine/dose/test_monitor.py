import numpy as np
import pytest

from engine.beams.machine_file import load_machine, shipped_machines
from engine.dose.calculate import _reference_depth_dose
from engine.dose.monitor import calibration, gy_per_unit
from tests.support.dose import axis, beam, dose, water


def test_the_highest_dose_becomes_one_centigray():
    depth = np.arange(40.0)
    energy = 3.0 * (1 - 0.01 * (depth - 12.4) ** 2 / 10)
    f = calibration(energy, np.zeros(40), 0.0)
    assert f * 3.0 == pytest.approx(0.01, rel=1e-4)


def test_contaminants_count_towards_the_maximum():
    depth = np.arange(60.0)
    energy = np.exp(-depth / 100) * (1 - np.exp(-depth / 5 - 0.3))
    soft = np.exp(-depth / 6)
    f = calibration(energy, soft, 0.2)
    assert (f * energy + 0.01 * 0.2 * soft).max() == pytest.approx(0.01, rel=2e-3)
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
