from __future__ import annotations

import numpy as np
import pytest
from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.dicom.registration import Referenced, read_registration, rigid, write_registration
from tests.support.dicom_files import PATIENT, checker_errors, spoil
from tests.support.second import turned

CT, MR = "1.2.840.10008.5.1.4.1.1.2", "1.2.840.10008.5.1.4.1.1.4"


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "REG.dcm"
    write_registration(
        path,
        PATIENT,
        "1.2.3",
        Referenced("1.2.3.1", "1.2.3.11", CT, ["1.2.3.4"]),
        Referenced("1.2.3.2", "1.2.3.12", MR, ["1.2.3.5"]),
        turned(),
    )
    return path


def test_the_matrix_takes_the_source_frame_into_the_target(path):
    found = read_registration(path)
    assert np.allclose(found.between("1.2.3.2", "1.2.3.1"), turned(), atol=1e-9)
    assert np.allclose(found.between("1.2.3.1", "1.2.3.2"), np.linalg.inv(turned()), atol=1e-9)
    assert found.between("1.2.3.2", "9.9") is None


def test_written_files_satisfy_the_verifier(path):
    assert checker_errors([path], path.parent) == []


def test_several_matrices_multiply_in_their_order(path):
    first, second = turned((0, 0, 30), (10, 0, 0)), turned((20, 0, 0), (0, 5, 0))

    def split(dataset):
        items = []
        for m in (first, second):
            step = Dataset()
            step.FrameOfReferenceTransformationMatrix = [f"{v:.10g}" for v in m.ravel()]
            step.FrameOfReferenceTransformationMatrixType = "RIGID"
            items.append(step)
        dataset.RegistrationSequence[1].MatrixRegistrationSequence[0].MatrixSequence = items

    spoil(path, split)
    found = read_registration(path).between("1.2.3.2", "1.2.3.1")
    assert np.allclose(found, first @ second, atol=1e-8)
    assert not np.allclose(found, second @ first, atol=1e-2)


def test_a_file_with_one_item_counts_its_own_frame_as_the_registered_one(path):
    spoil(path, lambda d: setattr(d, "RegistrationSequence", d.RegistrationSequence[1:]))
    assert np.allclose(read_registration(path).between("1.2.3.2", "1.2.3.1"), turned(), atol=1e-9)


def test_when_both_are_moved_into_a_third_frame_the_two_are_held_against_each_other(path):
    third = turned((3, 5, 7), (9, 8, 7))

    def change(dataset):
        step = dataset.RegistrationSequence[0].MatrixRegistrationSequence[0].MatrixSequence[0]
        step.FrameOfReferenceTransformationMatrix = [f"{v:.10g}" for v in third.ravel()]
        dataset.FrameOfReferenceUID = "1.2.3.77"

    spoil(path, change)
    found = read_registration(path).between("1.2.3.2", "1.2.3.1")
    assert np.allclose(found, np.linalg.inv(third) @ turned(), atol=1e-8)


def _step(dataset):
    return dataset.RegistrationSequence[1].MatrixRegistrationSequence[0].MatrixSequence[0]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: setattr(_step(d), "FrameOfReferenceTransformationMatrixType", "AFFINE"), "AFFINE"),
        (lambda d: setattr(_step(d), "FrameOfReferenceTransformationMatrix", ["1"] * 15), "16 numbers"),
        (lambda d: setattr(d, "RegistrationSequence", []), "registers no frame"),
        (lambda d: delattr(d.RegistrationSequence[1], "MatrixRegistrationSequence"), "no matrix"),
        (lambda d: setattr(d, "SOPClassUID", CT), "not a spatial registration"),
    ],
)
def test_what_is_no_rigid_registration_is_refused(path, change, words):
    spoil(path, change)
    with pytest.raises(InputError, match=words):
        read_registration(path)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda m: m[:3, :3].__imul__(1.01), "stretches"),
        (lambda m: m[0].__imul__(-1.0), "mirrors"),
        (lambda m: m[3].__iadd__(0.5), "last row"),
    ],
)
def test_only_turns_and_shifts_are_rigid(change, words):
    matrix = turned()
    change(matrix)
    with pytest.raises(InputError, match=words):
        rigid(tuple(matrix.ravel()), "here")
