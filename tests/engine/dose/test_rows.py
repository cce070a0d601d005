import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator

from engine.dose.rows import energy_row, soft_row

F = np.float32
RNG = np.random.default_rng(8)


def test_released_energy_is_the_table_at_depth_and_tangent_times_density_and_fluence():
    depths, tangents, step = 40, 5, 0.5
    table = RNG.random((depths, tangents)).astype(F)
    n = 53
    passed, hard = RNG.uniform(0, 15, n).astype(F), RNG.uniform(0, 3, n).astype(F)
    lean, density, opened = RNG.uniform(0, tangents - 1.01, n).astype(F), RNG.random(n).astype(F), RNG.random(n).astype(F)
    energy = np.empty(n, F)
    energy_row(table.reshape(-1), tangents, F(1 / step), density, passed, hard, lean, opened, energy)
    read = RegularGridInterpolator((step * np.arange(depths), np.arange(tangents)), table)
    assert energy == pytest.approx(opened * density * read(np.stack([passed + hard, lean], axis=1)), rel=1e-4)


def test_beyond_its_depths_the_table_holds_its_last_value():
    table = np.linspace(1, 0.2, 10).astype(F)
    one, energy = np.ones(1, F), np.empty(1, F)
    energy_row(np.repeat(table, 2), 2, F(1.0), one, 1e6 * one, 0 * one, 0 * one, one, energy)
    assert energy[0] == pytest.approx(0.2, abs=1e-3)


def test_contaminants_end_where_their_curve_ends():
    curve = np.array([1.0, 0.5, 0.0, 0.0], F)
    depth = np.array([0.0, 0.1, 0.15, 0.4, 50.0], F)
    out = np.empty(5, F)
    soft_row(curve, F(5.0), depth, np.full(5, 2.0, F), out)
    assert out == pytest.approx([2.0, 1.5, 1.25, 0.0, 0.0])
    assert out[3] == out[4] == 0.0
