"""Spatial Registration objects (PS3.3 A.39.1, C.20.2): the rigid transform between two frames of reference."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pydicom.dataset import Dataset
from pydicom.sequence import Sequence as Items

from engine.base.errors import InputError
from engine.base.words import say
from engine.case.case import Patient
from engine.dicom.common import (
    CAUTION,
    SYNTHETIC,
    add_patient_and_study,
    ds_texts,
    floats_of,
    new_file,
    patient_in,
    read_file,
    reading,
    save_file,
    text_of,
    uid_of,
    writing,
)

REGISTRATION_STORAGE = "1.2.840.10008.5.1.4.1.1.66.1"
_ORTHONORMAL = 1e-3
_NO_DATE = "19000101"


@dataclass(frozen=True)
class Referenced:
    """An image as a registration names it; both images are of the study the file is written to."""

    frame_uid: str
    series_uid: str
    sop_class: str
    sop_uids: Sequence[str]


@dataclass(frozen=True)
class Registration:
    """What one file says: its registered frame, and for each source frame the matrix that takes it there (4 x 4, mm)."""

    path: str
    uid: str
    patient: Patient
    frame_uid: str
    matrices: tuple[tuple[str, NDArray[np.float64]], ...]

    def between(self, source_uid: str, target_uid: str) -> NDArray[np.float64] | None:
        """Return the transform from one frame to another, or None if the file does not know both.

        Each matrix takes its source frame B into the registered frame A, A = M B (PS3.3 C.20.2.1.1); from source to
        target it is therefore inverse(M_target) M_source. A frame without an item is at home only as the registered one.
        """
        known = {self.frame_uid: np.eye(4)} if self.frame_uid else {}
        known.update(self.matrices)
        if source_uid not in known or target_uid not in known or source_uid == target_uid:
            return None
        return np.asarray(np.linalg.inv(known[target_uid]) @ known[source_uid])


def read_registration(path: str | Path) -> Registration:
    """Read one Spatial Registration file.

    Raises
    ------
    InputError
        If it is no such file, or holds anything but rigid transforms.
    """
    with reading():
        dataset = read_file(path, REGISTRATION_STORAGE, say("spatial registration"))
        where = Path(path).name
        items = dataset.get("RegistrationSequence") or []
        matrices = [(text_of(i, "FrameOfReferenceUID"), _matrix(i, where)) for i in items]
        matrices = [(uid, m) for uid, m in matrices if uid]
        if not matrices:
            raise InputError("it registers no frame of reference", where, "Export the registration again.")
        if len({uid for uid, _ in matrices}) < len(matrices):
            raise InputError("it registers one frame of reference twice", where, "Export the registration again.")
        return Registration(
            str(path),
            text_of(dataset, "SOPInstanceUID"),
            patient_in(dataset),
            text_of(dataset, "FrameOfReferenceUID"),
            tuple(matrices),
        )


def _matrix(item: Dataset, where: str) -> NDArray[np.float64]:
    """Return the product of an item's matrices in the order M1 M2 M3 (PS3.3 C.20.2.1.1)."""
    total = np.eye(4)
    sequences = item.get("MatrixRegistrationSequence") or []
    steps = [m for s in sequences for m in (s.get("MatrixSequence") or [])]
    if not steps:
        raise InputError("an item holds no matrix", where, "Export the registration again.")
    for step in steps:
        kind = text_of(step, "FrameOfReferenceTransformationMatrixType").upper()
        if kind != "RIGID":
            raise InputError(
                say("its transform is {kind}, not rigid", kind=kind or say("of no stated kind")),
                where,
                "Register rigidly, or export a rigid registration.",
            )
        numbers = floats_of(step, "FrameOfReferenceTransformationMatrix", 16)
        if numbers is None:
            raise InputError("a matrix does not hold 16 numbers", where, "Export the registration again.")
        total = total @ rigid(numbers, where)
    return total


def rigid(numbers: Sequence[float], where: str) -> NDArray[np.float64]:
    """Return 16 numbers as a 4 x 4 matrix, refused unless it turns and shifts only."""
    matrix = np.array(numbers, dtype=np.float64).reshape(4, 4)
    turn = matrix[:3, :3]
    if not np.allclose(matrix[3], (0, 0, 0, 1), atol=1e-6):
        raise InputError("the last row of a matrix is not 0, 0, 0, 1", where, "Export the registration again.")
    error = float(np.abs(turn @ turn.T - np.eye(3)).max())
    if error > _ORTHONORMAL or np.linalg.det(turn) < 0:
        what = (
            say("a matrix called rigid mirrors the image")
            if error <= _ORTHONORMAL
            else say("a matrix called rigid stretches or shears (by {error:.4f})", error=error)
        )
        raise InputError(what, where, "Register rigidly, or export a rigid registration.")
    return matrix


@writing()
def write_registration(
    path: str | Path,
    patient: Patient,
    study_uid: str,
    target: Referenced,
    source: Referenced,
    matrix: NDArray[np.float64],
) -> str:
    """Write a Spatial Registration file and return its SOP Instance UID.

    Parameters
    ----------
    target, source : the two images
    matrix : 4 x 4, takes the source frame into the target's
    """
    uid = uid_of("registration", study_uid, target.frame_uid, source.frame_uid, *(f"{v:.9g}" for v in matrix.ravel()))
    dataset = new_file(REGISTRATION_STORAGE, uid)
    add_patient_and_study(dataset, patient, study_uid)
    dataset.Modality = "REG"
    dataset.SeriesInstanceUID = uid_of("registration-series", uid)
    dataset.SeriesNumber = 3
    dataset.SeriesDescription = "Synthetic: registration" if patient.synthetic else "Registration"
    dataset.InstanceNumber = 1
    dataset.ContentDate, dataset.ContentTime = _NO_DATE, "000000"
    dataset.Laterality = ""
    dataset.ContentLabel = "RIGID"
    dataset.ContentDescription = f"{SYNTHETIC}. {CAUTION}"[:64] if patient.synthetic else ""
    dataset.ContentCreatorName = ""
    dataset.FrameOfReferenceUID = target.frame_uid
    dataset.PositionReferenceIndicator = ""
    dataset.RegistrationSequence = Items([_item(target, np.eye(4)), _item(source, matrix)])
    dataset.ReferencedSeriesSequence = Items([_series(target), _series(source)])
    save_file(dataset, Path(path))
    return uid


def _item(image: Referenced, matrix: NDArray[np.float64]) -> Dataset:
    step: Any = Dataset()
    step.FrameOfReferenceTransformationMatrix = ds_texts(matrix.ravel())
    step.FrameOfReferenceTransformationMatrixType = "RIGID"
    registered: Any = Dataset()
    registered.RegistrationTypeCodeSequence = Items([])
    registered.MatrixSequence = Items([step])
    item: Any = Dataset()
    item.FrameOfReferenceUID = image.frame_uid
    item.ReferencedImageSequence = _instances(image)
    item.MatrixRegistrationSequence = Items([registered])
    return item


def _series(image: Referenced) -> Dataset:
    """Return the item of the Common Instance Reference Module (PS3.3 C.12.2)."""
    item: Any = Dataset()
    item.SeriesInstanceUID = image.series_uid
    item.ReferencedInstanceSequence = _instances(image)
    return item


def _instances(image: Referenced) -> Items:
    out = []
    for uid in image.sop_uids:
        reference: Any = Dataset()
        reference.ReferencedSOPClassUID, reference.ReferencedSOPInstanceUID = image.sop_class, uid
        out.append(reference)
    return Items(out)
