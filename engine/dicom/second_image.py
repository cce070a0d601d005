"""An MR, PET or CT series read as a second image over the planning CT."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pydicom
from numpy.typing import NDArray
from pydicom.dataset import Dataset

from engine.base.errors import InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value, own_array
from engine.base.words import say
from engine.case.case import Patient
from engine.dicom.common import SYNTHETIC, first_line, reading
from engine.dicom.headers import Header, scan_folder
from engine.dicom.read_ct import check_decoders, patient_of
from engine.dicom.registration import REGISTRATION_STORAGE, Registration, read_registration
from engine.dicom.second_stack import SecondStack, second_stack
from engine.dicom.uptake import suv_factor
from engine.image.ct import CtImage
from engine.image.second_image import IDENTITY, SecondImage


@dataclass(frozen=True, eq=False)
class ReadSecondImage(Value):
    """Ask for one series as a second image over the planning CT `image` of `patient`.

    `registration_path` names a Spatial Registration file; "" takes one from the folder where one is needed.
    """

    folder: str
    series_uid: str
    patient: Patient
    image: CtImage
    registration_path: str = ""


@dataclass(frozen=True, eq=False)
class SecondImageRead(Value):
    """A second image, with what a person should know about it."""

    image: SecondImage
    notes: tuple[str, ...] = ()


def read_second_image(request: ReadSecondImage, report: Report = quiet) -> SecondImageRead:
    """Read a series, hold it against the planning CT, and place it in its frame of reference.

    Raises
    ------
    InputError
        Another patient, no way to place it, or slices that do not make a stack: what, where and what to do.
    """
    scan = scan_folder(request.folder, part(report, 0.0, 0.2))
    group = [h for h in scan.headers if h.text("SeriesInstanceUID") == request.series_uid]
    if not group:
        raise InputError("there is no such series", request.folder, "Choose one of the series found there.")
    first = group[0]
    where = first.text("SeriesDescription") or request.series_uid
    notes = list(_same_person(patient_of(first), request.patient, where))
    stack = second_stack(group)
    check_decoders([h.syntax for h in stack.headers], stack.headers[0].name)
    found = [h.path for h in scan.headers if h.text("SOPClassUID") == REGISTRATION_STORAGE]
    transform, origin, uid = _transform(request, first, found, where)
    values, unit, said = _values(stack, part(report, 0.2, 1.0))
    notes += said
    return SecondImageRead(
        SecondImage(
            f"second-{request.series_uid}",
            first.text("SeriesDescription") or stack.kind,
            stack.kind,
            own_array(values),
            tuple(float(v) for v in stack.affine.ravel()),
            transform,
            unit,
            origin,
            first.text("FrameOfReferenceUID"),
            first.text("StudyInstanceUID"),
            request.series_uid,
            uid,
            first.identity,
            first.text("PatientComments").startswith(SYNTHETIC),
        ),
        tuple(notes),
    )


def _same_person(found: Patient, wanted: Patient, where: str) -> tuple[str, ...]:
    """Refuse another patient: name, ID or birth date differ where both are filled in (PS3.3 C.7.1.1 lets them be empty)."""
    pairs = (
        (_folded(found.name), _folded(wanted.name)),
        (found.patient_id, wanted.patient_id),
        (found.birth_date, wanted.birth_date),
    )
    if any(a and b and a != b for a, b in pairs):
        raise InputError(
            say(
                "it belongs to another patient: {theirs}; the planning CT is of {ours}",
                theirs=_who(found),
                ours=_who(wanted),
            ),
            where,
            "Choose a series of the same patient.",
        )
    if not any(a and b for a, b in pairs):
        return (say("nothing in the files says that both are of the same patient; make sure of it"),)
    return ()


def _folded(name: str) -> str:
    return name.strip().rstrip("^").casefold()


def _who(patient: Patient) -> str:
    return ", ".join(p for p in (patient.name, patient.patient_id, patient.birth_date) if p) or say("no name")


def _transform(request: ReadSecondImage, first: Header, found: list[str], where: str) -> tuple[tuple[float, ...], str, str]:
    """Return the transform to the planning CT, where it came from in words, and the UID of the file that says so."""
    own, wanted = first.text("FrameOfReferenceUID"), request.image.frame_of_reference_uid
    if not wanted:
        raise InputError("the planning CT has no frame of reference", where, "Open the planning CT from DICOM files.")
    if own == wanted and not request.registration_path:
        return IDENTITY, say("the same frame of reference as the planning CT"), ""
    fitting: list[tuple[Registration, NDArray[np.float64]]] = []
    faults: list[UserError] = []
    for path in [request.registration_path] if request.registration_path else sorted(found):
        try:
            registration = read_registration(path)
        except UserError as error:
            faults.append(error)
            continue
        matrix = registration.between(own, wanted)
        if matrix is not None:
            _same_person(registration.patient, request.patient, Path(path).name)
            fitting.append((registration, matrix))
    if not fitting:
        if faults:
            raise faults[0]
        raise InputError(
            say("its frame of reference is not that of the planning CT, and no registration between the two is known"),
            where,
            "Put the DICOM Spatial Registration of the two beside it, or open it by hand.",
        )
    if any(np.abs(m - fitting[0][1]).max() > 1e-3 for _, m in fitting):
        names = ", ".join(Path(r.path).name for r, _ in fitting)
        raise InputError(
            say("several registrations differ ({names})", names=names), where, "Open the right registration by hand."
        )
    registration, matrix = fitting[0]
    words = say("the registration {name}", name=Path(registration.path).name)
    return tuple(float(v) for v in matrix.ravel()), words, registration.uid


def _values(stack: SecondStack, report: Report) -> tuple[NDArray[np.generic], str, list[str]]:
    """Return int16 or float32 values (planes, rows, columns), their unit, and notes."""
    rows, columns = (int(stack.headers[0].numbers[k][0]) for k in ("Rows", "Columns"))
    out = np.empty((len(stack.headers), rows, columns), dtype=np.float32)
    datasets: list[Dataset] = []
    opened = ""
    with reading():
        for k, header in enumerate(stack.headers):
            report(k / len(stack.headers), say("reading slices, {k} of {n}", k=k, n=len(stack.headers)))
            try:
                if header.frame is None or header.path != opened:
                    dataset, opened = pydicom.dcmread(header.path, force=True), header.path
                    stored = dataset.pixel_array
                plane = stored if header.frame is None else stored.reshape(-1, rows, columns)[header.frame]
                out[k] = _rescaled(plane, header)
            except Exception as error:
                raise InputError(
                    say("the pixels cannot be read, the file is cut off or damaged ({error})", error=first_line(error)),
                    header.name,
                    "Copy or export it again.",
                ) from None
            for keyword in ("PixelData", "_pixel_array"):
                if keyword in dataset:
                    del dataset[keyword]
            datasets.append(dataset)
        unit: str = "HU" if stack.kind == "CT" else ""
        notes: list[str] = []
        if stack.kind == "PT":
            factor, why = suv_factor(datasets)
            unit = "SUV" if factor else "Bq/ml" if str(datasets[0].get("Units", "")).upper() == "BQML" else ""
            if factor:
                out *= np.float32(factor)
            else:
                notes.append(say("uptake values cannot be worked out: {why}; the numbers are those of the files", why=why))
    if not np.isfinite(out).all():
        raise InputError("some of its values are no numbers", stack.headers[0].name, "Export the series again.")
    if unit != "SUV" and out.min() >= -32768 and out.max() <= 32767 and (out == np.rint(out)).all():
        return out.astype("<i2"), unit, notes
    return out, unit, notes


def _rescaled(stored: NDArray[np.generic], header: Header) -> NDArray[np.float32]:
    """Return slope x stored + intercept (PS3.3 C.11.1), 1 and 0 where they are missing, each slice its own."""
    slope, intercept = header.number("RescaleSlope"), header.number("RescaleIntercept")
    scaled = stored.astype(np.float64) * (1.0 if slope is None else slope) + (intercept or 0.0)
    return np.asarray(scaled, dtype=np.float32)
