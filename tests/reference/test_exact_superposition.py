"""Cones against the exact superposition of the same point kernels in a box of water, divergent and polyenergetic."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from tests.reference.table import held, law
from tests.support.dose import beam, dose, water
from tests.support.exact_superposition import exact_dose

SUBJECT = "Cones against exact superposition"
SOURCE = "same point kernels by Fourier transform"
BOX = {30.0: ((120.0, 240.0, 120.0), 2.5), 100.0: ((240.0, 240.0, 240.0), 4.0)}
MACHINES = ("point-6", "point-10")


@lru_cache
def both(side_mm, machine):
    """Return grid, engine and judge relative to the judge's maximum; one factor for all fields of a machine."""
    size, spacing_mm = BOX[side_mm]
    phantom = water(size, spacing_mm)
    judge = exact_dose(load_machine(machine), side_mm, phantom.grid)
    engine = dose(phantom, beam(side_mm), machine).gy.astype(np.float64)
    if side_mm == 100.0:
        k = phantom.grid.shape[0] // 2
        middle = (slice(k - 1, k + 1), slice(12, 50), slice(k - 1, k + 1))
        scale = float(judge[middle].mean() / engine[middle].mean())
    else:
        scale = both(100.0, machine)[3]
    return phantom.grid, engine * scale / judge.max(), judge / judge.max(), scale


@pytest.mark.parametrize("machine", MACHINES)
def test_rms_below_half_a_percent_of_the_maximum(machine):
    worst = 0.0
    for side in BOX:
        grid, engine, judge, _ = both(side, machine)
        deep = grid.y_mm > 5
        worst = max(worst, 100 * float(np.sqrt(np.mean((engine - judge)[:, deep] ** 2))))
    law(
        SUBJECT,
        f"rms difference of the whole box below 5 mm, 3 and 10 cm fields, of the maximum, {machine}",
        worst,
        0.5,
        source=SOURCE,
        known="computed",
    )


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("side", BOX)
def test_axis_beyond_build_up_within_one_percent(side, machine):
    grid, engine, judge, _ = both(side, machine)
    k = grid.shape[0] // 2
    deep = (grid.y_mm > 20) & (grid.y_mm < 220)
    e, j = (a[k - 1 : k + 1, :, k - 1 : k + 1].mean(axis=(0, 2))[deep] for a in (engine, judge))
    held(
        SUBJECT,
        f"axis from 2 to 22 cm, {side / 10:g} cm field, {machine}",
        e,
        j,
        rel=0.01,
        source=SOURCE,
        known="computed",
        at=[f"{y / 10:.1f} cm" for y in grid.y_mm[deep]],
    )


@pytest.mark.parametrize("machine", MACHINES)
def test_profiles_within_two_percent_or_two_millimetres(machine):
    worst = 0.0
    for side in BOX:
        grid, engine, judge, _ = both(side, machine)
        k = grid.shape[0] // 2
        for depth in (25, 50, 100, 200):
            e, j = (a[k - 1 : k + 1, int(depth / grid.spacing_mm[1])].mean(axis=0) for a in (engine, judge))
            moved = [np.interp(grid.x_mm + s, grid.x_mm, e) for s in np.linspace(-2, 2, 81)]
            worst = max(worst, float((np.min(np.abs(np.array(moved) - j), axis=0) / j.max()).max()))
    law(
        SUBJECT,
        f"profiles at four depths after moving by at most 2 mm, 3 and 10 cm fields, {machine}",
        100 * worst,
        2.0,
        source=SOURCE,
        known="computed",
    )
