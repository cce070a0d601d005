"""``halfshade compare`` on doses written as RT Dose: closed forms through the whole command."""

from __future__ import annotations

import json

import numpy as np
import pytest

from app.__main__ import main
from engine.base.values import own_array
from engine.dicom.common import save_file
from engine.dicom.dose import dose_dataset
from engine.dose.dose import Dose
from engine.space.grid import Grid
from tests.support.cases import small_case


@pytest.fixture(scope="module")
def rd(tmp_path_factory):
    """Return a function that writes a dose 100 + slope (x - shift) + offset, on a cube of given spacing."""
    folder = tmp_path_factory.mktemp("rd")
    case = small_case()
    case = case.but(image=case.image.but(frame_of_reference_uid="1.2.3"))

    def write(name, slope=0.0, shift=0.0, offset=0.0, spacing=2.0, size=40.0):
        n = round(size / spacing)
        grid = Grid((-(n - 1) * spacing / 2,) * 3, (spacing,) * 3, (n, n, n))
        gy = np.broadcast_to(100 + slope * (grid.x_mm - shift) + offset, grid.shape).astype(np.float32)
        save_file(dose_dataset(case, Dose(own_array(gy), grid), "1.2.3.4"), folder / name)
        return folder / name

    return write


def run(capsys, *arguments):
    code = main(["compare", *map(str, arguments), "--json", "-"])
    return code, json.loads(capsys.readouterr().out)


def test_identical_doses_pass_wholly(rd, capsys):
    one = rd("same.dcm", slope=1.0)
    code, data = run(capsys, "--reference", one, "--evaluated", one)
    assert code == 0
    assert data["pass_percent"] == 100
    assert data["gamma_mean"] == pytest.approx(0, abs=1e-3)
    assert data["max_difference_gy"] == pytest.approx(0, abs=1e-6)
    assert data["judged"] == 8000


def test_offset_and_shift_of_known_gamma(rd, capsys):
    flat = rd("flat.dcm")
    _, data = run(
        capsys, "--reference", flat, "--evaluated", rd("more.dcm", offset=1.5), "--dose-percent", 3, "--distance-mm", 3
    )
    assert data["gamma_mean"] == pytest.approx(0.5, abs=1e-3)
    assert data["max_difference_gy"] == pytest.approx(1.5, abs=2e-3)
    steep, moved = rd("steep.dcm", slope=2.0), rd("moved.dcm", slope=2.0, shift=1.0, spacing=2.5, size=60)
    top = 139.0 - 1.0
    _, data = run(capsys, "--reference", steep, "--evaluated", moved, "--dose-percent", 100 * 2 / top, "--distance-mm", 3)
    assert data["gamma_mean"] == pytest.approx(1 * 2 / 2 / np.sqrt(1 + 3**2), abs=2e-3)
    assert data["near_edge"] == data["outside"] == 0


def test_local_is_stricter_than_global(rd, capsys):
    low, more = rd("low.dcm", slope=4.5), rd("low_more.dcm", slope=4.5, offset=1.0)
    files = ("--reference", low, "--evaluated", more, "--dose-percent", 2, "--distance-mm", 0.1, "--threshold-percent", 0)
    _, whole = run(capsys, *files)
    _, local = run(capsys, *files, "--local")
    assert local["pass_percent"] < whole["pass_percent"]


def test_voxels_without_evaluated_dose_are_told(rd, capsys):
    wide, narrow = rd("wide.dcm", size=40), rd("narrow.dcm", size=20)
    _, data = run(capsys, "--reference", wide, "--evaluated", narrow)
    assert data["judged"] == 1000
    assert data["outside"] == 7000
    assert any("7000 voxels" in n for n in data["notes"])
    assert main(["compare", "--reference", str(wide), "--evaluated", str(narrow)]) == 0
    out = capsys.readouterr().out
    assert "100.00 % of 1000 voxels pass" in out
    assert "not judged" in out


def test_refusals_are_one_sentence(rd, tmp_path, capsys):
    one = rd("one.dcm")
    (tmp_path / "junk.dcm").write_bytes(b"junk")
    for arguments, words in (
        (["--reference", str(one), "--evaluated", str(tmp_path / "gone.dcm")], "gone.dcm"),
        (["--reference", str(tmp_path / "junk.dcm"), "--evaluated", str(one)], "junk.dcm"),
        (["--reference", str(one), "--evaluated", str(one), "--dose-percent", "0"], "not possible"),
    ):
        assert main(["compare", *arguments]) == 1
        err = capsys.readouterr().err
        assert words in err
        assert len(err.strip().splitlines()) == 1
