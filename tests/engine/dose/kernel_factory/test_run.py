"""Batches, seeds and the kernel file."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

import assets
from engine.base.errors import InputError
from engine.dose.kernel_factory import __main__ as command
from engine.dose.kernel_factory import run
from engine.dose.kernel_factory.water import read_water


@pytest.fixture(scope="module")
def data():
    return read_water(assets.path("physics"))


def test_shares_sum_to_one_and_do_not_depend_on_the_workers(data):
    one = run.make_kernels(data, 200, 7, (0.5, 6.0), workers=1)
    two = run.make_kernels(data, 200, 7, (0.5, 6.0), workers=2)
    assert one == two
    assert np.allclose(one.totals().sum(axis=1), 1.0, atol=1e-6)
    assert np.all(one.share_error[:, 0] > 0)
    assert list(one.statistics) == [200, 200]


def test_an_energy_keeps_its_numbers_whatever_else_is_made(data):
    both = run.make_kernels(data, 40, 7, (0.5, 6.0))
    alone = run.make_kernels(data, 40, 7, (6.0,))
    assert np.array_equal(both.share[1], alone.share[0])


@pytest.mark.parametrize(("histories", "energies"), [(19, (1.0,)), (100, (0.01,)), (100, (21.0,)), (100, ())])
def test_impossible_runs_are_refused(data, histories, energies):
    with pytest.raises(InputError):
        run.make_kernels(data, histories, 1, energies)


def test_the_command_writes_a_file_that_says_how_it_was_made(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(command, "ENERGIES_MEV", (1.0, 2.0))
    assert command.main(["--kernels-only", "--histories", "40", "--seed", "3", "--out", str(tmp_path)]) == 0
    with np.load(tmp_path / "kernels" / "water_points.npz") as file:
        assert file["share"].shape == (2, 5, len(file["angle_edges_deg"]) - 1, len(file["radius_edges_cm"]) - 1)
        assert (file["share"].sum() + file["escaped"].sum()) == pytest.approx(2.0, abs=1e-5)
        text = str(file["provenance"])
    assert "--histories 40 --seed 3" in text
    assert "XCOM" in text
    assert "multiple_scatter" in capsys.readouterr().out


def test_the_command_explains_what_is_wrong(tmp_path, capsys):
    assert command.main(["--kernels-only", "--histories", "3", "--out", str(tmp_path)]) == 2
    assert "at least 20 histories" in capsys.readouterr().err


def test_calculating_dose_does_not_import_the_factory():
    code = "import sys, engine.dose.calculate; print([m for m in sys.modules if 'kernel_factory' in m or m == 'xcom'])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
