from __future__ import annotations

import pytest
from pydicom.dataset import Dataset

from engine.dicom.uptake import suv_factor


def pet(**change) -> Dataset:
    tracer = Dataset()
    tracer.RadionuclideTotalDose, tracer.RadionuclideHalfLife = "370000000", "6586.2"
    tracer.RadiopharmaceuticalStartTime = change.pop("injected", "100000.00")
    d = Dataset()
    d.Units, d.DecayCorrection, d.PatientWeight = "BQML", "START", "70"
    d.SeriesDate = d.AcquisitionDate = "20260301"
    d.SeriesTime = d.AcquisitionTime = "110000"
    d.RadiopharmaceuticalInformationSequence = [tracer]
    for name, value in change.items():
        setattr(d, name, value)
    return d


def test_a_worked_example_one_hour_after_injection():
    # 370 MBq decay in 3600 s with a half-life of 6586.2 s to 370 x 0.68463 = 253.3 MBq; 70 kg are 70 000 g.
    factor, why = suv_factor([pet()])
    assert why == ""
    assert factor == pytest.approx(70000 / 253.31e6, rel=1e-4)


def test_images_corrected_to_the_injection_use_the_injected_activity():
    assert suv_factor([pet(DecayCorrection="ADMIN")])[0] == pytest.approx(70000 / 370e6)


def test_the_scan_starts_with_its_first_slice_when_the_series_was_made_later():
    late = pet(SeriesTime="150000")
    assert suv_factor([late])[0] == pytest.approx(suv_factor([pet()])[0])


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"Units": "CNTS"}, "CNTS"),
        ({"DecayCorrection": "NONE"}, "NONE"),
        ({"PatientWeight": "0"}, "weight"),
        ({"PatientWeight": None}, "weight"),
        ({"RadiopharmaceuticalInformationSequence": []}, "activity"),
        ({"injected": "120000"}, "cannot be"),
        ({"injected": ""}, "times"),
    ],
)
def test_without_what_it_needs_there_is_no_uptake_value_and_it_says_why(change, words):
    factor, why = suv_factor([pet(**change)])
    assert factor == 0.0
    assert words in why
