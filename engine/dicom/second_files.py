"""MR Image Storage files of a second image, for the demonstration patients."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from engine.base.errors import InputError
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.case.case import Patient
from engine.dicom.common import (
    CAUTION,
    MR_STORAGE,
    SYNTHETIC,
    add_patient_and_study,
    ds_text,
    ds_texts,
    make_folder,
    new_file,
    save_file,
    short,
    uid_of,
    writing,
)
from engine.image.second_image import SecondImage


@writing()
def write_mr(image: SecondImage, patient: Patient, folder: str | Path, report: Report = quiet) -> tuple[str, ...]:
    """Write a second image as one MR file per plane (PS3.3 A.4, C.8.3.1) and return their SOP Instance UIDs.

    Its study, series and frame of reference are those of `image`; its transform is not written (see
    ``registration.write_registration``). Files are MR001.dcm and so on.

    Raises
    ------
    UserError
        If the image is not of whole numbers or not magnetic resonance, or the files cannot be written.
    """
    if image.modality != "MR" or image.values.dtype.str != "<i2" or image.values.min() < 0:
        raise InputError("only whole MR intensities that are not negative are written", image.name)
    target = make_folder(folder)
    affine = np.array(image.affine).reshape(3, 4)
    across, down = (float(np.linalg.norm(affine[:, i])) for i in (0, 1))
    planes, rows, columns = image.values.shape
    uids = tuple(uid_of("mr", image.series_uid, image.fingerprint, str(k)) for k in range(planes))
    dataset = new_file(MR_STORAGE, uids[0])
    add_patient_and_study(dataset, patient, image.study_uid)
    dataset.Modality = "MR"
    dataset.SeriesInstanceUID = image.series_uid
    dataset.SeriesNumber = 2
    dataset.SeriesDescription = short(image.name, 64)
    dataset.ImageComments = f"{SYNTHETIC}. {CAUTION}" if patient.synthetic else CAUTION
    dataset.Laterality = ""
    dataset.PatientPosition = "HFS"
    dataset.FrameOfReferenceUID = image.frame_of_reference_uid
    dataset.PositionReferenceIndicator = ""
    dataset.ImageType = ["DERIVED", "SECONDARY", "OTHER"]
    dataset.DerivationDescription = str(say("computed numbers"))
    dataset.ScanningSequence, dataset.SequenceVariant, dataset.ScanOptions = "RM", "NONE", ""
    dataset.MRAcquisitionType = "2D"
    dataset.EchoTime = dataset.RepetitionTime = dataset.EchoTrainLength = dataset.AcquisitionNumber = None
    dataset.PixelSpacing = [ds_text(down), ds_text(across)]
    dataset.SliceThickness = ds_text(float(np.linalg.norm(affine[:, 2])))
    dataset.ImageOrientationPatient = ds_texts((*(affine[:, 0] / across), *(affine[:, 1] / down)))
    dataset.SamplesPerPixel = 1
    dataset.PhotometricInterpretation = "MONOCHROME2"
    dataset.Rows, dataset.Columns = rows, columns
    dataset.BitsAllocated = dataset.BitsStored = 16
    dataset.HighBit = 15
    dataset.PixelRepresentation = 0
    low, high = image.usual_window
    dataset.WindowCenter, dataset.WindowWidth = ds_text(round((low + high) / 2)), ds_text(max(1, round(high - low)))
    for k in range(planes):
        report(k / planes, say("writing slices, {k} of {n}", k=k, n=planes))
        dataset.SOPInstanceUID = uids[k]
        dataset.file_meta.MediaStorageSOPInstanceUID = uids[k]  # type: ignore[assignment]
        dataset.InstanceNumber = k + 1
        dataset.ImagePositionPatient = ds_texts(affine[:, 3] + k * affine[:, 2])
        dataset.PixelData = np.ascontiguousarray(image.values[k], dtype="<u2").tobytes()
        save_file(dataset, target / f"MR{k + 1:03d}.dcm")
    return uids
