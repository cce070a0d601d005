"""RT Plan -> beams, monitor units and prescription."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

from pydicom.dataset import Dataset

from engine.base.errors import InputError, UserError
from engine.base.values import Value
from engine.base.words import listed, say
from engine.beams.beam import Aperture, Beam
from engine.case.case import Patient
from engine.dicom.beam_devices import bolus_of, wedge_of
from engine.dicom.common import PLAN_STORAGE, float_of, floats_of, patient_in, read_file, reading, text_of
from engine.space.frames import POSITIONS
from engine.volumes.volume import new_key

_ANGLES = {
    say("gantry angle"): "GantryAngle",
    say("collimator angle"): "BeamLimitingDeviceAngle",
    say("couch angle"): "PatientSupportAngle",
    say("energy"): "NominalBeamEnergy",
}
_MUST_BE_ZERO = {
    say("table-top eccentric angle"): "TableTopEccentricAngle",
    say("table pitch"): "TableTopPitchAngle",
    say("table roll"): "TableTopRollAngle",
    say("gantry pitch"): "GantryPitchAngle",
}
_DEVICES_IN_THE_BEAM = {
    say("compensator"): "NumberOfCompensators",
    say("block"): "NumberOfBlocks",
}
_SAME = 1e-3
_DO = say("Only static open photon beams are computed.")


@dataclass(frozen=True, eq=False)
class PlanFile(Value):
    """What an RT Plan says, as far as static photon beams go.

    Parameters
    ----------
    beams : IEC 61217 angles, positions in mm at the isocentre plane, isocentre in patient axes
    mu : monitor units of each beam per fraction
    prescription_gy, prescription_roi : total dose and ROI Number of the (first) target dose reference, or None
    nominal_mv, sad_mm : of each beam; 0 where the file is silent
    bolus_rois : ROI Numbers of each beam's boluses, see ``beam_devices.with_boluses``
    wedges : kind and angle of each beam's wedge, ("", 0) without, see ``beam_devices.with_wedge_of``
    flattened : whether each beam has the machine's standard fluence (a flattening filter)
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
        If it is no RT Plan, damaged, or asks for what is not computed: arcs, moving leaves, several segments,
        electrons or other particles, moving wedges, blocks, compensators, turned tables.
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
        raise InputError("it is a brachytherapy plan", where, _DO)
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
    points = list(item.get("ControlPointSequence") or ())
    if len(points) < 2:
        raise InputError(
            say("it has {count} control points, and two are the least", count=len(points)), where, "Export the plan again."
        )
    _check_static(points, where)
    mu = metersets[number]
    if mu is None or mu < 0:
        raise InputError("its monitor units (300A,0086) are missing", where, "Export the plan with monitor units.")
    _check_meterset_weights(item, points, where)
    first = points[0]
    isocentre = floats_of(first, "IsocenterPosition", 3)
    angles = {words: float_of(first, keyword) for words, keyword in _ANGLES.items() if keyword.endswith("Angle")}
    missing = [k for k, v in {say("isocentre"): isocentre, **angles}.items() if v is None]
    if missing or isocentre is None:
        raise InputError(say("its {missing} is missing", missing=listed(missing)), where, "Export the plan again.")
    gantry, collimator, couch = (v or 0.0 for v in angles.values())
    short_name, long_name = text_of(item, "TreatmentMachineName"), text_of(item, "ManufacturerModelName")
    named = long_name if short_name and long_name.startswith(short_name) else short_name
    try:
        aperture = _aperture(item, first, where, found)
        wedge = wedge_of(item, points, where)
        boluses = bolus_of(item, where)
        beam = Beam(
            new_key(),
            name,
            machine or named,
            (isocentre[0], isocentre[1], isocentre[2]),
            gantry,
            collimator,
            couch,
            aperture,
            wedge.name,
            wedge.orientation_deg,
        )
    except InputError:
        raise
    except UserError as error:
        raise InputError(error.what, where) from None
    found.beams.append(beam)
    found.bolus_rois.append(boluses)
    found.wedges.append((wedge.kind, wedge.angle_deg))
    modes = [text_of(m, "FluenceMode").upper() for m in item.get("PrimaryFluenceModeSequence") or ()]
    found.flattened.append("NON_STANDARD" not in modes)
    found.mu.append(mu)
    found.nominal_mv.append(float_of(first, "NominalBeamEnergy") or 0.0)
    found.sad_mm.append(float_of(item, "SourceAxisDistance") or 0.0)


def _check_kind(item: Dataset, where: str) -> None:
    radiation = text_of(item, "RadiationType").upper()
    if radiation != "PHOTON":
        raise InputError(
            say("its radiation is {radiation}, not photons", radiation=radiation.lower() or say("not named")), where, _DO
        )
    unit = text_of(item, "PrimaryDosimeterUnit").upper()
    if unit not in ("", "MU"):
        raise InputError(say("its meterset is in {unit}, not in monitor units", unit=unit), where, _DO)
    for words, keyword in _DEVICES_IN_THE_BEAM.items():
        if (float_of(item, keyword) or 0) > 0:
            raise InputError(say("it carries a {words}, which is not computed", words=words), where, _DO)
    if item.get("ApplicatorSequence"):
        raise InputError("it carries an applicator, which is not computed", where, _DO)


