"""Distances and shares of pairs of solids whose answers follow from geometry (W8.1 to W8.5 of a worked set)."""

import numpy as np
import pytest

from engine.compute import run
from engine.volumes.coverage import Coverage
from engine.volumes.likeness import CompareVolumes, added_path
from tests.reference.table import held
from tests.support.solids import block, cube_grid, sphere

SUBJECT = "Comparison of volumes"
# pixel, plane spacing: fine, and as scans are
GRIDS = {"0.5 x 0.5 x 0.5": (0.5, 0.5), "1 x 1 x 1": (1.0, 1.0), "1 x 1 x 3": (1.0, 3.0)}
SOURCE = "lens of two balls, nested balls, shifted cubes and discs, worked out"


def test_dice_of_balls_and_cubes():
    expected, found, names = [], [], []
    for name, (pixel, plane) in GRIDS.items():
        grid = cube_grid(18, pixel, plane)
        ball, cube = sphere(grid, 10), block(grid, (-10, -10, -9), (10, 10, 9))
        for what, other, first, dice in (
            ("balls 1 mm apart", sphere(grid, 10, (1, 0, 0)), ball, 1 - 3 / 40 + 1 / 16000),
            ("balls 2 mm apart", sphere(grid, 10, (2, 0, 0)), ball, 0.8505),
            ("boxes 4 mm apart", block(grid, (-6, -10, -9), (14, 10, 9)), cube, 0.80),
        ):
            expected.append(dice)
            found.append(run(CompareVolumes(first, other)).dice)
            names.append(f"{what}, {name}")
    # 3 mm planes cut the ball into few slabs, whose closed form differs by up to 0.004 itself.
    held(SUBJECT, "Dice of shifted solids", found, expected, tol=0.004, source=SOURCE, known="exact", at=names)


def test_distances_of_balls():
    expected, found, tolerance, names = [], [], [], []
    for name, (pixel, plane) in GRIDS.items():
        grid = cube_grid(18, pixel, plane)
        # A stack ends in flat slices, which two balls shifted in their plane share: there the distance is none.
        slack = 0.02 if plane <= 1 else 0.08
        for shift in (1.0, 2.0):
            seen = run(CompareVolumes(sphere(grid, 10), sphere(grid, 10, (shift, 0, 0))))
            expected += [shift / 2, shift]
            found += [seen.mean_mm, seen.largest_mm]
            tolerance += [slack, 0.03]
            names += [f"mean, {shift:g} mm, {name}", f"largest, {shift:g} mm, {name}"]
        if plane <= 1:
            nested = run(CompareVolumes(sphere(grid, 10), sphere(grid, 11)))
            expected.append(1.0)
            found.append(nested.mean_mm)
            tolerance.append(0.02)
            names.append(f"mean, one inside the other, {name}")
    held(
        *(SUBJECT, "distances of balls shifted by 1 and 2 mm, and nested", found, expected),
        tol=tolerance, source="d/2 and d of equal balls, R - r of nested ones", known="exact", unit=" mm", at=names,
    )  # fmt: skip


def test_95_percent_distance_of_balls():
    grid = cube_grid(18, 0.5, 0.5)
    seen = run(CompareVolumes(sphere(grid, 10), sphere(grid, 10, (2, 0, 0))))
    # From a point of the first ball at angle t to the shift, the second is |sqrt(R^2 + d^2 - 2 R d cos t) - R| away.
    cosine = np.linspace(-1, 1, 200_001)  # even in area on a sphere
    far = np.abs(np.sqrt(100 + 4 - 40 * cosine) - 10)
    held(
        *(SUBJECT, "95 % distance of balls shifted by 2 mm", seen.p95_mm, float(np.percentile(far, 95))),
        tol=0.02, source="distance from a sphere to a shifted one, integrated over the area", known="computed", unit=" mm",
    )  # fmt: skip


@pytest.mark.parametrize("pixel", [0.5, 1.0])
def test_the_line_to_redraw_of_two_discs(pixel):
    grid = cube_grid(18, pixel, 3.0)
    middle = grid.shape[0] // 2
    at = float(grid.z_mm[middle])
    one, two = (Coverage(grid, (sphere(grid, 10, (x, 0, at)).tile(middle),)) for x in (0.0, 2.0))
    # A point of the second circle at angle t is sqrt(104 + 40 cos t) from the first's centre: more than 11 or less than 9.
    angle = np.arccos((121 - 104) / 40) + np.pi - np.arccos((81 - 104) / 40)
    added, whole = added_path(one, two, 1.0)
    held(
        *(SUBJECT, f"line further than 1 mm, whole line; discs of 10 mm, 2 mm apart, pixels of {pixel:g} mm"),
        *((added, whole), (20 * angle, 20 * np.pi)),
        tol=0.5, source="arcs of a circle outside a ring about another", known="exact", unit=" mm", at=("added", "whole"),
    )  # fmt: skip
