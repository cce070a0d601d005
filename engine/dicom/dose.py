"""RT Dose <-> dose on a grid."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from pydicom.dataset import Dataset, FileDataset

from engine.base.errors import InputError
from engine.base.values import Value, own_array
from engine.base.words import say
from engine.case.case import Case, Patient
from engine.dicom.common import (
    CAUTION,
    DOSE_STORAGE,
    PLAN_STORAGE,
    add_patient_and_study,
    ds_text,
    ds_texts,
    float_of,
    floats_of,
    new_file,
    patient_in,
    read_file,
    reading,
    short,
    study_date,
    text_of,
    uid_of,
    writing,
)
from engine.dose.dose import Dose
from engine.space.grid import Grid

_LARGEST = 2**16 - 1
_STEPS = 65_000
STEP = 1.0 / _STEPS  # of the highest dose: how finely a written dose is told apart
_UNEVEN = 0.01
_SUMMATIONS = {
    "PLAN": say("dose of a whole plan, all fractions"),
    "MULTI_PLAN": say("dose of several plans together, all fractions"),
    "PLAN_OVERVIEW": say("dose of several plans together, all fractions"),
    "FRACTION": say("dose of one fraction group"),
    "BEAM": say("dose of one or more beams"),
    "BRACHY": say("dose of brachytherapy"),
    "FRACTION_SESSION": say("dose of a single fraction"),
    "BEAM_SESSION": say("dose of one or more beams in a single fraction"),
    "BRACHY_SESSION": say("dose of brachytherapy in a single fraction"),
    "CONTROL_POINT": say("dose of some control points of a beam"),
    "RECORD": say("dose of a treatment record"),
}


@dataclass(frozen=True, eq=False)
class DoseFile(Value):
    """A dose that was read, and what it is the dose of.

    Parameters
    ----------
    dose : absorbed dose in Gy
    summation : DICOM Dose Summation Type; only PLAN (or MULTI_PLAN) is the total over all fractions
    words : the same in plain words
    plan_uid : the plan it refers to, or empty
    """

    dose: Dose
    summation: str
    words: str
    patient: Patient = field(default_factory=Patient)
    plan_uid: str = ""
    frame_of_reference_uid: str = ""
    sop_uid: str = ""
    study_uid: str = ""

    @property
    def is_total(self) -> bool:
        """Whether it is the dose over all fractions of one or more plans."""
        return self.summation in ("PLAN", "MULTI_PLAN", "PLAN_OVERVIEW")


def dose_uid(case: Case, dose: Dose, plan_uid: str) -> str:
    """Return the identifier of the dose of a plan."""
    return uid_of("dose", plan_uid, case.image.fingerprint, dose.fingerprint)


@writing()
def dose_dataset(
    case: Case, dose: Dose, plan_uid: str, words: str = "", overridden: bool = False, report_to: str = "medium"
) -> FileDataset:
    """Build the RT Dose of a plan: PS3.3 A.18 with C.7.6.3, C.7.6.6 and C.8.8.3.

    Doses are stored as unsigned 16-bit multiples of the scaling, which splits the highest dose into 65 000 steps (1 mGy
    of 65 Gy, far below any uncertainty of the dose; 32 bits, as legal, stop widespread validators). Planes go by offsets
    relative to the first (C.8.8.3.2).

    Parameters
    ----------
    dose : total Gy over all fractions
    plan_uid : SOP Instance UID of the RT Plan
    overridden : whether densities of volumes replaced the image's somewhere
    report_to : "medium" or "water", told in the comment because the standard has no place for it

    Raises
    ------
    InputError
        If a dose is negative or no number, or the image has no frame of reference.
    """
    if not case.image.frame_of_reference_uid:
        raise InputError("the image was never DICOM, so a dose has nothing to refer to", do="Write the CT files first.")
    gy, grid = dose.gy, dose.grid
    highest = float(gy.max())
    if not np.isfinite(gy).all() or float(gy.min()) < 0:
        raise InputError("the dose holds negative values or values that are no numbers", "dose", "Compute it again.")
    scaling_text = ds_text(highest / _STEPS) if highest > 0 else "1e-6"
    scaling = float(scaling_text)
    stored = np.rint(gy.astype(np.float64) / scaling)
    sop_uid = dose_uid(case, dose, plan_uid)
    dataset = new_file(DOSE_STORAGE, sop_uid)
    add_patient_and_study(dataset, case.patient, case.image.study_uid, study_date(case.image.scanner))
    dataset.Modality = "RTDOSE"
    dataset.SeriesInstanceUID = uid_of("dose series", sop_uid)
    dataset.SeriesNumber = 103
    dataset.SeriesDescription = "Dose"
    dataset.OperatorsName = ""
    dataset.InstanceNumber = 1
    dataset.FrameOfReferenceUID = case.image.frame_of_reference_uid
    dataset.PositionReferenceIndicator = ""
    dataset.SamplesPerPixel = 1
    dataset.PhotometricInterpretation = "MONOCHROME2"
    dataset.NumberOfFrames, dataset.Rows, dataset.Columns = grid.shape
    dataset.FrameIncrementPointer = 0x3004000C
    dataset.PixelSpacing = ds_texts((grid.spacing_mm[1], grid.spacing_mm[0]))
    dataset.SliceThickness = ds_text(grid.spacing_mm[2])
    dataset.ImageOrientationPatient = ["1", "0", "0", "0", "1", "0"]
    dataset.ImagePositionPatient = ds_texts(grid.origin_mm)
    dataset.BitsAllocated = dataset.BitsStored = 16
    dataset.HighBit = 15
    dataset.PixelRepresentation = 0
    dataset.DoseUnits = "GY"
    dataset.DoseType = "PHYSICAL"
    dataset.DoseSummationType = "PLAN"
    dataset.DoseComment = short(say("Dose to {report_to}; {words}", report_to=report_to, words=words or CAUTION), 64)
    dataset.TissueHeterogeneityCorrection = ["IMAGE", "ROI_OVERRIDE"] if overridden else "IMAGE"
    dataset.GridFrameOffsetVector = ds_texts(grid.spacing_mm[2] * k for k in range(grid.shape[0]))
    dataset.DoseGridScaling = scaling_text
    plan = Dataset()
    plan.ReferencedSOPClassUID = PLAN_STORAGE
    plan.ReferencedSOPInstanceUID = plan_uid
    dataset.ReferencedRTPlanSequence = [plan]
    dataset.PixelData = np.clip(stored, 0, _LARGEST).astype("<u2").tobytes()
    dataset["PixelData"].VR = "OW"
    return dataset


def read_dose(path: str | Path) -> Dose:
    """Read the dose of an RT Dose file; see ``read_dose_file`` for what it is the dose of."""
    return read_dose_file(path).dose


def read_dose_file(path: str | Path) -> DoseFile:
    """Read an RT Dose (PS3.3 A.18) onto a grid whose axes ascend.

    Both forms of the offsets are read (C.8.8.3.2): relative, first value 0, along the normal of the planes; and
    absolute z, first value equal to the z of the position, for orientation 1, 0, 0, 0, 1, 0.

    Raises
    ------
    InputError
        If it is no RT Dose, damaged, relative, not physical dose, a single plane, oblique, or unevenly spaced.
    """
    where = str(path)
    with reading():
        dataset = read_file(path, DOSE_STORAGE, say("RT Dose"))
        _check_units(dataset, where)
        scaling = float_of(dataset, "DoseGridScaling")
        if scaling is None or scaling <= 0:
            raise InputError("its dose grid scaling (3004,000E) is missing", where, "Export the dose again.")
        offsets = _offsets(dataset, where)
        try:
            stored = dataset.pixel_array
        except Exception as error:
            first = (str(error).splitlines() or [""])[0]
            raise InputError(
                say("its values cannot be read ({first})", first=first), where, "Export the dose again."
            ) from None
        if stored.shape[0] != len(offsets) or stored.ndim != 3:
            raise InputError(
                say("{count} offsets do not fit {shape} values", count=len(offsets), shape=stored.shape),
                where,
                "Export the dose again.",
            )
        gy, grid = _upright(dataset, stored, offsets, where)
        plans = dataset.get("ReferencedRTPlanSequence") or ()
        summation = text_of(dataset, "DoseSummationType").upper()
        return DoseFile(
            Dose(own_array((gy.astype(np.float64) * scaling).astype(np.float32)), grid),
            summation,
            _words(dataset, summation),
            patient_in(dataset),
            text_of(plans[0], "ReferencedSOPInstanceUID") if plans else "",
            text_of(dataset, "FrameOfReferenceUID"),
            text_of(dataset, "SOPInstanceUID"),
            text_of(dataset, "StudyInstanceUID"),
        )


def _words(dataset: Dataset, summation: str) -> str:
    words = _SUMMATIONS.get(
        summation, say("dose summed in an unknown way ({summation})", summation=summation or say("nothing said"))
    )
    numbers = [
        f"{float_of(beam, 'ReferencedBeamNumber'):g}"
        for plan in dataset.get("ReferencedRTPlanSequence") or ()
        for group in plan.get("ReferencedFractionGroupSequence") or ()
        for beam in group.get("ReferencedBeamSequence") or ()
        if float_of(beam, "ReferencedBeamNumber") is not None
    ]
    return say("{words} (beam {numbers})", words=words, numbers=", ".join(numbers)) if numbers else words


def _check_units(dataset: Dataset, where: str) -> None:
    units, kind = text_of(dataset, "DoseUnits").upper(), text_of(dataset, "DoseType").upper()
    if units != "GY":
        shown: str = say("relative") if units == "RELATIVE" else say("in {units}", units=units or say("no unit"))
        raise InputError(say("its doses are {shown}, not in Gy", shown=shown), where, "Export the dose in Gy.")
    if kind != "PHYSICAL":
        known: dict[str, str] = {"EFFECTIVE": say("effective"), "ERROR": say("a difference of doses")}
        shown = known.get(kind, kind or say("of no stated type"))
        raise InputError(say("its dose is {shown}, not physical dose", shown=shown), where, "Export the physical dose.")


def _offsets(dataset: Dataset, where: str) -> NDArray[np.float64]:
    """Return the distance of each plane from the first along the normal."""
    found = floats_of(dataset, "GridFrameOffsetVector")
    position = floats_of(dataset, "ImagePositionPatient", 3)
    orientation = floats_of(dataset, "ImageOrientationPatient", 6)
    if position is None or orientation is None:
        raise InputError("its position or orientation is missing", where, "Export the dose again.")
    if found is None or len(found) < 2:
        raise InputError(
            "it is a single plane, and one plane has no known thickness", where, "Export the dose as a volume."
        )
    offsets = np.array(found)
    standard = np.allclose(orientation, (1, 0, 0, 0, 1, 0), atol=1e-4)
    if abs(offsets[0]) > 1e-3:
        if not (standard and abs(offsets[0] - position[2]) < 1e-2):
            raise InputError(
                say("its plane offsets start at {offsets:g}, neither 0 nor the position's z", offsets=offsets[0]),
                where,
                "Export the dose again.",
            )
        offsets = offsets - offsets[0]
    steps = np.diff(offsets)
    if not (np.all(steps > 0) or np.all(steps < 0)):
        raise InputError("its plane offsets neither rise nor fall throughout", where, "Export the dose again.")
    if np.ptp(steps) > _UNEVEN * abs(np.median(steps)):
        raise InputError(
            say(
                "its planes are unevenly spaced ({low:g} to {high:g} mm)", low=np.abs(steps).min(), high=np.abs(steps).max()
            ),
            where,
            "Export the dose on evenly spaced planes.",
        )
    return offsets


def _upright(
    dataset: Dataset, stored: NDArray[np.generic], offsets: NDArray[np.float64], where: str
) -> tuple[NDArray[np.generic], Grid]:
    """Turn values so that x, y and z ascend, and return their grid."""
    along_row, along_column = np.array(dataset.ImageOrientationPatient, dtype=np.float64).reshape(2, 3)
    normal = np.cross(along_row, along_column)
    position = np.array(dataset.ImagePositionPatient, dtype=np.float64)
    spacing = floats_of(dataset, "PixelSpacing", 2)
    if spacing is None or min(spacing) <= 0:
        raise InputError("its pixel spacing is missing", where, "Export the dose again.")
    directions = np.array((normal, along_column, along_row))
    axes = [int(np.argmax(np.abs(d))) for d in directions]
    if sorted(axes) != [0, 1, 2] or any(abs(abs(d[a]) - 1) > 1e-3 for d, a in zip(directions, axes)):
        raise InputError("its planes are oblique", where, "Export the dose on planes along the patient's axes.")
    steps = np.array((float(offsets[-1]) / (len(offsets) - 1), spacing[0], spacing[1]))
    steps *= [d[a] for d, a in zip(directions, axes)]
    origin, size = position.copy(), np.zeros(3)
    turned = stored
    for array_axis, (axis, step) in enumerate(zip(axes, steps)):
        size[axis] = abs(step)
        if step < 0:
            turned = np.flip(turned, array_axis)
            origin[axis] += step * (stored.shape[array_axis] - 1)
    turned = turned.transpose([axes.index(a) for a in (2, 1, 0)])
    grid = Grid(tuple(map(float, origin)), tuple(map(float, size)), turned.shape)  # type: ignore[arg-type]
    return turned, grid
