"""Cones against the exact superposition of the same point kernels in a box of water, divergent and polyenergetic."""

from functools import lru_cache

import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from tests.support.dose import beam, dose, water
from tests.support.exact_superposition import exact_dose

SIZE = (240.0, 240.0, 240.0)


@lru_cache
def both(side_mm, spacing_mm, machine="point-6"):
    """Return engine and judge, both relative to the judge's maximum; one factor for all fields of a machine."""
    phantom = water(SIZE, spacing_mm)
    judge = exact_dose(load_machine(machine), side_mm, phantom.grid)
    engine = dose(phantom, beam(side_mm), machine).gy.astype(np.float64)
    return phantom.grid, engine * factor(spacing_mm, machine) / judge.max(), judge / judge.max()


@lru_cache
def factor(spacing_mm, machine):
    """Return energy per Gy/MU, from the 100 mm field at 10 cm depth alone."""
    phantom = water(SIZE, spacing_mm)
    judge = exact_dose(load_machine(machine), 100.0, phantom.grid)
    engine = dose(phantom, beam(100.0), machine).gy
    k, j = phantom.grid.shape[0] // 2, int(100 / spacing_mm)
    middle = (slice(k - 1, k + 1), slice(j - 1, j + 1), slice(k - 1, k + 1))
    return float(judge[middle].mean() / engine[middle].mean())


@pytest.mark.parametrize("side", [30.0, 100.0])
def test_rms_below_half_a_percent_of_the_maximum(side):
    grid, engine, judge = both(side, 4.0)
    deep = grid.y_mm > 5
    assert np.sqrt(np.mean((engine - judge)[:, deep] ** 2)) < 0.005


@pytest.mark.parametrize("side", [30.0, 100.0])
def test_axis_beyond_build_up_within_one_percent(side):
    grid, engine, judge = both(side, 4.0)
    k = grid.shape[0] // 2
    deep = grid.y_mm > 15
    assert np.abs(engine / judge - 1)[k, deep, k].max() < 0.01
