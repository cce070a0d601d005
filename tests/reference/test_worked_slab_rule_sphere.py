"""The slab rule for volumes against its closed form, and Dice coefficients against theirs."""

from pathlib import Path

import numpy as np
import pytest

from engine.base.sources import read_table
from engine.volumes.coverage import Coverage
from engine.volumes.margins import intersection
from tests.support.solids import block, cube_grid, sphere

DATA = Path(__file__).parent / "data"
SLABS = read_table(DATA / "slab_rule_sphere.csv")
OVERLAPS = read_table(DATA / "overlap_dice.csv")


@pytest.mark.parametrize(
    ("radius", "plane", "half_off", "change", "tolerance"), list(zip(*(SLABS[n] for n in SLABS.names)))
)
def test_stacked_cuts_of_a_ball(radius, plane, half_off, change, tolerance):
    grid = cube_grid(25, 0.5, plane)
    on_plane = float(grid.z_mm[grid.shape[0] // 2]) + half_off * plane / 2
    found = sphere(grid, radius, (0.13, 0.21, on_plane)).volume_cm3
    assert 100 * (found / (4 / 3 * np.pi * radius**3 / 1000) - 1) == pytest.approx(change, abs=tolerance)


def dice(a: Coverage, b: Coverage) -> float:
    return 2 * intersection(a, b).volume_cm3 / (a.volume_cm3 + b.volume_cm3)


@pytest.mark.parametrize(
    ("solid", "size", "x", "y", "z", "other", "expected", "tolerance"),
    list(zip(OVERLAPS.text("solid"), *(OVERLAPS[n] for n in OVERLAPS.names))),
)
def test_dice_of_known_solids(solid, size, x, y, z, other, expected, tolerance):
    grid = cube_grid(18, 0.5, 0.5)

    def made(extent: float, at: tuple[float, float, float]) -> Coverage:
        if solid == "cube":
            half = extent / 2
            return block(grid, tuple(c - half for c in at), tuple(c + half for c in at))
        ball = sphere(grid, extent, at)
        middle = grid.shape[0] // 2
        return ball if solid == "ball" else Coverage(grid, (ball.tile(middle),))

    shift_z = grid.z_mm[grid.shape[0] // 2] if solid == "disc" else 0.0
    a, b = made(size, (0.0, 0.0, shift_z)), made(other, (x, y, z + shift_z))
    assert dice(a, b) == pytest.approx(expected, abs=tolerance)
