"""CT Image Storage files written from an image, for the demonstration patients."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import numpy as np
from pydicom.dataset import FileDataset

from engine.base.errors import UserError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.case.case import Patient
from engine.dicom.common import (
    CAUTION,
    CT_STORAGE,
    SYNTHETIC,
    add_patient_and_study,
    ds_text,
    ds_texts,
    make_folder,
    new_file,
    save_file,
    short,
    study_date,
    uid_of,
    writing,
)
from engine.image.ct import CtImage


def with_identity(image: CtImage, patient: Patient) -> CtImage:
    """Return the image with the identifiers its files will carry, the same for the same image and patient.

    An image that came from DICOM keeps its study and frame of reference; the written copy is a series of its own.
    """
    seed = (image.fingerprint, patient.fingerprint)
    return image.but(
        study_uid=image.study_uid or uid_of("study", *seed),
        frame_of_reference_uid=image.frame_of_reference_uid or uid_of("frame", *seed),
        series_uid=uid_of("ct series", *seed),
        sop_uids=tuple(uid_of("ct", *seed, str(k)) for k in range(image.grid.shape[0])),
    )


@writing()
def write_ct(
    image: CtImage, patient: Patient, folder: str | Path, report: Report = quiet, names: Sequence[str] = ()
) -> CtImage:
    """Write an image as one CT Image Storage file per plane and return it with the identifiers they carry.

    Rows run to +x, columns to +y and instance numbers to +z, whatever the patient position. CT numbers are stored as
    they are, signed, with slope 1 and intercept 0.

    Parameters
    ----------
    folder : made if missing; files are CT001.dcm and so on, or `names`

    Raises
    ------
    UserError
        If the folder or a file cannot be written; nothing half-written stays.
    """
    target = make_folder(folder)
    out = with_identity(image, patient)
    dataset = _series(out, patient, derived=bool(image.sop_uids))
    n = image.grid.shape[0]
    width = max(3, len(str(n)))
    done: list[tuple[Path, Path]] = []
    try:
        for k in range(n):
            report(k / n, say("writing slices, {k} of {n}", k=k, n=n))
            _slice(dataset, out, k)
            name = names[k] if names else f"CT{k + 1:0{width}d}.dcm"
            temporary = target / f".{out.series_uid[-8:]}-{name}"
            done.append((temporary, target / name))
            save_file(dataset, temporary)
        for temporary, path in done:
            _rename(temporary, path)
    except BaseException:
        for temporary, _ in done:
            with suppress(OSError):
                temporary.unlink()
        raise
    report(1.0, "")
    return out


def _series(image: CtImage, patient: Patient, derived: bool) -> FileDataset:
    """Build what all slices share: PS3.3 A.3 (CT Image IOD) with C.7.3.1, C.7.4.1, C.7.6.2, C.7.6.3 and C.8.2.1."""
    dataset = new_file(CT_STORAGE, image.sop_uids[0])
    facts = dict(image.scanner)
    add_patient_and_study(dataset, patient, image.study_uid, study_date(image.scanner))
    dataset.Modality = "CT"
    dataset.SeriesInstanceUID = image.series_uid
    dataset.SeriesNumber = 1
    words = image.description or "CT"
    if patient.synthetic and "synthetic" not in words.lower():
        words = f"Synthetic: {words}"
    dataset.SeriesDescription = short(words, 64)
    dataset.ImageComments = f"{SYNTHETIC}. {CAUTION}" if patient.synthetic else CAUTION
    dataset.Laterality = ""
    dataset.PatientPosition = image.patient_position
    dataset.FrameOfReferenceUID = image.frame_of_reference_uid
    dataset.PositionReferenceIndicator = ""
    dataset.ImageType = (
        ["DERIVED", "SECONDARY", "AXIAL"] if derived or patient.synthetic else ["ORIGINAL", "PRIMARY", "AXIAL"]
    )
    if derived or patient.synthetic:
        dataset.DerivationDescription = "computed numbers" if patient.synthetic else "rewritten after reading"
    dataset.AcquisitionNumber = None
    dataset.KVP = facts["kVp"] if _number(facts.get("kVp", "")) else None
    dx, dy, dz = image.grid.spacing_mm
    dataset.PixelSpacing = [ds_text(dy), ds_text(dx)]
    dataset.SliceThickness = ds_text(dz)
    dataset.ImageOrientationPatient = ["1", "0", "0", "0", "1", "0"]
    dataset.SamplesPerPixel = 1
    dataset.PhotometricInterpretation = "MONOCHROME2"
    dataset.Rows, dataset.Columns = image.grid.shape[1:]
    dataset.BitsAllocated = dataset.BitsStored = 16
    dataset.HighBit = 15
    dataset.PixelRepresentation = 1
    dataset.RescaleSlope, dataset.RescaleIntercept, dataset.RescaleType = "1", "0", "HU"
    dataset.WindowCenter, dataset.WindowWidth = "40", "400"
    return dataset


def _slice(dataset: FileDataset, image: CtImage, k: int) -> None:
    x, y, z = image.grid.origin_mm
    dataset.SOPInstanceUID = image.sop_uids[k]
    dataset.file_meta.MediaStorageSOPInstanceUID = image.sop_uids[k]  # type: ignore[assignment]
    dataset.InstanceNumber = k + 1
    dataset.ImagePositionPatient = ds_texts((x, y, z + k * image.grid.spacing_mm[2]))
    dataset.PixelData = np.ascontiguousarray(image.hu[k], dtype="<i2").tobytes()


def _rename(source: Path, target: Path) -> None:
    try:
        os.replace(source, target)
    except OSError as error:
        raise UserError(
            say("the file cannot get its name ({strerror})", strerror=error.strerror or str(error)),
            str(target),
            "Choose another folder.",
        ) from None


def _number(text: str) -> bool:
    try:
        return float(text) > 0
    except ValueError:
        return False
