"""A draft with its monitor units -> RT Plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pydicom.dataset import Dataset, FileDataset

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.case.case import Case, Draft, Prescription
from engine.dicom.beam_devices import add_bolus, add_wedge
from engine.dicom.common import (
    CAUTION,
    PLAN_STORAGE,
    STRUCTURES_STORAGE,
    add_patient_and_study,
    date_and_time,
    ds_text,
    ds_texts,
    new_file,
    pn_text,
    short,
    study_date,
    uid_of,
    writing,
)
from engine.dicom.control_points import add_control_points
from engine.dicom.structure_file import roi_numbers, structures_uid


@dataclass(frozen=True, eq=False)
class Approval(Value):
    """Who approved a plan and when (ISO date and time). Without one a plan is written as UNAPPROVED."""

    reviewer: str
    reviewed_at: str


def plan_uid(case: Case, draft: Draft, mu: Sequence[float], approval: Approval | None) -> str:
    """Return the identifier of a plan: it changes with everything the file says."""
    machines = [case.machine(b.machine).fingerprint for b in draft.beams]
    said = approval.fingerprint if approval else ""
    return uid_of("plan", structures_uid(case), draft.fingerprint, *machines, *(repr(float(m)) for m in mu), said)


@writing()
def plan_dataset(
    case: Case,
    draft: Draft,
    mu: Sequence[float],
    approval: Approval | None = None,
    ssd_mm: Sequence[float | None] = (),
) -> FileDataset:
    """Build the RT Plan of a draft: PS3.3 A.20 with C.8.8.9, C.8.8.10, C.8.8.12, C.8.8.13, C.8.8.14 and C.8.8.16.

    Control points are in ``control_points``. Jaws are ASYMX and ASYMY, leaves MLCX (they travel along X).

    Parameters
    ----------
    mu : monitor units of each beam per fraction
    approval : who approved it; None writes UNAPPROVED
    ssd_mm : source-to-surface distance of each beam, None where unknown; () writes none

    Raises
    ------
    InputError
        If there is no beam or prescription, or a number or name cannot be written.
    """
    prescription = _checked(draft, mu)
    image = case.image
    sop_uid = plan_uid(case, draft, mu, approval)
    dataset = new_file(PLAN_STORAGE, sop_uid)
    add_patient_and_study(dataset, case.patient, image.study_uid, study_date(image.scanner))
    dataset.Modality = "RTPLAN"
    dataset.SeriesInstanceUID = uid_of("plan series", sop_uid)
    dataset.SeriesNumber = 102
    dataset.SeriesDescription = "Plan"
    dataset.OperatorsName = ""
    dataset.InstanceNumber = 1
    dataset.FrameOfReferenceUID = image.frame_of_reference_uid
    dataset.PositionReferenceIndicator = ""
    dataset.RTPlanLabel = short(draft.name, 16) or "Draft"
    dataset.RTPlanName = short(draft.name, 64)
    dataset.RTPlanDescription = CAUTION
    dataset.RTPlanDate = ""
    dataset.RTPlanTime = ""
    dataset.RTPlanGeometry = "PATIENT"
    dataset.ReferencedStructureSetSequence = [_reference(STRUCTURES_STORAGE, structures_uid(case))]
    dataset.DoseReferenceSequence = [_dose_reference(case, draft, prescription), *_point_reference(case, draft)]
    dataset.FractionGroupSequence = [_fraction_group(prescription, mu)]
    dataset.PatientSetupSequence = [_setup(image.patient_position)]
    ssds = list(ssd_mm) or [None] * len(draft.beams)
    dataset.BeamSequence = [
        _beam(number, beam, case.machine(beam.machine), ssd, roi_numbers(case))
        for number, (beam, ssd) in enumerate(zip(draft.beams, ssds, strict=True), 1)
    ]
    _approve(dataset, approval)
    return dataset


def _checked(draft: Draft, mu: Sequence[float]) -> Prescription:
    if not draft.beams:
        raise InputError(
            "it has no beams, so there is no plan to write", say("draft {draft}", draft=draft.name), "Add beams."
        )
    if draft.prescription is None:
        raise InputError("it has no prescription", say("draft {draft}", draft=draft.name), "Prescribe a dose to a volume.")
    if len(mu) != len(draft.beams):
        raise InputError(
            say("{values} monitor unit values for {beams} beams", values=len(mu), beams=len(draft.beams)),
            say("draft {draft}", draft=draft.name),
        )
    for beam, units in zip(draft.beams, mu):
        if not 0 <= units < 1e6:
            raise InputError(
                say("{units} monitor units cannot be delivered", units=units),
                say("beam {beam}", beam=beam.name),
                "Correct its weight.",
            )
    return draft.prescription


def _reference(sop_class: str, sop_uid: str) -> Dataset:
    item = Dataset()
    item.ReferencedSOPClassUID = sop_class
    item.ReferencedSOPInstanceUID = sop_uid
    return item


def _dose_reference(case: Case, draft: Draft, prescription: Prescription) -> Dataset:
    """Build the first item of the Dose Reference Sequence (PS3.3 C.8.8.10): the volume."""
    item = Dataset()
    item.DoseReferenceNumber = 1
    item.DoseReferenceUID = uid_of("dose reference", structures_uid(case), draft.key)
    item.DoseReferenceStructureType = "VOLUME"
    volume = case.volume(prescription.volume_key)
    if volume is None:
        raise InputError(
            "the volume it is prescribed to is gone", say("draft {draft}", draft=draft.name), "Prescribe to another volume."
        )
    item.ReferencedROINumber = roi_numbers(case)[volume.key]
    item.DoseReferenceDescription = short(volume.name, 1024)
    item.DoseReferenceType = "TARGET"
    item.TargetPrescriptionDose = ds_text(prescription.dose_gy)
    return item


def _point_reference(case: Case, draft: Draft) -> list[Dataset]:
    """Build the second item of the Dose Reference Sequence (PS3.3 C.8.8.10): the point a draft is normalised to, if any."""
    prescription = draft.prescription
    if draft.normalisation != "Point" or prescription is None or prescription.point is None:
        return []
    item = Dataset()
    item.DoseReferenceNumber = 2
    item.DoseReferenceUID = uid_of("dose reference", structures_uid(case), draft.key, "point")
    item.DoseReferenceStructureType = "COORDINATES"
    item.DoseReferenceDescription = short(prescription.point.name, 1024)
    item.DoseReferencePointCoordinates = ds_texts(prescription.point.place_mm)
    item.DoseReferenceType = "TARGET"
    item.TargetPrescriptionDose = ds_text(prescription.dose_gy)
    return [item]


def _fraction_group(prescription: Prescription, mu: Sequence[float]) -> Dataset:
    """Build the one item of the Fraction Group Sequence (PS3.3 C.8.8.13)."""
    group = Dataset()
    group.FractionGroupNumber = 1
    group.NumberOfFractionsPlanned = prescription.fractions
    group.NumberOfBeams = len(mu)
    group.NumberOfBrachyApplicationSetups = 0
    items = []
    for number, units in enumerate(mu, 1):
        item = Dataset()
        item.BeamMeterset = ds_text(round(float(units), 6))
        item.ReferencedBeamNumber = number
        items.append(item)
    group.ReferencedBeamSequence = items
    dose = Dataset()
    dose.ReferencedDoseReferenceNumber = 1
    group.ReferencedDoseReferenceSequence = [dose]
    return group


def _setup(patient_position: str) -> Dataset:
    """Build the one item of the Patient Setup Sequence (PS3.3 C.8.8.12)."""
    item = Dataset()
    item.PatientSetupNumber = 1
    item.PatientPosition = patient_position
    return item


def _beam(number: int, beam: Beam, machine: Machine, ssd_mm: float | None, numbers: dict[str, int]) -> Dataset:
    """Build an item of the Beam Sequence (PS3.3 C.8.8.14).

    The machine's name is cut to the 16 characters of (300A,00B2); the whole of it is in Manufacturer's Model Name.
    """
    item = Dataset()
    item.Manufacturer = "Halfshade"
    item.ManufacturerModelName = short(machine.name, 64)
    item.BeamNumber = number
    item.BeamName = short(beam.name, 64) or f"Beam {number}"
    item.RadiationType = "PHOTON"
    item.TreatmentMachineName = short(machine.name, 16)
    item.PrimaryDosimeterUnit = "MU"
    item.SourceAxisDistance = ds_text(machine.sad_mm)
    item.PrimaryFluenceModeSequence = [_fluence_mode(machine)]
    item.TreatmentDeliveryType = "TREATMENT"
    item.BeamLimitingDeviceSequence = _devices(beam)
    item.ReferencedPatientSetupNumber = 1
    item.NumberOfCompensators = 0
    add_bolus(item, beam, numbers)
    item.NumberOfBlocks = 0
    add_wedge(item, add_control_points(item, beam, machine, ssd_mm), beam, machine)
    return item


def _fluence_mode(machine: Machine) -> Dataset:
    mode = Dataset()
    mode.FluenceMode = "STANDARD" if machine.flattened else "NON_STANDARD"
    if not machine.flattened:
        mode.FluenceModeID = "FFF"
    return mode


def _devices(beam: Beam) -> list[Dataset]:
    devices = []
    for kind in ("ASYMX", "ASYMY"):
        jaw = Dataset()
        jaw.RTBeamLimitingDeviceType = kind
        jaw.NumberOfLeafJawPairs = 1
        devices.append(jaw)
    if beam.aperture.leaves_mm:
        leaves = Dataset()
        leaves.RTBeamLimitingDeviceType = "MLCX"
        leaves.NumberOfLeafJawPairs = len(beam.aperture.leaves_mm)
        leaves.LeafPositionBoundaries = ds_texts(beam.aperture.leaf_edges_mm)
        devices.append(leaves)
    return devices


def _approve(dataset: FileDataset, approval: Approval | None) -> None:
    """Fill the Approval Module (PS3.3 C.8.8.16)."""
    if approval is None:
        dataset.ApprovalStatus = "UNAPPROVED"
        return
    reviewer = pn_text(approval.reviewer, "reviewer")
    if not reviewer:
        raise InputError("an approved plan needs the reviewer's name", "approval", "Sign the plan first.")
    date, time = date_and_time(approval.reviewed_at, "review")
    dataset.ApprovalStatus = "APPROVED"
    dataset.ReviewDate = date
    dataset.ReviewTime = time
    dataset.ReviewerName = reviewer
