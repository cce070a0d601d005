"""CT series found and opened: pixels, orientations, padding, compression, damage."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydicom.dataset import Dataset
from pydicom.encaps import encapsulate
from pydicom.uid import MPEG2MPML, JPEG2000Lossless, RLELossless

from engine import compute
from engine.base.errors import Cancelled, InputError
from engine.dicom import read_ct
from engine.dicom.read_ct import FindSeries, OpenSeries, find_series, hounsfield, open_series
from tests.support.dicom_files import PATIENT, ct_folder, plain_ct, small_image, spoil, spoil_all
from tests.support.phantoms import lopsided_letter

LEFT, RIGHT, BACK, FRONT = (1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)


def test_what_was_written_is_read_back_exactly(tmp_path):
    image = small_image(patient_position="FFS", scanner=(("kVp", "120"),))
    written = ct_folder(tmp_path, image)
    opened = compute.run(OpenSeries(str(tmp_path), written.series_uid))
    assert np.array_equal(opened.image.hu, image.hu)
    assert opened.image.grid == image.grid
    assert opened.image.sop_uids == written.sop_uids
    assert opened.image.frame_of_reference_uid == written.frame_of_reference_uid
    assert opened.image.patient_position == "FFS"
    assert opened.patient == PATIENT
    assert opened.notes == ()
    assert dict(opened.image.scanner)["kVp"] == "120"


@pytest.mark.parametrize("position", ["HFS", "HFP", "FFS", "FFP"])
@pytest.mark.parametrize("downwards", [False, True], ids=["head last", "head first"])
@pytest.mark.parametrize(
    ("row", "column"),
    [
        (LEFT, BACK),
        (RIGHT, BACK),
        (LEFT, FRONT),
        (RIGHT, FRONT),
        (BACK, LEFT),
        (FRONT, LEFT),
        (BACK, RIGHT),
        (FRONT, RIGHT),
    ],
)
def test_the_letter_stands_the_same_however_it_is_stored(tmp_path, position, downwards, row, column):
    letter = lopsided_letter(patient_position=position)
    plain_ct(tmp_path, letter, row, column, downwards)
    image = open_series(OpenSeries(str(tmp_path))).image
    assert image.patient_position == position
    assert np.allclose(image.grid.origin_mm, letter.grid.origin_mm)
    assert np.allclose(image.grid.spacing_mm, letter.grid.spacing_mm)
    assert np.array_equal(image.hu, letter.hu)
    middle = image.grid.centre_mm
    left_mark = image.grid.point(np.argwhere(image.hu == 1000).mean(axis=0))
    head_mark = image.grid.point(np.argwhere(image.hu == 1500).mean(axis=0))
    assert left_mark[0] > middle[0], "the mark of 1000 lies at the patient's left, +x"
    assert left_mark[1] > middle[1], "and at the back, +y"
    assert left_mark[2] < middle[2], "and towards the feet, -z"
    assert head_mark[2] > middle[2], "the mark of 1500 lies towards the head, +z"
    assert head_mark[1] < middle[1], "and at the front, -y"


def test_slices_keep_their_identity_when_sorted(tmp_path):
    plain_ct(tmp_path, lopsided_letter(), LEFT, BACK, downwards=True)
    image = open_series(OpenSeries(str(tmp_path))).image
    by_uid = {}
    for path in tmp_path.iterdir():
        d = pydicom.dcmread(path)
        by_uid[d.SOPInstanceUID] = float(d.ImagePositionPatient[2])
    assert [by_uid[u] for u in image.sop_uids] == pytest.approx(list(image.grid.z_mm))


def pixels(stored, signed, bits=16, slope=1.0, intercept=0.0, **more):
    d = Dataset()
    d.BitsAllocated, d.BitsStored, d.HighBit, d.PixelRepresentation = 16, bits, bits - 1, int(signed)
    d.RescaleSlope, d.RescaleIntercept = slope, intercept
    for keyword, value in more.items():
        d.add_new(keyword, "SS" if signed else "US", value)
    return hounsfield(d, np.array([stored], dtype=np.int16 if signed else np.uint16))


def test_the_worked_rescale():
    """Stored 1064, slope 1, intercept -1024 is 40 HU (DICOM PS3.3 C.11.1.1.2, derived)."""
    assert pixels([1064], False, intercept=-1024.0)[0].tolist() == [[40]]


def test_rescaled_numbers_are_rounded_and_clipped():
    assert pixels([10, 11, -3], True, slope=0.25)[0].tolist() == [[2, 3, -1]]
    assert pixels([65535, 0], False)[0].tolist() == [[32767, 0]]
    assert pixels([30000], True, slope=-2.0)[0].tolist() == [[-32768]]


def test_bits_above_those_stored_are_not_part_of_the_number():
    assert pixels([0xF123], False, bits=12)[0].tolist() == [[0x123]]
    assert pixels([0x0FFF, 0x0001], True, bits=12)[0].tolist() == [[-1, 1]]


@given(st.lists(st.integers(-2048, 2047), min_size=1, max_size=20))
@settings(max_examples=30)
def test_signed_twelve_bits_come_through_whatever_fills_the_rest(values):
    stored = [((v & 0xFFF) | 0x5000) for v in values]
    assert pixels(stored, True, bits=12)[0].tolist() == [values]


def test_padding_becomes_air():
    hu, odd = pixels([-2000, 50, -1900], True, PixelPaddingValue=-2000)
    assert (hu.tolist(), odd) == ([[-1000, 50, -1900]], "")
    hu, odd = pixels([0, 100, 1064], False, intercept=-1024.0, PixelPaddingValue=0, PixelPaddingRangeLimit=100)
    assert (hu.tolist(), odd) == ([[-1000, -1000, 40]], "")
    hu, odd = pixels([-2000], True, PixelPaddingValue=-2000, PixelPaddingRangeLimit=-1500)
    assert hu.tolist() == [[-1000]]


def test_a_padding_value_that_means_tissue_is_left_and_said():
    hu, odd = pixels([0, 100], True, PixelPaddingValue=0)
    assert hu.tolist() == [[0, 100]]
    assert odd == "0"


def test_each_slice_gets_its_own_rescale(tmp_path):
    image = small_image((3, 4, 4))
    ct_folder(tmp_path, image)
    spoil(tmp_path / "CT002.dcm", lambda d: setattr(d, "RescaleIntercept", 10))
    opened = open_series(OpenSeries(str(tmp_path)))
    assert np.array_equal(opened.image.hu - image.hu, np.array([0, 10, 0])[:, None, None] * np.ones((1, 4, 4)))
    assert any("own" in n for n in opened.notes)


@pytest.mark.parametrize("syntax", [RLELossless, JPEG2000Lossless])
def test_compressed_pixels_are_read(tmp_path, syntax):
    image = small_image((3, 64, 64))
    ct_folder(tmp_path, image)
    if syntax == JPEG2000Lossless:
        pytest.importorskip("openjpeg")
    spoil_all(tmp_path, lambda d: d.compress(syntax, generate_instance_uid=False))
    assert np.array_equal(open_series(OpenSeries(str(tmp_path))).image.hu, image.hu)


def test_a_missing_decoder_is_named_with_the_way_to_get_it(tmp_path, monkeypatch):
    ct_folder(tmp_path)
    spoil_all(tmp_path, lambda d: d.compress(RLELossless, generate_instance_uid=False))

    class Absent:
        is_available = False

    monkeypatch.setattr(read_ct, "get_decoder", lambda uid: Absent())
    with pytest.raises(InputError, match=r"RLE Lossless.*halfshade\[codecs\]"):
        open_series(OpenSeries(str(tmp_path)))


@pytest.mark.parametrize(("syntax", "words"), [(MPEG2MPML, "MPEG2"), (RLELossless, "CT00")])
def test_pixels_that_cannot_be_decoded_are_refused(tmp_path, syntax, words):
    ct_folder(tmp_path)

    def change(d):
        d.file_meta.TransferSyntaxUID = syntax
        d.PixelData = encapsulate([b"nonsense"])
        d["PixelData"].is_undefined_length = True

    spoil_all(tmp_path, change)
    with pytest.raises(InputError, match=words):
        open_series(OpenSeries(str(tmp_path)))


def test_a_damaged_file_beside_the_series_is_not_passed_over(tmp_path):
    """The last slice cut off in its header would otherwise only make the patient shorter."""
    ct_folder(tmp_path)
    path = tmp_path / "CT004.dcm"
    path.write_bytes(path.read_bytes()[:200])
    with pytest.raises(InputError, match=r"CT004\.dcm beside it is damaged"):
        open_series(OpenSeries(str(tmp_path)))
    (series,) = find_series(FindSeries(str(tmp_path))).series
    assert "damaged" in series.problem


@pytest.mark.parametrize("keep", [0.3, 0.95])
def test_a_cut_off_file_is_named(tmp_path, keep):
    ct_folder(tmp_path, small_image((3, 64, 64)))
    path = tmp_path / "CT002.dcm"
    whole = path.read_bytes()
    path.write_bytes(whole[: int(keep * len(whole))])
    with pytest.raises(InputError, match=r"CT002\.dcm"):
        open_series(OpenSeries(str(tmp_path)))


def test_wrong_bit_depths_are_refused(tmp_path):
    ct_folder(tmp_path)
    spoil(tmp_path / "CT001.dcm", lambda d: setattr(d, "HighBit", 11))
    with pytest.raises(InputError, match=r"CT001\.dcm"):
        open_series(OpenSeries(str(tmp_path)))


def test_all_series_of_a_folder_are_listed_with_what_is_wrong(tmp_path):
    good = ct_folder(tmp_path / "good")
    bad = ct_folder(tmp_path / "bad", small_image(seed=9))
    spoil_all(tmp_path / "bad", lambda d: setattr(d, "Modality", "PT"))
    (tmp_path / "readme.txt").write_text("hello")
    found = compute.run(FindSeries(str(tmp_path)))
    assert [s.uid for s in found.series] == [good.series_uid, bad.series_uid]
    assert found.other_files == 1
    first, second = found.series
    assert first.usable
    assert (first.files, first.modality, first.patient_name) == (4, "CT", "Doe^Jane")
    assert not second.usable
    assert "modality is PT" in second.problem
    assert len(read_ct.notes_of(found.series)) == 1


def test_the_only_usable_series_needs_no_uid_and_two_need_one(tmp_path):
    ct_folder(tmp_path / "a")
    assert open_series(OpenSeries(str(tmp_path))).image.grid.shape == (4, 6, 5)
    ct_folder(tmp_path / "b", small_image(seed=5))
    with pytest.raises(InputError, match="2 usable CT series"):
        open_series(OpenSeries(str(tmp_path)))
    with pytest.raises(InputError, match=r"no series 1\.2\.3"):
        open_series(OpenSeries(str(tmp_path), "1.2.3"))


def test_a_folder_of_junk_is_refused(tmp_path):
    (tmp_path / "x").write_text("x")
    with pytest.raises(InputError, match="no usable CT series"):
        open_series(OpenSeries(str(tmp_path)))
    assert find_series(FindSeries(str(tmp_path))).series == ()


def test_nothing_is_invented_about_the_patient(tmp_path):
    ct_folder(tmp_path)

    def change(d):
        for keyword in ("PatientName", "PatientID", "PatientBirthDate", "PatientSex", "PatientComments"):
            if keyword in d:
                del d[keyword]

    spoil_all(tmp_path, change)
    patient = open_series(OpenSeries(str(tmp_path))).patient
    assert (patient.name, patient.patient_id, patient.birth_date, patient.sex, patient.synthetic) == ("", "", "", "", False)


def test_opening_can_be_stopped(tmp_path):
    ct_folder(tmp_path)

    def stop(fraction, words=""):
        if fraction > 0.5:
            raise Cancelled

    with pytest.raises(Cancelled):
        open_series(OpenSeries(str(tmp_path)), stop)
