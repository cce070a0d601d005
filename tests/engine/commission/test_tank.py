"""Doses in the tank: what they must obey whatever the model."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.beams.machine_file import load_machine
from engine.commission.shapes import half_widths, penumbra_mm
from engine.commission.tank import (
    Setup,
    aperture_of,
    axis_dose,
    axis_grid,
    edge_distance_mm,
    scan_grid,
    tank_dose,
    tank_grid,
)

POINT = load_machine("point-6")
SMALL = Setup((50.0, 50.0))


@pytest.fixture(scope="module")
def scan():
    grid = scan_grid(SMALL, "x", 100.0)
    return tank_dose(POINT, SMALL, aperture_of(POINT, SMALL), grid)


def test_profiles_are_even_and_diverge(scan):
    x = np.arange(-45, 45.5, 0.5)
    for depth in (50.0, 100.0):
        y = scan.profile("x", depth, x)
        assert y == pytest.approx(y[::-1], rel=2e-3, abs=1e-6)
        left, right = half_widths(x, y)
        assert right - left == pytest.approx(50 * (1000 + depth) / 1000, abs=0.6)


def test_depth_dose_agrees_with_the_finer_build_up_and_does_not_jump(scan):
    axis = axis_dose(POINT, SMALL, 100.0, scan)
    depth = np.arange(0.0, 100.0, 1.0)
    dose = axis.at(depth)
    assert dose[60] == pytest.approx(float(scan.depth_dose(60.0)), rel=2e-3)
    assert np.abs(np.diff(dose[20:], 2)).max() < 0.006 * dose.max()
    assert np.all(np.diff(dose[:8]) > 0)
    assert dose.min() >= 0


def test_one_monitor_unit_is_one_centigray_at_the_maximum_of_the_reference_field():
    axis = axis_dose(load_machine("point-6"), Setup((100.0, 100.0)), 60.0)
    assert axis.at(np.arange(5, 40, 0.5)).max() == pytest.approx(0.01, rel=0.005)


def test_the_grid_does_not_show_in_the_penumbra():
    """The engine blurs by its voxels; that is taken off again, so grids agree."""
    m = POINT.but(focal_fwhm_mm=(3.0, 3.0))
    x = np.arange(-45, 45.5, 0.5)
    widths = []
    for fine in (1.25, 2.0):
        grid = tank_grid(SMALL, 60.0, (fine, 2.5, 4.0))
        widths.append(penumbra_mm(x, tank_dose(m, SMALL, aperture_of(m, SMALL), grid).profile("x", 50.0, x)))
    assert widths[0] == pytest.approx(widths[1], abs=0.35)
    wide = tank_dose(m, SMALL, aperture_of(m, SMALL), grid, detector_mm=8.0).profile("x", 50.0, x)
    assert penumbra_mm(x, wide) > widths[1] + 1.0


def test_apertures():
    leaves = aperture_of(POINT, Setup((60.0, 40.0), 1000.0, "leaves"))
    assert leaves.x_mm == (-50.0, 50.0)
    opened = [b - a for a, b in leaves.leaves_mm]
    assert set(opened) == {0.0, 60.0}
    assert opened.count(60.0) == 8  # pairs of 5 mm over 40 mm
    with pytest.raises(InputError, match="larger than 400"):
        aperture_of(POINT, Setup((420.0, 100.0)))
    with pytest.raises(InputError, match="no leaves"):
        aperture_of(POINT.but(leaf_edges_mm=()), Setup((60.0, 40.0), 1000.0, "leaves"))


def test_what_forms_an_edge():
    assert edge_distance_mm(POINT, "x", "leaves") == POINT.leaf_distance_mm
    assert edge_distance_mm(POINT, "y") == POINT.upper_jaw_mm
    assert edge_distance_mm(POINT.but(upper_jaws="X"), "y") == POINT.lower_jaw_mm


@pytest.mark.parametrize("side", [40.0, 250.0])
def test_grids_hold_the_field_with_even_columns(side):
    for grid in (axis_grid(Setup((side, side)), 200.0), scan_grid(Setup((side, side)), "y", 200.0)):
        assert grid.shape[0] % 2 == grid.shape[2] % 2 == 0
        assert grid.bounds_mm[0][1] == pytest.approx(0)
        assert grid.bounds_mm[1][0] > side / 2 * 1.2
        assert grid.bounds_mm[1][1] >= 250
