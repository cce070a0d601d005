"""RT Plan -> beams, monitor units and prescription."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from pydicom.dataset import Dataset

from engine.base.errors import InputError, UserError
from engine.base.values import Value
from engine.base.words import say
from engine.beams.beam import Beam
from engine.case.case import Patient
from engine.dicom.beam_devices import bolus_of, wedge_of
from engine.dicom.common import PLAN_STORAGE, float_of, floats_of, patient_in, read_file, reading, text_of
from engine.dicom.control_points import NOT_COMPUTED, delivery_of
from engine.space.frames import POSITIONS
from engine.space.point import NamedPoint
from engine.volumes.volume import new_key

_DEVICES_IN_THE_BEAM = {
    say("compensator"): "NumberOfCompensators",
    say("block"): "NumberOfBlocks",
}


@dataclass(frozen=True, eq=False)
class PlanFile(Value):
    """What an RT Plan says, as far as photon beams go: still ones, several apertures after another, arcs.

    Parameters
    ----------
    beams : IEC 61217 angles, positions in mm at the isocentre plane, isocentre in patient axes
    mu : monitor units of each beam per fraction
    prescription_gy, prescription_roi : total dose and ROI Number of the (first) target dose reference, or None
    nominal_mv, sad_mm : of each beam; 0 where the file is silent
    bolus_rois : ROI Numbers of each beam's boluses, see ``beam_devices.with_boluses``
    wedges : kind and angle of each beam's wedge, ("", 0) without, see ``beam_devices.with_wedge_of``
    flattened : whether each beam has the machine's standard fluence (a flattening filter)
    prescription_point : where a dose reference of coordinates asks for a dose, or None
    approval : APPROVED, UNAPPROVED, REJECTED or nothing
    """

    label: str
    patient: Patient
    beams: tuple[Beam, ...]
    mu: tuple[float, ...]
    fractions: int
    prescription_gy: float | None = None
    prescription_roi: int | None = None
    nominal_mv: tuple[float, ...] = ()
    sad_mm: tuple[float, ...] = ()
    patient_position: str = ""
    approval: str = ""
    reviewer: str = ""
    reviewed_at: str = ""
    sop_uid: str = ""
    structures_uid: str = ""
    frame_of_reference_uid: str = ""
    study_uid: str = ""
    notes: tuple[str, ...] = ()
    bolus_rois: tuple[tuple[int, ...], ...] = ()
    wedges: tuple[tuple[str, float], ...] = ()
    flattened: tuple[bool, ...] = ()
    prescription_point: NamedPoint | None = None

    @property
    def isocentre_mm(self) -> tuple[float, float, float]:
        """Isocentre of the first beam."""
        return self.beams[0].isocentre_mm

    @property
    def factors(self) -> tuple[float, ...]:
        """Monitor units of each beam over all fractions."""
        return tuple(m * self.fractions for m in self.mu)


@dataclass
class _Read:
    beams: list[Beam] = field(default_factory=list)
    mu: list[float] = field(default_factory=list)
    nominal_mv: list[float] = field(default_factory=list)
    sad_mm: list[float] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    bolus_rois: list[tuple[int, ...]] = field(default_factory=list)
    wedges: list[tuple[str, float]] = field(default_factory=list)
    flattened: list[bool] = field(default_factory=list)


def read_plan(path: str | Path, machine: str = "") -> PlanFile:
    """Read an RT Plan (PS3.3 A.20).

    Parameters
    ----------
    machine : name of the machine file to plan on; else the name the plan gives

    Raises
    ------
    InputError
        If it is no RT Plan, damaged, or asks for what is not computed: a collimator or couch that turns while it
        delivers, a gantry that turns both ways, electrons or other particles, moving wedges, blocks, compensators, tilted
        tables.
    """
    where = str(path)
    with reading():
        dataset = read_file(path, PLAN_STORAGE, say("RT Plan"))
        group, fractions = _fraction_group(dataset, where)
        metersets = _metersets(group)
        found = _Read()
        for item in dataset.get("BeamSequence") or ():
            _take_beam(item, metersets, machine, where, found)
        if not found.beams:
            raise InputError("it holds no treatment beam", where, "Choose another plan.")
        dose, roi = _prescription(dataset)
        point = _point(dataset, found.notes)
        positions = {text_of(s, "PatientPosition").upper() for s in dataset.get("PatientSetupSequence") or ()} - {""}
        if len(positions) > 1 or positions - set(POSITIONS):
            raise InputError(
                say("its patient position is {positions}", positions=", ".join(sorted(positions))),
                where,
                say("Use {positions}.", positions=", ".join(POSITIONS)),
            )
        structures = dataset.get("ReferencedStructureSetSequence") or ()
        day, clock = text_of(dataset, "ReviewDate"), text_of(dataset, "ReviewTime")
        return PlanFile(
            text_of(dataset, "RTPlanName") or text_of(dataset, "RTPlanLabel"),
            patient_in(dataset),
            tuple(found.beams),
            tuple(found.mu),
            fractions,
            dose,
            roi,
            tuple(found.nominal_mv),
            tuple(found.sad_mm),
            positions.pop() if positions else "",
            text_of(dataset, "ApprovalStatus"),
            text_of(dataset, "ReviewerName"),
            f"{day[:4]}-{day[4:6]}-{day[6:]}T{clock[:2]}:{clock[2:4]}:{clock[4:6]}" if len(day) == 8 else "",
            text_of(dataset, "SOPInstanceUID"),
            text_of(structures[0], "ReferencedSOPInstanceUID") if structures else "",
            text_of(dataset, "FrameOfReferenceUID"),
            text_of(dataset, "StudyInstanceUID"),
            tuple(found.notes),
            tuple(found.bolus_rois),
            tuple(found.wedges),
            tuple(found.flattened),
            point,
        )


def _fraction_group(dataset: Dataset, where: str) -> tuple[Dataset, int]:
    groups = list(dataset.get("FractionGroupSequence") or ())
    if len(groups) != 1:
        raise InputError(
            say("it has {count} fraction groups", count=len(groups)),
            where,
            "Only plans of one fraction group are computed.",
        )
    fractions = float_of(groups[0], "NumberOfFractionsPlanned")
    if fractions is None or not 1 <= fractions <= 100:
        shown = say("missing") if fractions is None else f"{fractions:g}"
        raise InputError(
            say("its number of fractions is {shown}", shown=shown), where, "Export it with its number of fractions."
        )
    if (float_of(groups[0], "NumberOfBrachyApplicationSetups") or 0) > 0:
        raise InputError("it is a brachytherapy plan", where, NOT_COMPUTED)
    return groups[0], int(fractions)


def _metersets(group: Dataset) -> dict[int, float | None]:
    items = group.get("ReferencedBeamSequence") or ()
    return {int(float_of(i, "ReferencedBeamNumber") or -1): float_of(i, "BeamMeterset") for i in items}


def _prescription(dataset: Dataset) -> tuple[float | None, int | None]:
    for item in dataset.get("DoseReferenceSequence") or ():
        dose = float_of(item, "TargetPrescriptionDose")
        if text_of(item, "DoseReferenceType") == "TARGET" and dose is not None:
            roi = float_of(item, "ReferencedROINumber")
            return dose, None if roi is None else int(roi)
    return None, None


def _point(dataset: Dataset, notes: list[str]) -> NamedPoint | None:
    """Return the first place a dose is asked for by its coordinates (300A,0018)."""
    for item in dataset.get("DoseReferenceSequence") or ():
        if text_of(item, "DoseReferenceStructureType").upper() == "COORDINATES":
            place = floats_of(item, "DoseReferencePointCoordinates", 3)
            name = text_of(item, "DoseReferenceDescription")[:64].strip() or "Point"
            try:
                return NamedPoint(name, place or ())  # type: ignore[arg-type]
            except InputError:
                notes.append(say("the dose reference {name} has no usable coordinates; left out", name=name))
    return None


def _take_beam(item: Dataset, metersets: dict[int, float | None], machine: str, path: str, found: _Read) -> None:
    number = int(float_of(item, "BeamNumber") or -1)
    name = text_of(item, "BeamName") or f"Beam {number}"
    where = say("{path}, beam {name}", path=path, name=name)
    delivery = text_of(item, "TreatmentDeliveryType")
    if delivery not in ("", "TREATMENT", "CONTINUATION"):
        found.notes.append(
            say("beam {name} is for {delivery}; left out", name=name, delivery=delivery.lower().replace("_", " "))
        )
        return
    if number not in metersets:
        found.notes.append(say("beam {name} is not part of the fraction group; left out", name=name))
        return
    _check_kind(item, where)
    mu = metersets[number]
    if mu is None or mu < 0:
        raise InputError("its monitor units (300A,0086) are missing", where, "Export the plan with monitor units.")
    short_name, long_name = text_of(item, "TreatmentMachineName"), text_of(item, "ManufacturerModelName")
    named = long_name if short_name and long_name.startswith(short_name) else short_name
    try:
        way = delivery_of(item, where)
        wedge = wedge_of(item, list(item.ControlPointSequence), where)
        boluses = bolus_of(item, where)
        beam = Beam(
            new_key(),
            name,
            machine or named,
            way.isocentre_mm,
            way.points[0].gantry_deg,
            way.collimator_deg,
            way.couch_deg,
            way.points[0].aperture,
            wedge.name,
            wedge.orientation_deg,
            points=way.points if len(way.points) > 1 else (),
            rotation=way.rotation,
        )
    except UserError as error:
        # Values that cannot be say what, and not in which file.
        raise InputError(error.what, error.where if path in error.where else where, error.do) from None
    found.beams.append(beam)
    found.bolus_rois.append(boluses)
    found.wedges.append((wedge.kind, wedge.angle_deg))
    modes = [text_of(m, "FluenceMode").upper() for m in item.get("PrimaryFluenceModeSequence") or ()]
    found.flattened.append("NON_STANDARD" not in modes)
    found.mu.append(mu)
    found.nominal_mv.append(way.nominal_mv)
    found.notes += way.notes
    found.sad_mm.append(float_of(item, "SourceAxisDistance") or 0.0)


def _check_kind(item: Dataset, where: str) -> None:
    radiation = text_of(item, "RadiationType").upper()
    if radiation != "PHOTON":
        raise InputError(
            say("its radiation is {radiation}, not photons", radiation=radiation.lower() or say("not named")),
            where,
            NOT_COMPUTED,
        )
    unit = text_of(item, "PrimaryDosimeterUnit").upper()
    if unit not in ("", "MU"):
        raise InputError(say("its meterset is in {unit}, not in monitor units", unit=unit), where, NOT_COMPUTED)
    for words, keyword in _DEVICES_IN_THE_BEAM.items():
        if (float_of(item, keyword) or 0) > 0:
            raise InputError(say("it carries a {words}, which is not computed", words=words), where, NOT_COMPUTED)
    if item.get("ApplicatorSequence"):
        raise InputError("it carries an applicator, which is not computed", where, NOT_COMPUTED)
