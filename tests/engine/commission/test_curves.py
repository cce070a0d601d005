"""A curve's text is read back as the same curve."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.values import frozen_array
from engine.commission.curves import Curve, text_of
from engine.commission.measured import read_curve

X = frozen_array(np.concatenate([np.arange(-70, -40, 2.0), np.arange(-40, 41, 10.0), np.arange(42, 71, 2.0)]))
Y = frozen_array(np.where(np.abs(X) < 55, 100.0, 3.0))
DEPTH = frozen_array(np.arange(0, 201, 5.0))
CURVES = [
    Curve("profile", X, Y, (100.0, 60.0), 1000.0, 100.0, "x", 6.0, "leaves", "diode", 0.8),
    Curve("depth-dose", DEPTH, frozen_array(np.exp(-0.005 * DEPTH) * 37.123456), (100.0, 100.0), 900.0, energy_mv=6.0),
    Curve("output", frozen_array(np.array([40.0, 100.0])), frozen_array(np.array([0.93, 1.0])), (0.0, 0.0), 900.0, 100.0),
]


@pytest.mark.parametrize("curve", CURVES, ids=lambda c: c.kind)
def test_round_trip(curve, tmp_path):
    path = tmp_path / "curve.csv"
    path.write_text(text_of(curve, "a note"))
    read, notes = read_curve(path)
    assert notes == ()
    assert read.but(name="", value=curve.value) == curve
    assert np.asarray(read.value) == pytest.approx(np.asarray(curve.value), rel=1e-6)


def test_titles_name_what_differs():
    assert [c.title for c in CURVES] == ["profile-x-100x60-d100", "depth-dose-100x100", "output-d100-ssd900"]


def test_edge_diverges_from_the_source():
    assert CURVES[0].edge_mm(1000.0) == pytest.approx(55.0)
    assert CURVES[0].but(axis="y", ssd_mm=900.0).edge_mm(1000.0) == pytest.approx(30.0)


def test_other_values_on_the_same_positions():
    assert np.asarray(CURVES[2].with_values(np.array([1.0, 2.0])).value).tolist() == [1.0, 2.0]
