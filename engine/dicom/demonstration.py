"""A demonstration patient on the same road as any other: its CT written as DICOM files and read back by the importer."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from engine.base.errors import UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value
from engine.base.words import say
from engine.case.case import Case, Patient
from engine.case.demonstration import planned
from engine.dicom.ct_files import write_ct
from engine.dicom.read_ct import OpenSeries, open_series


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
    return planned(phantom, opened.patient, opened.image, part(report, 0.9, 1.0))
