from __future__ import annotations

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.dicom.headers import scan_folder
from engine.dicom.second_files import write_mr
from engine.dicom.second_stack import second_stack
from tests.support.dicom_files import PATIENT, spoil
from tests.support.second import ramp


def quiet(fraction, words):
    pass


@pytest.fixture
def folder(tmp_path):
    write_mr(ramp((6, 10, 12)), PATIENT, tmp_path)
    return tmp_path


def stacked(folder):
    return second_stack(scan_folder(str(folder), quiet).headers)


def test_oblique_slices_keep_their_affine_whatever_the_order_of_the_files(folder):
    for i, path in enumerate(sorted(folder.iterdir(), reverse=True)):
        path.rename(folder / f"x{i}.dcm")
    found = stacked(folder)
    assert np.allclose(found.affine.ravel(), ramp((6, 10, 12)).affine, atol=1e-6)
    assert found.kind == "MR"


def test_missing_slices_are_told(folder):
    (folder / "MR003.dcm").unlink()
    with pytest.raises(InputError, match=r"1 slice missing between -6\.0 and 2\.0 mm"):
        stacked(folder)


def _moved(by):
    def change(dataset):
        dataset.ImagePositionPatient = [float(v) + b for v, b in zip(dataset.ImagePositionPatient, by)]

    return change


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (_moved((0.0, 0.0, 0.6)), "unevenly|in line"),
        (lambda d: setattr(d, "ImageOrientationPatient", [1, 0, 0, 0, 1, 0]), "orientation"),
        (lambda d: setattr(d, "FrameOfReferenceUID", "1.2.9"), "frame of reference"),
        (lambda d: setattr(d, "FrameOfReferenceUID", ""), "no frame of reference"),
        (lambda d: setattr(d, "PatientID", "other"), "patient"),
        (lambda d: setattr(d, "Modality", "CT"), "no MR, PET or CT"),
        (lambda d: delattr(d, "PixelSpacing"), "pixel spacing"),
        (lambda d: setattr(d, "NumberOfFrames", 4), "several frames"),
        (lambda d: setattr(d, "Rows", 4000), "cut off"),
    ],
)
def test_one_odd_file_is_refused_in_words(folder, change, words):
    spoil(folder / "MR003.dcm", change)
    with pytest.raises(InputError, match=words):
        stacked(folder)


def test_two_phases_in_one_series_are_refused(folder):
    second = (folder / "MR002.dcm").read_bytes()
    (folder / "again.dcm").write_bytes(second)
    with pytest.raises(InputError, match="same position"):
        stacked(folder)
