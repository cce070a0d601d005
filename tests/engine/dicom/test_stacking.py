"""Series that cannot be an image are refused in one plain sentence that says what, where and what to do."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.base.progress import quiet
from engine.dicom.headers import scan_folder
from engine.dicom.stacking import stack_of
from tests.support.dicom_files import ct_folder, small_image, spoil, spoil_all


@pytest.fixture
def folder(tmp_path):
    ct_folder(tmp_path, small_image((6, 6, 5)))
    return tmp_path


def stacked(folder, position=""):
    return stack_of(scan_folder(str(folder), quiet).headers, position)


def refused(folder, words):
    with pytest.raises(InputError, match=words) as caught:
        stacked(folder)
    assert caught.value.do
    assert "series" in caught.value.where
    return str(caught.value)


def setting(keyword, value):
    return lambda d: setattr(d, keyword, value)


def lifted(dz):
    def change(d):
        p = d.ImagePositionPatient
        d.ImagePositionPatient = [p[0], p[1], float(p[2]) + dz]

    return change


def test_a_good_series_is_stacked(folder):
    stack = stacked(folder)
    assert stack.grid.origin_mm == (-5.0, 7.5, -20.0)
    assert stack.grid.spacing_mm == (2.0, 3.0, 4.0)
    assert stack.grid.shape == (6, 6, 5)
    assert (stack.transpose, stack.flip_rows, stack.flip_columns) == (False, False, False)


def test_instance_numbers_and_slice_thickness_play_no_part(folder):
    for i, path in enumerate(sorted(folder.glob("*.dcm"))):
        spoil(path, setting("InstanceNumber", 10 - i))
        spoil(path, setting("SliceThickness", 99))
    assert stacked(folder).grid.spacing_mm[2] == 4.0


def test_a_missing_slice_is_placed(folder):
    (folder / "CT003.dcm").unlink()
    refused(folder, r"1 slice missing between -16\.0 and -8\.0 mm")


def test_several_gaps_are_counted(tmp_path):
    ct_folder(tmp_path, small_image((12, 4, 4)))
    for k in (3, 4, 8):
        (tmp_path / f"CT{k:03d}.dcm").unlink()
    refused(tmp_path, r"2 slices missing between -16\.0 and -4\.0 mm \(and 1 more such gaps\)")


def test_two_slices_at_one_place_are_named(folder):
    (folder / "copy").write_bytes((folder / "CT002.dcm").read_bytes())
    said = refused(folder, r"lie at the same position, -16\.00 mm")
    assert "copy" in said
    assert "CT002.dcm" in said


def test_uneven_spacing_is_refused(folder):
    spoil(folder / "CT004.dcm", lifted(0.3))
    refused(folder, "unevenly spaced")


def test_spacing_within_a_percent_is_accepted(folder):
    spoil(folder / "CT004.dcm", lifted(0.015))
    assert stacked(folder).grid.spacing_mm[2] == 4.0


def test_a_tilt_tag_is_refused(folder):
    spoil_all(folder, setting("GantryDetectorTilt", 12))
    refused(folder, "gantry was tilted .12 degrees")


def test_a_sheared_stack_is_refused_without_the_tag(folder):
    for k, path in enumerate(sorted(folder.glob("*.dcm"))):
        spoil(path, setting("ImagePositionPatient", [-5, 7.5 + 0.4 * k, -20 + 4 * k]))
    refused(folder, "slices shift sideways by 2.0 mm")


def test_one_shifted_slice_is_refused(folder):
    spoil(folder / "CT003.dcm", setting("ImagePositionPatient", [-4, 7.5, -12]))
    refused(folder, "shifted sideways by up to 1.0 mm")


def test_oblique_planes_are_refused(folder):
    spoil_all(folder, setting("ImageOrientationPatient", [0.995, 0.0998, 0, -0.0998, 0.995, 0]))
    refused(folder, "planes are oblique")


def test_coronal_planes_are_refused(folder):
    for k, path in enumerate(sorted(folder.glob("*.dcm"))):
        spoil(path, setting("ImageOrientationPatient", [1, 0, 0, 0, 0, -1]))
        spoil(path, setting("ImagePositionPatient", [-5, 7.5 + 4 * k, 0]))
    refused(folder, "sagittal or coronal, not transverse")


def test_an_orientation_that_is_none_is_refused(folder):
    spoil_all(folder, setting("ImageOrientationPatient", [1, 0, 0, 1, 0, 0]))
    refused(folder, "no pair of perpendicular units")


@pytest.mark.parametrize(
    ("keyword", "value", "words"),
    [
        ("ImageOrientationPatient", [-1, 0, 0, 0, 1, 0], "differ in orientation: CT002.dcm has"),
        ("PixelSpacing", [3, 2.5], "differ in pixel spacing: CT002.dcm has 3 x 2.5, most have 3 x 2"),
        ("Rows", 5, "differ in image size: CT002.dcm has 5 x 5, most have 5 x 6"),
        ("FrameOfReferenceUID", "1.2.3", "differ in frame of reference: CT002.dcm has 1.2.3"),
        ("PatientPosition", "FFS", "differ in patient position: CT002.dcm has FFS, most have HFS"),
        ("PatientID", "other", "name different patients"),
        ("PatientName", "Roe^Richard", "Roe.Richard"),
        ("PatientBirthDate", "19800202", "name different patients"),
    ],
)
def test_mixtures_are_refused(folder, keyword, value, words):
    spoil(folder / "CT002.dcm", setting(keyword, value))
    refused(folder, words)


@pytest.mark.parametrize(
    ("keyword", "words"),
    [
        ("ImagePositionPatient", "image position"),
        ("ImageOrientationPatient", "image orientation"),
        ("PixelSpacing", "pixel spacing"),
        ("RescaleSlope", "rescale slope"),
        ("RescaleIntercept", "rescale intercept"),
        ("Rows", "number of rows"),
        ("FrameOfReferenceUID", "no frame of reference"),
        ("SOPInstanceUID", "SOP instance UID"),
        ("PatientPosition", "differ in patient position"),
    ],
)
def test_a_missing_tag_is_named_with_its_file(folder, keyword, words):
    def change(d):
        del d[keyword]

    spoil(folder / "CT005.dcm", change)
    assert "CT005.dcm" in refused(folder, words)


@pytest.mark.parametrize(
    ("keyword", "value", "words"),
    [
        ("Modality", "MR", "modality is MR, not CT"),
        ("SOPClassUID", "1.2.840.10008.5.1.4.1.1.4", "not a CT series but CT .MR Image Storage"),
        ("SOPClassUID", "1.2.840.10008.5.1.4.1.1.2.1", "enhanced multi-frame object .Enhanced CT"),
        ("NumberOfFrames", 3, "holds several frames"),
        ("SamplesPerPixel", 3, "colour picture"),
        ("RescaleSlope", 0, "rescale slope of 0"),
        ("RescaleType", "US", "not in Hounsfield units"),
        ("PixelSpacing", [0, 1], "pixel spacing of"),
        ("ImageType", ["ORIGINAL", "PRIMARY", "LOCALIZER"], "only localizer pictures"),
        ("PatientPosition", "HFDL", "patient position HFDL is not read"),
        ("PatientPosition", "", "patient position .0018,5100. is missing"),
    ],
)
def test_series_of_another_kind_are_refused(folder, keyword, value, words):
    spoil_all(folder, setting(keyword, value))
    refused(folder, words)


def test_a_single_slice_is_refused(folder):
    for path in sorted(folder.glob("*.dcm"))[1:]:
        path.unlink()
    refused(folder, "single slice")


def test_a_localizer_in_the_series_is_set_aside_and_said(folder):
    def change(d):
        d.ImageType = ["ORIGINAL", "PRIMARY", "LOCALIZER"]
        d.ImageOrientationPatient = [1, 0, 0, 0, 0, -1]
        d.Rows = 3

    (folder / "scout").write_bytes((folder / "CT001.dcm").read_bytes())
    spoil(folder / "scout", change)
    stack = stacked(folder)
    assert stack.grid.shape == (6, 6, 5)
    assert stack.notes == ("1 localizer picture of the series left out",)


def test_a_file_shorter_than_its_pixels_is_named(tmp_path):
    ct_folder(tmp_path, small_image((3, 64, 64)))
    path = tmp_path / "CT002.dcm"
    path.write_bytes(path.read_bytes()[:6000])
    refused(tmp_path, "CT002.dcm is cut off")


def test_a_person_may_say_the_position_where_files_are_silent(folder):
    spoil_all(folder, setting("PatientPosition", ""))
    assert stacked(folder, "FFP").patient_position == "FFP"
    spoil_all(folder, setting("PatientPosition", "HFS"))
    assert stacked(folder, "FFP").patient_position == "HFS"
