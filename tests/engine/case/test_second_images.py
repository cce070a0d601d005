from __future__ import annotations

from engine.case.second_images import with_second_image, without_second_image
from engine.store.case_file import CaseFile
from tests.support.cases import small_case
from tests.support.second import ramp


def test_a_case_without_one_keeps_its_fingerprint_and_removal_brings_it_back():
    case = small_case()
    more = with_second_image(case, ramp())
    assert more != case
    assert [i.key for i in more.second_images] == ["ramp"]
    assert without_second_image(more, "ramp") == case


def test_the_same_series_takes_the_place_of_the_older_reading():
    case = with_second_image(small_case(), ramp())
    again = with_second_image(case, ramp().but(key="other", origin="by hand"))
    assert [i.origin for i in again.second_images] == ["by hand"]


def test_the_case_file_keeps_image_transform_and_origin(tmp_path):
    case = with_second_image(small_case(), ramp(synthetic=True))
    with CaseFile.create(tmp_path / "a.halfshade", case):
        pass
    with CaseFile.open(tmp_path / "a.halfshade") as file:
        found = file.case()
    assert found == case
    (image,) = found.second_images
    assert image.transform == ramp().transform
    assert image.origin == "test"
    assert image.synthetic
