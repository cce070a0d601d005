"""RT Dose written, read back, and read in the forms of others."""

from __future__ import annotations

import re

import numpy as np
import pydicom
import pytest

from engine.base.errors import InputError
from engine.base.values import frozen_array, own_array
from engine.dicom.common import save_file
from engine.dicom.dose import STEP, dose_dataset, read_dose, read_dose_file
from engine.dose.dose import Dose
from engine.space.grid import Grid
from tests.support.dicom_files import checker_errors, planned_case, spoil, uneven_dose

PLAN = "2.25.77"


def written(tmp_path, dose=None):
    case = planned_case()
    dose = dose or uneven_dose(case)
    save_file(dose_dataset(case, dose, PLAN), tmp_path / "RD.dcm")
    return tmp_path / "RD.dcm", dose


@pytest.mark.parametrize("highest", [63.0, 1e-4, 200.0])
def test_a_dose_comes_back_to_the_precision_of_its_numbers(tmp_path, highest):
    path, dose = written(tmp_path, uneven_dose(planned_case(), highest))
    again = read_dose(path)
    assert again.grid == dose.grid
    scaling = float(pydicom.dcmread(path).DoseGridScaling)
    assert np.abs(again.gy.astype(float) - dose.gy.astype(float)).max() <= scaling / 2 + 2**-24 * highest
    assert scaling <= highest / 60_000


def test_no_dose_at_all_comes_back(tmp_path):
    grid = Grid((0, 0, 0), (2, 2, 2), (3, 3, 3))
    path, _ = written(tmp_path, Dose(frozen_array(np.zeros(grid.shape, np.float32)), grid))
    assert not read_dose(path).gy.any()


def test_what_the_file_says(tmp_path):
    path, dose = written(tmp_path)
    d = pydicom.dcmread(path)
    assert (d.DoseUnits, d.DoseType, d.DoseSummationType) == ("GY", "PHYSICAL", "PLAN")
    assert (d.BitsAllocated, d.BitsStored, d.HighBit, d.PixelRepresentation) == (16, 16, 15, 0)
    assert d.FrameIncrementPointer == 0x3004000C
    assert [float(v) for v in d.GridFrameOffsetVector] == [4.0 * k for k in range(9)]
    assert (d.NumberOfFrames, d.Rows, d.Columns) == dose.grid.shape
    assert d.ReferencedRTPlanSequence[0].ReferencedSOPInstanceUID == PLAN
    assert d.FrameOfReferenceUID == planned_case().image.frame_of_reference_uid


def test_the_outside_checker_finds_no_error(tmp_path):
    assert checker_errors([written(tmp_path)[0]], tmp_path) == []


def test_the_worked_scaling(tmp_path):
    """Stored 40000 at scaling 1.5e-3 is 60.0 Gy (DICOM PS3.3 C.8.8.3, derived)."""
    path, _ = written(tmp_path)

    def change(d):
        d.DoseGridScaling = "1.5e-3"
        d.PixelData = np.full((9, 12, 11), 40000, "<u2").tobytes()

    spoil(path, change)
    assert read_dose(path).gy == pytest.approx(60.0)


def test_absolute_offsets_are_read(tmp_path):
    """Position (4, 5, 6), spacing 2: relative 0, 2, 4 and absolute 6, 8, 10 are the same planes (PS3.3 C.8.8.3.2)."""
    grid = Grid((4, 5, 6), (1, 1, 2), (3, 2, 2))
    path, dose = written(tmp_path, Dose(own_array(np.arange(12, dtype=np.float32).reshape(3, 2, 2)), grid))
    spoil(path, lambda d: setattr(d, "GridFrameOffsetVector", [6, 8, 10]))
    again = read_dose(path)
    assert again.grid == grid
    assert np.allclose(again.gy, dose.gy, atol=11 / 60_000)


