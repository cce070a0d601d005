from __future__ import annotations

import numpy as np
import pytest
from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.dicom.common import MR_STORAGE, PET_STORAGE
from engine.dicom.read_ct import FindSeries, find_series
from engine.dicom.registration import Referenced, write_registration
from engine.dicom.second_files import write_mr
from engine.dicom.second_image import ReadSecondImage, read_second_image
from tests.support.dicom_files import PATIENT, checker_errors, ct_folder, spoil, spoil_all
from tests.support.second import SLOPES, ramp, ramp_value, turned

CT = "1.2.840.10008.5.1.4.1.1.2"


@pytest.fixture
def planning(tmp_path):
    return ct_folder(tmp_path / "ct")


@pytest.fixture
def folder(tmp_path):
    write_mr(ramp(), PATIENT, tmp_path / "mr")
    return tmp_path / "mr"


def register(folder, planning, matrix, name="REG.dcm", patient=PATIENT):
    frames = (
        Referenced(planning.frame_of_reference_uid, planning.series_uid, CT, planning.sop_uids),
        Referenced("1.2.3.9", "1.2.3.7", MR_STORAGE, ["1.2.3.5"]),
    )
    write_registration(folder / name, patient, "1.2.3.8", *frames, matrix)
    return str(folder / name)


def read(folder, planning, path="", patient=PATIENT):
    return read_second_image(ReadSecondImage(str(folder), "1.2.3.7", patient, planning, path))


def test_a_registration_beside_it_lands_the_ramp_within_a_tenth_of_a_millimetre(folder, planning):
    register(folder, planning, turned())
    found = read(folder, planning)
    points = np.random.default_rng(1).uniform(-25, 25, (40, 3))
    values = np.array([found.image.value_at(tuple(p)) for p in points])
    assert np.abs(values - ramp_value(points)).max() / np.linalg.norm(SLOPES) < 0.1
    assert "REG.dcm" in found.image.origin
    assert found.image.registration_uid
    assert found.image.synthetic
    assert found.notes == ()


def test_the_same_frame_of_reference_needs_no_registration(folder, planning):
    spoil_all(folder, lambda d: setattr(d, "FrameOfReferenceUID", planning.frame_of_reference_uid))
    found = read(folder, planning).image
    assert found.transform == tuple(np.eye(4).ravel())
    assert "same frame" in found.origin


def test_without_a_way_to_place_it_it_is_refused_with_what_to_do(folder, planning):
    with pytest.raises(InputError, match="no registration between the two") as caught:
        read(folder, planning)
    assert "Spatial Registration" in caught.value.do


def test_a_registration_opened_by_hand_settles_two_that_differ(folder, planning):
    right = register(folder, planning, turned())
    register(folder, planning, turned((0, 0, 1)), "REG2.dcm")
    with pytest.raises(InputError, match="several registrations differ"):
        read(folder, planning)
    assert np.allclose(read(folder, planning, right).image.transform, turned().ravel(), atol=1e-9)


def test_a_broken_registration_is_told_and_not_passed_over(folder, planning):
    path = register(folder, planning, turned())
    spoil(
        folder / "REG.dcm",
        lambda d: setattr(
            d.RegistrationSequence[1].MatrixRegistrationSequence[0].MatrixSequence[0],
            "FrameOfReferenceTransformationMatrix",
            ["2", "0", "0", "0", "0", "1", "0", "0", "0", "0", "1", "0", "0", "0", "0", "1"],
        ),
    )
    for given in ("", path):
        with pytest.raises(InputError, match="stretches"):
            read(folder, planning, given)


@pytest.mark.parametrize("change", [{"PatientID": "X-1"}, {"PatientName": "Other^One"}, {"PatientBirthDate": "20000101"}])
def test_another_patient_is_refused_and_both_are_shown(folder, planning, change):
    for name, value in change.items():
        spoil_all(folder, lambda d, n=name, v=value: setattr(d, n, v))
    with pytest.raises(InputError, match="another patient") as caught:
        read(folder, planning)
    assert PATIENT.patient_id in caught.value.what
    assert next(iter(change.values())) in caught.value.what


def test_a_registration_of_another_patient_is_refused(folder, planning):
    register(folder, planning, turned(), patient=PATIENT.but(patient_id="X-1"))
    with pytest.raises(InputError, match="another patient"):
        read(folder, planning)


def _as_pet(dataset):
    dataset.SOPClassUID, dataset.Modality = PET_STORAGE, "PT"
    dataset.file_meta.MediaStorageSOPClassUID = PET_STORAGE
    dataset.RescaleSlope, dataset.RescaleIntercept = "2.5", "0"
    dataset.Units, dataset.DecayCorrection, dataset.PatientWeight = "BQML", "ADMIN", "80"
    tracer = Dataset()
    tracer.RadionuclideTotalDose = "400000000"
    dataset.RadiopharmaceuticalInformationSequence = [tracer]


def test_pet_comes_as_uptake_values_or_says_why_not(folder, planning):
    register(folder, planning, turned())
    spoil_all(folder / ".", lambda d: _as_pet(d) if d.Modality == "MR" else None)
    found = read(folder, planning)
    assert found.image.unit == "SUV"
    assert found.image.modality == "PT"
    assert found.image.value_at((0, 0, 0)) == pytest.approx(1000 * 2.5 * 80000 / 4e8, rel=1e-3)
    spoil_all(folder, lambda d: setattr(d, "PatientWeight", None) if d.Modality == "PT" else None)
    raw = read(folder, planning)
    assert raw.image.unit == "Bq/ml"
    assert "weight" in raw.notes[0]


def test_the_list_of_a_folder_says_which_series_can_lie_over(folder, planning, tmp_path):
    register(folder, planning, turned())
    by_kind = {s.modality: s for s in find_series(FindSeries(str(tmp_path))).series}
    assert by_kind["MR"].over_problem == ""
    assert by_kind["MR"].problem
    assert by_kind["CT"].over_problem == ""
    assert "no MR, PET or CT" in by_kind["REG"].over_problem


def test_written_slices_satisfy_the_verifier(folder):
    assert checker_errors([folder / "MR001.dcm"], folder) == []
