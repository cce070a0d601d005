"""A demonstration patient on the same road as any other: its CT written as DICOM files and read back by the importer."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np

from engine.base.errors import UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value
from engine.base.words import say
from engine.case.case import Case, Patient
from engine.case.demonstration import planned
from engine.case.second_images import with_second_image
from engine.dicom.common import CT_STORAGE, MR_STORAGE, uid_of
from engine.dicom.ct_files import write_ct
from engine.dicom.read_ct import OpenSeries, open_series
from engine.dicom.registration import Referenced, write_registration
from engine.dicom.second_files import write_mr
from engine.dicom.second_image import ReadSecondImage, read_second_image
from engine.image.second_image import SecondImage


@dataclass(frozen=True, eq=False)
class PlanDemonstration(Value):
    """Ask for the case of a demonstration patient (an ``engine.phantoms.phantom.Phantom``).

    Parameters
    ----------
    phantom : whose image and volumes
    ct_folder : where its CT files stay; "" for a temporary folder that is gone afterwards, however it ends
    """

    phantom: Value
    ct_folder: str = ""


def plan_demonstration(request: PlanDemonstration, report: Report = quiet) -> Case:
    """Write the CT as DICOM, read it back like any other, and return the case with volumes, beams and goals.

    A second image goes the same way, with its registration, through a folder "second" beside that of the CT.

    Raises
    ------
    UserError
        If the files cannot be written, or are not read back as they were written.
    """
    if request.ct_folder:
        return _through(request.phantom, Path(request.ct_folder), report)
    try:
        place = TemporaryDirectory(prefix="halfshade-demonstration-", ignore_cleanup_errors=True)
    except OSError as error:
        raise UserError(
            say("no temporary folder can be made ({strerror})", strerror=error.strerror or str(error)),
            do="Free some space on the disk.",
        ) from None
    with place as folder:
        return _through(request.phantom, Path(folder) / "ct", report)


def _through(phantom: Any, folder: Path, report: Report) -> Case:
    who = Patient(phantom.patient_name, phantom.patient_id, "", phantom.sex, synthetic=True)
    write_ct(phantom.image, who, folder, part(report, 0.0, 0.5))
    opened = open_series(OpenSeries(str(folder)), part(report, 0.5, 0.9))
    if opened.image.hu.shape != phantom.image.hu.shape or (opened.image.hu != phantom.image.hu).any():
        raise UserError("the CT read back differs from the one written", str(folder), "Report this as a bug.")
    case = planned(phantom, opened.patient, opened.image, part(report, 0.9, 0.95))
    return _laid_over(case, phantom.second, folder.parent / "second", part(report, 0.95, 1.0)) if phantom.second else case


def _laid_over(case: Case, second: SecondImage, folder: Path, report: Report) -> Case:
    """Write a second image and its registration into a folder and return the case with what is read from there."""
    image = case.image
    study, seed = image.study_uid, (image.series_uid, second.fingerprint)
    second = second.but(
        study_uid=study, series_uid=uid_of("mr-series", *seed), frame_of_reference_uid=uid_of("mr-frame", *seed)
    )
    uids = write_mr(second, case.patient, folder, part(report, 0.0, 0.5))
    target = Referenced(image.frame_of_reference_uid, image.series_uid, CT_STORAGE, image.sop_uids)
    source = Referenced(second.frame_of_reference_uid, second.series_uid, MR_STORAGE, uids)
    matrix = np.array(second.transform).reshape(4, 4)
    write_registration(folder / "REG.dcm", case.patient, study, target, source, matrix)
    asked = ReadSecondImage(str(folder), second.series_uid, case.patient, image)
    read = read_second_image(asked, part(report, 0.5, 1.0)).image
    if (read.values != second.values).any() or not np.allclose(read.transform, second.transform, atol=1e-6):
        raise UserError("the second image read back differs from the one written", str(folder), "Report this as a bug.")
    return with_second_image(case, read)
