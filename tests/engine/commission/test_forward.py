"""The model along curves: in the order asked, and the same whatever shares a tank."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import frozen_array
from engine.beams.machine_file import load_machine
from engine.commission.curves import Curve
from engine.commission.forward import model_lines
from engine.commission.tank import Setup, axis_dose

POINT = load_machine("point-6")
X = frozen_array(np.arange(-40.0, 41.0, 2.0))


def profile(depth, axis="x"):
    return Curve("profile", X, frozen_array(np.ones(X.size)), (40.0, 40.0), 1000.0, depth, axis)


def test_lines_come_in_the_order_of_the_curves_and_cover_them():
    depth = frozen_array(np.arange(0.0, 101.0, 5.0))
    curves = [
        profile(100.0),
        Curve("depth-dose", depth, frozen_array(np.ones(depth.size)), (40.0, 40.0), 1000.0),
        profile(50.0),
        Curve("output", frozen_array(np.array([40.0, 60.0])), frozen_array(np.ones(2)), (0.0, 0.0), 1000.0, 50.0),
    ]
    lines = model_lines(POINT, curves)
    for curve, line in zip(curves, lines, strict=True):
        assert line.position_mm[0] <= curve.position_mm[0]
        assert line.position_mm[-1] >= curve.position_mm[-1]
        assert np.isfinite(line.dose).all()
        assert line.dose.min() >= 0
    # The same points by three ways: on a profile's middle, a depth dose and an output factor.
    middle = [float(np.interp(0.0, lines[n].position_mm, lines[n].dose)) for n in (0, 2)]
    deep = [float(np.interp(d, lines[1].position_mm, lines[1].dose)) for d in (100.0, 50.0)]
    assert middle == pytest.approx(deep, rel=0.005)
    assert lines[3].dose[0] == pytest.approx(deep[1], rel=0.005)
    assert lines[3].dose[1] > lines[3].dose[0]


def test_a_depth_dose_is_that_of_the_tank():
    depth = frozen_array(np.arange(0.0, 101.0, 5.0))
    curve = Curve("depth-dose", depth, frozen_array(np.ones(depth.size)), (40.0, 40.0), 900.0)
    line = model_lines(POINT, [curve])[0]
    same = axis_dose(POINT, Setup((40.0, 40.0), 900.0), 100.0)
    assert np.interp(depth, line.position_mm, line.dose) == pytest.approx(same.at(depth), rel=1e-3)
