"""Margins against Steiner's formula: rounded corners, not square ones."""

from pathlib import Path

import pytest

from engine.base.sources import read_table
from engine.volumes.margins import equal, grow
from tests.support.solids import block, cube_grid, cylinder, sphere

TABLE = read_table(Path(__file__).parent / "data" / "steiner_margins.csv")
ROWS = list(zip(TABLE.text("solid"), *(TABLE[n] for n in TABLE.names)))


@pytest.mark.parametrize(("solid", "size", "height", "margin", "cm3", "tolerance"), ROWS, ids=TABLE.text("solid"))
def test_a_grown_solid_has_the_volume_of_the_formula(solid, size, height, margin, cm3, tolerance):
    grid = cube_grid(35, 1.0, 1.0)
    half = size / 2
    made = {
        "cube": lambda: block(grid, (-half,) * 3, (half,) * 3),
        "cylinder": lambda: cylinder(grid, size, height / 2),
        "ball": lambda: sphere(grid, size),
    }[solid]()
    found = grow(made, equal(margin)).volume_cm3
    assert found == pytest.approx(cm3, rel=tolerance / 100)


@pytest.mark.parametrize(("solid", "square_cm3"), [("cube", 27.0), ("cylinder", 98.1748)])
def test_square_corners_would_be_told_apart(solid, square_cm3):
    i = TABLE.text("solid").index(solid)
    assert abs(square_cm3 / TABLE["volume_cm3"][i] - 1) > 1.5 * TABLE["tolerance_percent"][i] / 100
