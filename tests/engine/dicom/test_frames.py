"""Enhanced multi-frame objects lie over the planning CT just as the single frames they are made of."""

import numpy as np
import pydicom
import pytest
from pydicom.dataset import Dataset
from pydicom.sequence import Sequence

from engine.base.errors import InputError
from engine.dicom.frames import SINGLE, frames_of
from engine.dicom.headers import scan_folder
from engine.dicom.read_ct import FindSeries, find_series
from engine.dicom.second_files import write_mr
from engine.dicom.second_image import ReadSecondImage, read_second_image
from tests.support.dicom_files import PATIENT, ct_folder
from tests.support.second import ramp

ENHANCED_MR = "1.2.840.10008.5.1.4.1.1.4.1"


def item(**fields):
    made = Dataset()
    for keyword, value in fields.items():
        setattr(made, keyword, value)
    return made


def enhanced(files, path, own_rescale=True, storage=ENHANCED_MR, keep=None):
    """Write single-frame files as one enhanced object, its frames in the order given; returns the dataset."""
    singles = [pydicom.dcmread(f) for f in files]
    out = singles[0].copy()
    out.SOPClassUID = out.file_meta.MediaStorageSOPClassUID = storage
    shared = item(
        PlaneOrientationSequence=[item(ImageOrientationPatient=out.ImageOrientationPatient)],
        PixelMeasuresSequence=[item(PixelSpacing=out.PixelSpacing, SliceThickness=out.SliceThickness)],
    )
    each = []
    for k, d in enumerate(singles):
        groups = item(PlanePositionSequence=[item(ImagePositionPatient=d.ImagePositionPatient)])
        if own_rescale:
            groups.PixelValueTransformationSequence = [item(RescaleSlope=2, RescaleIntercept=-k, RescaleType="US")]
        each.append(groups)
    for keyword in ("ImagePositionPatient", "ImageOrientationPatient", "PixelSpacing", "SliceThickness"):
        delattr(out, keyword)
    out.SharedFunctionalGroupsSequence = Sequence([shared])
    out.PerFrameFunctionalGroupsSequence = Sequence(each[:keep])
    out.NumberOfFrames = len(singles)
    out.PixelData = b"".join(d.PixelData for d in singles)
    out.save_as(path)
    return out


@pytest.fixture
def planning(tmp_path):
    return ct_folder(tmp_path / "ct")


@pytest.fixture
def singles(tmp_path, planning):
    write_mr(ramp(frame_of_reference_uid=planning.frame_of_reference_uid), PATIENT, tmp_path / "single")
    return sorted((tmp_path / "single").glob("*.dcm"))


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "multi").mkdir()
    return tmp_path / "multi"


def read(folder, planning):
    return read_second_image(ReadSecondImage(str(folder), "1.2.3.7", PATIENT, planning))


def test_frames_in_any_order_are_the_same_image_as_single_files(singles, folder, planning):
    order = np.random.default_rng(5).permutation(len(singles))
    enhanced([singles[i] for i in order], folder / "all.dcm", own_rescale=False)
    one, many = read(singles[0].parent, planning).image, read(folder, planning).image
    assert many.modality == "MR"
    assert np.array_equal(many.values, one.values)
    assert many.affine == pytest.approx(one.affine)
    assert many.transform == one.transform


def test_each_frame_has_its_own_rescale(singles, folder, planning):
    enhanced(singles, folder / "all.dcm")
    one, many = read(singles[0].parent, planning).image, read(folder, planning).image
    wanted = 2.0 * one.values - np.arange(len(singles))[:, None, None]
    assert np.array_equal(many.values, wanted)


def test_several_objects_of_a_series_make_one_stack(singles, folder, planning):
    enhanced(singles[::2], folder / "even.dcm", own_rescale=False)
    enhanced(singles[1::2], folder / "odd.dcm", own_rescale=False)
    assert np.array_equal(read(folder, planning).image.values, read(singles[0].parent, planning).image.values)


def test_the_list_of_series_offers_it_as_second_image_and_not_as_planning_ct(singles, folder):
    enhanced(singles, folder / "all.dcm")
    (found,) = find_series(FindSeries(str(folder))).series
    assert found.over_problem == ""
    assert not found.usable
    assert "Enhanced MR" in found.problem


@pytest.mark.parametrize("storage", sorted(SINGLE))
def test_every_enhanced_storage_becomes_its_single_one(singles, folder, storage):
    enhanced(singles, folder / "all.dcm", storage=storage)
    frames = frames_of(scan_folder(str(folder), lambda *_: None).headers, "here")
    assert {h.text("SOPClassUID") for h in frames} == {SINGLE[storage]}
    assert [h.frame for h in frames] == list(range(len(singles)))
    assert frames[2].name == "all.dcm, frame 3"


def test_two_echoes_at_the_same_places_are_refused_by_their_frames(singles, folder, planning):
    enhanced([*singles, *singles], folder / "all.dcm")
    with pytest.raises(InputError, match=r"frame 1 and all\.dcm, frame 25 lie at the same position") as caught:
        read(folder, planning)
    assert "echo" in caught.value.do


def test_frames_without_a_description_are_counted(singles, folder, planning):
    enhanced(singles, folder / "all.dcm", keep=5)
    with pytest.raises(InputError, match="24 frames and describes 5"):
        read(folder, planning)


def test_a_frame_without_a_place_is_named(singles, folder, planning):
    d = enhanced(singles, folder / "all.dcm")
    del d.PerFrameFunctionalGroupsSequence[3].PlanePositionSequence
    d.save_as(folder / "all.dcm")
    with pytest.raises(InputError, match="frame 4 has no usable image position"):
        read(folder, planning)


def test_an_object_that_is_cut_off_is_refused(singles, folder, planning):
    enhanced(singles, folder / "all.dcm")
    data = (folder / "all.dcm").read_bytes()
    (folder / "all.dcm").write_bytes(data[: len(data) * 2 // 3])
    with pytest.raises(InputError, match="cut off"):
        read(folder, planning)


def test_single_frames_pass_as_they_are(singles):
    headers = scan_folder(str(singles[0].parent), lambda *_: None).headers
    assert frames_of(headers, "here") == list(headers)
