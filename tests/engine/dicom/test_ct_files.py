"""CT files as others would read them."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest

from engine.base.errors import UserError
from engine.case.case import Patient
from engine.dicom.ct_files import write_ct
from tests.support.dicom_files import PATIENT, checker_errors, small_image


def test_files_say_what_the_image_says(tmp_path):
    image = small_image()
    out = write_ct(image, PATIENT, tmp_path)
    paths = sorted(tmp_path.glob("*.dcm"))
    assert len(paths) == 4
    for k, path in enumerate(paths):
        d = pydicom.dcmread(path)
        assert np.array_equal(d.pixel_array * int(d.RescaleSlope) + int(d.RescaleIntercept), image.hu[k])
        assert [float(v) for v in d.ImagePositionPatient] == [-5.0, 7.5, -20.0 + 4 * k]
        assert [float(v) for v in d.PixelSpacing] == [3.0, 2.0]
        assert d.SOPInstanceUID == out.sop_uids[k] == d.file_meta.MediaStorageSOPInstanceUID
        assert (d.SeriesInstanceUID, d.StudyInstanceUID) == (out.series_uid, out.study_uid)
        assert d.FrameOfReferenceUID == out.frame_of_reference_uid


def test_synthetic_patients_are_marked(tmp_path):
    write_ct(small_image(), PATIENT, tmp_path / "a")
    d = pydicom.dcmread(tmp_path / "a" / "CT001.dcm")
    for text in (d.PatientComments, d.ImageComments, d.SeriesDescription):
        assert "synthetic" in text.lower()
    write_ct(small_image(), PATIENT.but(synthetic=False), tmp_path / "b")
    d = pydicom.dcmread(tmp_path / "b" / "CT001.dcm")
    assert "PatientComments" not in d
    assert "synthetic" not in (d.ImageComments + d.SeriesDescription).lower()


def test_the_same_image_gives_the_same_bytes(tmp_path):
    write_ct(small_image(), PATIENT, tmp_path / "a")
    write_ct(small_image(), PATIENT, tmp_path / "b")
    write_ct(small_image(seed=4), PATIENT, tmp_path / "c")
    a, b, c = ((tmp_path / n / "CT002.dcm").read_bytes() for n in "abc")
    assert a == b != c


def test_an_image_that_was_dicom_keeps_study_and_frame_but_not_its_instances(tmp_path):
    first = write_ct(small_image(), PATIENT, tmp_path / "a")
    second = write_ct(first, PATIENT, tmp_path / "b")
    assert (second.study_uid, second.frame_of_reference_uid) == (first.study_uid, first.frame_of_reference_uid)
    assert second.series_uid != first.series_uid
    assert not set(second.sop_uids) & set(first.sop_uids)
    assert pydicom.dcmread(tmp_path / "b" / "CT001.dcm").ImageType[0] == "DERIVED"


@pytest.mark.parametrize("synthetic", [True, False])
def test_the_outside_checker_finds_no_error(tmp_path, synthetic):
    write_ct(small_image(), PATIENT.but(synthetic=synthetic), tmp_path)
    assert checker_errors(sorted(tmp_path.glob("*.dcm"))[:1], tmp_path) == []


def test_a_bad_name_is_refused_before_anything_is_written(tmp_path):
    with pytest.raises(UserError):
        write_ct(small_image(), Patient("a\\b"), tmp_path)
    with pytest.raises(UserError):
        write_ct(small_image(), Patient("a", birth_date="soon"), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_refused(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(UserError, match="cannot be made"):
        write_ct(small_image(), PATIENT, tmp_path / "file" / "sub")


def test_a_failing_disk_leaves_nothing(tmp_path, monkeypatch):
    from engine.dicom import ct_files

    real, count = ct_files.save_file, iter(range(10))

    def failing(dataset, path):
        if next(count) == 2:
            path.write_bytes(b"half")
            raise UserError("the file cannot be written (No space left on device)", str(path))
        real(dataset, path)

    monkeypatch.setattr(ct_files, "save_file", failing)
    with pytest.raises(UserError, match="No space"):
        write_ct(small_image(), PATIENT, tmp_path)
    assert list(tmp_path.iterdir()) == []