def _check_static(points: list[Dataset], where: str) -> None:
    """Refuse what moves; BeamType is not asked, because a plan of one still segment may call itself DYNAMIC."""
    for words, keyword in _MUST_BE_ZERO.items():
        for point in points:
            angle = float_of(point, keyword) or 0.0
            if abs((angle + 180) % 360 - 180) > _SAME:
                raise InputError(
                    say("its {words} is {angle:g} degrees, which is not computed", words=words, angle=angle), where, _DO
                )
    for keyword in ("GantryRotationDirection", "BeamLimitingDeviceRotationDirection", "PatientSupportRotationDirection"):
        if any(text_of(p, keyword).upper() in ("CW", "CC") for p in points):
            part = {"G": say("gantry"), "B": say("collimator"), "P": say("couch")}[keyword[0]]
            raise InputError(say("it is an arc: the {part} turns while it delivers", part=part), where, _DO)
    start = points[0]
    devices = _positions(start)
    for k, point in enumerate(points[1:], 2):
        for words, keyword in _ANGLES.items():
            a, b = float_of(start, keyword), float_of(point, keyword)
            if a is not None and b is not None and abs(a - b) > _SAME:
                change = say("its {words} changes from {a:g} to {b:g}", words=words, a=a, b=b)
                arc = say("it is an arc: {change}", change=change)
                raise InputError(arc if keyword == "GantryAngle" else change, where, _DO)
        for device, positions in _positions(point).items():
            old = devices.get(device)
            if old is None or len(old) != len(positions) or any(abs(a - b) > _SAME for a, b in zip(old, positions)):
                raise InputError(
                    say("it is dynamic or segmented: {device} moves at control point {k}", device=device, k=k), where, _DO
                )


def _check_meterset_weights(item: Dataset, points: list[Dataset], where: str) -> None:
    final = float_of(item, "FinalCumulativeMetersetWeight")
    first, last = (float_of(p, "CumulativeMetersetWeight") for p in (points[0], points[-1]))
    if (first is not None and abs(first) > _SAME) or (
        final is not None and last is not None and abs(last - final) > 1e-3 * max(abs(final), 1e-9)
    ):
        raise InputError(
            say("its meterset weights run from {first} to {last}, final {final}", first=first, last=last, final=final),
            where,
            "Export the plan again.",
        )


def _positions(point: Dataset) -> dict[str, tuple[float, ...]]:
    found = {}
    for item in point.get("BeamLimitingDevicePositionSequence") or ():
        values = floats_of(item, "LeafJawPositions")
        if values is not None:
            found[text_of(item, "RTBeamLimitingDeviceType").upper()] = values
    return found


def _aperture(item: Dataset, first: Dataset, where: str, found: _Read) -> Aperture:
    positions = _positions(first)
    odd = set(positions) - {"X", "Y", "ASYMX", "ASYMY", "MLCX"}
    if odd:
        raise InputError(
            say("its aperture is shaped by {odd}, which is not computed", odd=", ".join(sorted(odd))), where, _DO
        )
    edges: tuple[float, ...] = ()
    for device in item.get("BeamLimitingDeviceSequence") or ():
        if text_of(device, "RTBeamLimitingDeviceType").upper() == "MLCX":
            edges = floats_of(device, "LeafPositionBoundaries") or ()
    leaves: tuple[tuple[float, float], ...] = ()
    if "MLCX" in positions:
        values = positions["MLCX"]
        n = len(values) // 2
        if len(values) % 2 or len(edges) != n + 1 or any(b <= a for a, b in pairwise(edges)):
            raise InputError(
                say("{leaves} leaf positions do not fit {edges} leaf boundaries", leaves=len(values), edges=len(edges)),
                where,
                "Export it again.",
            )
        leaves = tuple(zip(values[:n], values[n:]))
    jaws: list[tuple[float, float]] = []
    for axis in "XY":
        pair = positions.get(f"ASYM{axis}") or positions.get(axis)
        if pair is None and leaves:
            reach = (min(a for a, _ in leaves), max(b for _, b in leaves)) if axis == "X" else (edges[0], edges[-1])
            found.notes.append(
                say(
                    "a beam has no {axis} jaws; the leaves' reach of {low:g} to {high:g} mm stands in",
                    axis=axis,
                    low=reach[0],
                    high=reach[1],
                )
            )
            pair = reach
        if pair is None or len(pair) != 2:
            raise InputError(say("its {axis} jaw positions are missing", axis=axis), where, "Export the plan again.")
        jaws.append((pair[0], pair[1]))
    return Aperture(jaws[0], jaws[1], edges if leaves else (), leaves)
