"""What CT and second images share: each refusal names the file, the place and what to do."""

from dataclasses import replace

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.dicom import one_series
from engine.dicom.headers import Header

PLACE = {
    "ImagePositionPatient": (0.0, 0.0, 0.0), "ImageOrientationPatient": (1.0, 0.0, 0.0, 0.0, 1.0, 0.0),
    "PixelSpacing": (1.0, 1.0), "Rows": (4.0,), "Columns": (4.0,),
}  # fmt: skip


def header(name="a.dcm", **texts):
    given = {"FrameOfReferenceUID": "1.2", "SeriesDescription": "Head", **texts}
    return Header(f"/x/{name}", name, 1000, "1.2.840.10008.1.2.1", given, dict(PLACE))


def test_a_series_is_called_by_its_description_else_its_uid():
    assert one_series.named([header()]) == "series 'Head'"
    assert one_series.named([header(SeriesDescription="", SeriesInstanceUID="1.2.3")]) == "series '1.2.3'"
    assert one_series.named([header(SeriesDescription="")]) == "series"


def test_localizers_are_left_out():
    kept = one_series.images_of([header(), header("b.dcm", ImageType="ORIGINAL\\PRIMARY\\LOCALIZER")])
    assert [h.name for h in kept] == ["a.dcm"]


@pytest.mark.parametrize(
    ("uid", "frames", "words"),
    [
        ("1.2.840.10008.5.1.4.1.1.2.1", 20, r"a.dcm is an enhanced multi-frame object \(Enhanced CT"),
        ("1.2.840.10008.5.1.4.1.1.2.2", 20, r"Legacy Converted Enhanced CT"),
        ("1.2.840.10008.5.1.4.1.1.2", 3, r"a.dcm holds several frames \(3\)"),
    ],
)
def test_several_frames_are_refused_with_what_to_do(uid, frames, words):
    h = header(SOPClassUID=uid)
    h.numbers["NumberOfFrames"] = (float(frames),)
    with pytest.raises(InputError, match=words) as caught:
        one_series.refuse_frames(h, "series 'Head'")
    assert caught.value.where == "series 'Head'"
    assert "single-frame" in caught.value.do
    one_series.refuse_frames(header(SOPClassUID="1.2.840.10008.5.1.4.1.1.2"), "")


@pytest.mark.parametrize("keyword", list(PLACE))
def test_every_number_of_the_place_is_needed(keyword):
    h = header()
    del h.numbers[keyword]
    with pytest.raises(InputError, match="has no usable"):
        one_series.check_placed(h, "here")


def test_more_numbers_can_be_asked_for_and_spacing_is_positive():
    one_series.check_placed(header(), "here")
    with pytest.raises(InputError, match="no usable slope"):
        one_series.check_placed(header(), "here", {"RescaleSlope": "slope"})
    h = header()
    h.numbers["PixelSpacing"] = (1.0, 0.0)
    with pytest.raises(InputError, match="pixel spacing of"):
        one_series.check_placed(h, "here")
    with pytest.raises(InputError, match="no frame of reference"):
        one_series.check_placed(header(FrameOfReferenceUID=""), "here")


def test_the_odd_one_is_named_with_what_it_has():
    one_series.check_alike([header(), header("b.dcm")], "here")
    odd = header("c.dcm")
    odd.numbers["PixelSpacing"] = (2.0, 1.0)
    with pytest.raises(InputError, match=r"pixel spacing: c\.dcm has 2 x 1, most have 1 x 1"):
        one_series.check_alike([header(), header("b.dcm"), odd], "here")
    with pytest.raises(InputError, match="different patients: P1; and P2"):
        one_series.check_alike([header(PatientID="P1"), header("b.dcm", PatientID="P2")], "here")


def test_a_file_shorter_than_its_pixels_is_cut_off_unless_compressed():
    short = replace(header(), size=31)
    with pytest.raises(InputError, match="is cut off"):
        one_series.check_whole([short], "here")
    one_series.check_whole([replace(short, syntax="1.2.840.10008.1.2.4.70")], "here")


@pytest.mark.parametrize(
    ("heights", "words"),
    [
        ((0.0, 0.0, 3.0), r"a.dcm and b.dcm lie at the same position, 0\.00 mm"),
        ((0.0, 3.0, 6.0, 15.0), r"2 slices missing between 6\.0 and 15\.0 mm"),
        ((0.0, 3.0, 6.2, 9.2), r"unevenly spaced: 3\.200 mm between 3\.0 and 6\.2 mm, elsewhere 3\.000 mm"),
    ],
)
def test_steps_that_are_not_even_are_placed(heights, words):
    slices = [header(f"{letter}.dcm") for letter in "abcd"][: len(heights)]
    with pytest.raises(InputError, match=words):
        one_series.check_steps(slices, np.array(heights), "here")
    one_series.check_steps(slices, 3.0 * np.arange(len(slices)), "here")