@pytest.mark.parametrize("flip_x", [False, True])
@pytest.mark.parametrize("flip_y", [False, True])
@pytest.mark.parametrize("falling", [False, True])
def test_flipped_grids_are_turned_upright(tmp_path, flip_x, flip_y, falling):
    path, dose = written(tmp_path)
    grid = dose.grid

    def change(d):
        data = np.frombuffer(d.PixelData, "<u2").reshape(grid.shape)
        position = list(grid.origin_mm)
        row, column = [1, 0, 0], [0, 1, 0]
        if flip_x:
            data, row = data[:, :, ::-1], [-1, 0, 0]
            position[0] = grid.x_mm[-1]
        if flip_y:
            data, column = data[:, ::-1], [0, -1, 0]
            position[1] = grid.y_mm[-1]
        towards_head = (-1 if flip_x else 1) * (-1 if flip_y else 1)
        offsets = np.arange(grid.shape[0]) * grid.spacing_mm[2]
        if falling:
            offsets = -offsets
        if (towards_head > 0) == falling:
            data = data[::-1]
            position[2] = grid.z_mm[-1]
        d.ImageOrientationPatient, d.ImagePositionPatient = row + column, [float(v) for v in position]
        d.GridFrameOffsetVector = offsets.tolist()
        d.PixelData = np.ascontiguousarray(data).tobytes()

    spoil(path, change)
    again = read_dose(path)
    assert np.allclose(again.grid.origin_mm, grid.origin_mm)
    assert np.allclose(again.grid.spacing_mm, grid.spacing_mm)
    assert np.allclose(again.gy, dose.gy, atol=64 * STEP)


def test_sixteen_bits_are_read(tmp_path):
    path, _ = written(tmp_path)

    def change(d):
        d.BitsAllocated = d.BitsStored = 16
        d.HighBit = 15
        d.DoseGridScaling = 0.001
        d.PixelData = np.full((9, 12, 11), 65535, "<u2").tobytes()

    spoil(path, change)
    assert read_dose(path).gy == pytest.approx(65.535)


@pytest.mark.parametrize(
    ("summation", "words", "total"),
    [
        ("PLAN", "whole plan", True),
        ("BEAM", "one or more beams .beam 2", False),
        ("FRACTION_SESSION", "a single fraction", False),
        ("FRACTION", "one fraction group", False),
        ("ODD", "unknown way", False),
    ],
)
def test_the_kind_of_sum_is_said(tmp_path, summation, words, total):
    path, _ = written(tmp_path)

    def change(d):
        d.DoseSummationType = summation
        if summation == "BEAM":
            beam, group = pydicom.Dataset(), pydicom.Dataset()
            beam.ReferencedBeamNumber = 2
            group.ReferencedFractionGroupNumber, group.ReferencedBeamSequence = 1, [beam]
            d.ReferencedRTPlanSequence[0].ReferencedFractionGroupSequence = [group]

    spoil(path, change)
    found = read_dose_file(path)
    assert found.is_total == total
    assert re.search(words, found.words)
    assert found.plan_uid == PLAN


@pytest.mark.parametrize(
    ("keyword", "value", "words"),
    [
        ("DoseUnits", "RELATIVE", "relative, not in Gy"),
        ("DoseType", "EFFECTIVE", "effective, not physical"),
        ("DoseType", "ERROR", "difference of doses"),
        ("DoseGridScaling", 0, "scaling"),
        ("GridFrameOffsetVector", [0, 1, 2, 3, 4, 5, 6, 7, 9], "unevenly spaced"),
        ("GridFrameOffsetVector", [0, 1, 2, 3, 2, 5, 6, 7, 8], "neither rise nor fall"),
        ("GridFrameOffsetVector", [3, 4, 5, 6, 7, 8, 9, 10, 11], "neither 0 nor"),
        ("GridFrameOffsetVector", [0, 1, 2], "3 offsets do not fit"),
        ("GridFrameOffsetVector", None, "single plane"),
        ("ImageOrientationPatient", [0.8, 0.6, 0, -0.6, 0.8, 0], "oblique"),
        ("ImageOrientationPatient", None, "orientation is missing"),
        ("PixelSpacing", None, "pixel spacing is missing"),
        ("PixelData", b"\0" * 100, "cannot be read"),
    ],
)
def test_what_cannot_be_used_is_refused(tmp_path, keyword, value, words):
    path, _ = written(tmp_path)
    spoil(path, lambda d: setattr(d, keyword, value))
    with pytest.raises(InputError, match=words) as caught:
        read_dose(path)
    assert caught.value.do
    assert "RD.dcm" in caught.value.where


@pytest.mark.parametrize("bad", [-1.0, np.nan, np.inf])
def test_impossible_doses_are_not_written(bad):
    case = planned_case()
    gy = uneven_dose(case).gy.copy()
    gy[0, 0, 0] = bad
    with pytest.raises(InputError, match="negative values or values that are no numbers"):
        dose_dataset(case, uneven_dose(case).but(gy=own_array(gy)), PLAN)


@pytest.mark.parametrize("kind", ["medium", "water"])
def test_what_dose_is_reported_to_stands_in_the_file(kind):
    case = planned_case()
    assert dose_dataset(case, uneven_dose(case), PLAN, report_to=kind).DoseComment.startswith(f"Dose to {kind}")
