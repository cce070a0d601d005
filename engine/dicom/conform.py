"""Whether written files hold what the standard requires and whether their references resolve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import pydicom
from pydicom.datadict import keyword_for_tag, tag_for_keyword
from pydicom.dataelem import RawDataElement
from pydicom.dataset import Dataset

from engine.base.words import say
from engine.dicom.common import CT_STORAGE, DOSE_STORAGE, PLAN_STORAGE, STRUCTURES_STORAGE, float_of, reading, text_of
from engine.image.ct import CtImage

_LONGEST_DECIMAL = 16
_LONGEST_UID = 64

# Keyword paths; Type 1 must hold a value, Type 2 must be there. PS3.3 C.7.1.1, C.7.2.1, C.7.5.1, C.12.1 for all.
_ALL_1 = ("SOPClassUID", "SOPInstanceUID", "StudyInstanceUID", "SeriesInstanceUID", "Modality")
_ALL_2 = (
    "PatientName", "PatientID", "PatientBirthDate", "PatientSex", "StudyDate", "StudyTime", "ReferringPhysicianName",
    "StudyID", "AccessionNumber", "SeriesNumber", "Manufacturer",
)  # fmt: skip
_PIXELS_1 = (
    "SamplesPerPixel", "PhotometricInterpretation", "Rows", "Columns", "BitsAllocated", "BitsStored", "HighBit",
    "PixelRepresentation", "PixelData", "PixelSpacing", "ImageOrientationPatient", "ImagePositionPatient",
    "FrameOfReferenceUID",
)  # fmt: skip

TYPE_1: dict[str, tuple[str, ...]] = {
    CT_STORAGE: (*_PIXELS_1, "ImageType", "RescaleSlope", "RescaleIntercept"),
    STRUCTURES_STORAGE: (
        "StructureSetLabel",
        "ReferencedFrameOfReferenceSequence/FrameOfReferenceUID",
        "ReferencedFrameOfReferenceSequence/RTReferencedStudySequence/ReferencedSOPInstanceUID",
        "ReferencedFrameOfReferenceSequence/RTReferencedStudySequence/RTReferencedSeriesSequence/SeriesInstanceUID",
        "ReferencedFrameOfReferenceSequence/RTReferencedStudySequence/RTReferencedSeriesSequence"
        "/ContourImageSequence/ReferencedSOPInstanceUID",
        "StructureSetROISequence/ROINumber",
        "StructureSetROISequence/ReferencedFrameOfReferenceUID",
        "ROIContourSequence/ReferencedROINumber",
        "ROIContourSequence/ContourSequence/ContourGeometricType",
        "ROIContourSequence/ContourSequence/NumberOfContourPoints",
        "ROIContourSequence/ContourSequence/ContourData",
        "RTROIObservationsSequence/ObservationNumber",
        "RTROIObservationsSequence/ReferencedROINumber",
        "RTROIObservationsSequence/ROIPhysicalPropertiesSequence/ROIPhysicalPropertyValue",
    ),
    PLAN_STORAGE: (
        "RTPlanLabel",
        "RTPlanGeometry",
        "ReferencedStructureSetSequence/ReferencedSOPInstanceUID",
        "DoseReferenceSequence/DoseReferenceNumber",
        "DoseReferenceSequence/DoseReferenceStructureType",
        "DoseReferenceSequence/DoseReferenceType",
        "FractionGroupSequence/FractionGroupNumber",
        "FractionGroupSequence/NumberOfBeams",
        "FractionGroupSequence/NumberOfBrachyApplicationSetups",
        "FractionGroupSequence/ReferencedBeamSequence/ReferencedBeamNumber",
        "FractionGroupSequence/ReferencedBeamSequence/BeamMeterset",
        "PatientSetupSequence/PatientSetupNumber",
        "PatientSetupSequence/PatientPosition",
        "BeamSequence/BeamNumber",
        "BeamSequence/BeamType",
        "BeamSequence/RadiationType",
        "BeamSequence/TreatmentMachineName",
        "BeamSequence/SourceAxisDistance",
        "BeamSequence/BeamLimitingDeviceSequence/RTBeamLimitingDeviceType",
        "BeamSequence/BeamLimitingDeviceSequence/NumberOfLeafJawPairs",
        "BeamSequence/NumberOfWedges",
        "BeamSequence/NumberOfCompensators",
        "BeamSequence/NumberOfBoli",
        "BeamSequence/NumberOfBlocks",
        "BeamSequence/FinalCumulativeMetersetWeight",
        "BeamSequence/NumberOfControlPoints",
        "BeamSequence/ControlPointSequence/ControlPointIndex",
        "BeamSequence/ControlPointSequence/CumulativeMetersetWeight",
        "ApprovalStatus",
    ),
    DOSE_STORAGE: (
        *_PIXELS_1,
        "NumberOfFrames",
        "FrameIncrementPointer",
        "DoseUnits",
        "DoseType",
        "DoseSummationType",
        "GridFrameOffsetVector",
        "DoseGridScaling",
        "ReferencedRTPlanSequence/ReferencedSOPInstanceUID",
    ),
}
TYPE_2: dict[str, tuple[str, ...]] = {
    CT_STORAGE: ("SliceThickness", "KVP", "AcquisitionNumber", "InstanceNumber", "PositionReferenceIndicator"),
    STRUCTURES_STORAGE: (
        "StructureSetDate",
        "StructureSetTime",
        "OperatorsName",
        "StructureSetROISequence/ROIName",
        "StructureSetROISequence/ROIGenerationAlgorithm",
        "RTROIObservationsSequence/RTROIInterpretedType",
        "RTROIObservationsSequence/ROIInterpreter",
    ),
    PLAN_STORAGE: ("RTPlanDate", "RTPlanTime", "OperatorsName", "FractionGroupSequence/NumberOfFractionsPlanned"),
    DOSE_STORAGE: ("SliceThickness", "OperatorsName", "InstanceNumber"),
}
_SEQUENCES_1 = {
    PLAN_STORAGE: ("FractionGroupSequence", "BeamSequence", "ReferencedStructureSetSequence"),
    DOSE_STORAGE: ("ReferencedRTPlanSequence",),
    STRUCTURES_STORAGE: (
        "ReferencedFrameOfReferenceSequence",
        "StructureSetROISequence",
        "ROIContourSequence",
        "RTROIObservationsSequence",
    ),
    CT_STORAGE: (),
}


def problems_of(dataset: Dataset) -> tuple[str, ...]:
    """Return what one object lacks or says wrongly, each in a few words. Use inside ``reading()``."""
    sop_class = text_of(dataset, "SOPClassUID")
    if sop_class not in TYPE_1:
        return (say("SOP class {sop_class} is not one that is written here", sop_class=sop_class or say("missing")),)
    found: list[str] = [say("{k} is missing or empty", k=k) for k in _SEQUENCES_1[sop_class] if not dataset.get(k)]
    for path in (*_ALL_1, *TYPE_1[sop_class]):
        if not all(_filled(holder, key) for holder, key in _ends(dataset, path.split("/"))):
            found.append(say("{path} is missing or empty", path=path))
    for path in (*_ALL_2, *TYPE_2[sop_class]):
        if not all(key in holder for holder, key in _ends(dataset, path.split("/"))):
            found.append(say("{path} is missing", path=path))
    found += _bad_texts(dataset)
    if sop_class == PLAN_STORAGE:
        found += _plan_problems(dataset)
    if sop_class == STRUCTURES_STORAGE:
        found += _structure_problems(dataset)
    return tuple(dict.fromkeys(found))


def problems_of_set(structures: str | Path, plan: str | Path, dose: str | Path, image: CtImage) -> tuple[str, ...]:
    """Return what is wrong with the three files of one case: each by itself, and what they say of each other."""
    with reading():
        sets = {name: pydicom.dcmread(path) for name, path in zip(("RS", "RP", "RD"), (structures, plan, dose))}
        found = [
            say("{name}: {problem}", name=name, problem=problem) for name, d in sets.items() for problem in problems_of(d)
        ]
        rs, rp, rd = sets.values()
        for name, d in sets.items():
            if text_of(d, "StudyInstanceUID") != image.study_uid:
                found.append(say("{name}: belongs to another study than the image", name=name))
            for keyword in ("PatientID", "PatientName"):
                if text_of(d, keyword) != text_of(rs, keyword):
                    found.append(say("{name}: {keyword} differs", name=name, keyword=keyword))
        known = set(image.sop_uids)
        if any(text_of(item, "ReferencedSOPInstanceUID") not in known for item in _images(rs)):
            found.append(say("RS: refers to an image slice that does not exist"))
        frames = {text_of(item, "ReferencedFrameOfReferenceUID") for item in rs.get("StructureSetROISequence") or ()}
        frames |= {text_of(rp, "FrameOfReferenceUID"), text_of(rd, "FrameOfReferenceUID")}
        if frames != {image.frame_of_reference_uid}:
            found.append(say("frames of reference differ from the image's"))
        if _referred(rp, "ReferencedStructureSetSequence") != [text_of(rs, "SOPInstanceUID")]:
            found.append(say("RP: does not refer to this structure set"))
        if _referred(rd, "ReferencedRTPlanSequence") != [text_of(rp, "SOPInstanceUID")]:
            found.append(say("RD: does not refer to this plan"))
        numbers = {float_of(item, "ROINumber") for item in rs.get("StructureSetROISequence") or ()}
        for item in rp.get("DoseReferenceSequence") or ():
            if "ReferencedROINumber" in item and float_of(item, "ReferencedROINumber") not in numbers:
                found.append(say("RP: prescribes to a region that does not exist"))
    return tuple(found)


def _ends(dataset: Dataset, path: Sequence[str]) -> Iterator[tuple[Dataset, str]]:
    """Yield every holder of the last keyword of a path; an absent sequence holds nothing."""
    if len(path) == 1:
        yield dataset, path[0]
        return
    for item in dataset.get(path[0]) or ():
        yield from _ends(item, path[1:])


def _filled(dataset: Dataset, keyword: str) -> bool:
    tag = tag_for_keyword(keyword)
    if tag is None or tag not in dataset:
        return False
    value = dataset.get_item(tag).value
    return value is not None and len(value if isinstance(value, (bytes, str)) else str(value)) > 0


def _count(dataset: Dataset, keyword: str) -> int:
    value = dataset.get(keyword)
    return 0 if value is None else len(value)


def _bad_texts(dataset: Dataset) -> list[str]:
    """Check lengths of decimal strings and forms of identifiers in all elements as they stand in the file."""
    found: list[str] = []
    for tag in list(dataset.keys()):
        element = dataset.get_item(tag)
        name = keyword_for_tag(tag) or str(tag)
        vr = element.VR or pydicom.datadict.dictionary_VR(tag)
        if vr == "SQ":
            for item in dataset[tag].value or ():
                found += _bad_texts(item)
            continue
        if vr not in ("DS", "UI"):
            continue
        raw = element.value if isinstance(element, RawDataElement) else str(element.value).encode()
        parts = (raw or b"").strip(b" \0").split(b"\\") if isinstance(raw, bytes) else []
        if vr == "DS" and any(len(p.strip()) > _LONGEST_DECIMAL for p in parts) and isinstance(element, RawDataElement):
            found.append(
                say(
                    "{name} holds a decimal string of more than {longest_decimal} characters",
                    name=name,
                    longest_decimal=_LONGEST_DECIMAL,
                )
            )
        if (
            vr == "UI"
            and isinstance(element, RawDataElement)
            and not all(_uid_fine(p.decode("ascii", "replace")) for p in parts)
        ):
            found.append(say("{name} holds a malformed identifier", name=name))
    return found


def _uid_fine(uid: str) -> bool:
    return not uid or (len(uid) <= _LONGEST_UID and pydicom.uid.UID(uid).is_valid)


def _plan_problems(dataset: Dataset) -> list[str]:
    found: list[str] = []
    beams = {int(b.BeamNumber): b for b in dataset.get("BeamSequence") or () if "BeamNumber" in b}
    if len(beams) != len(dataset.get("BeamSequence") or ()):
        found.append(say("two beams share a number"))
    for group in dataset.get("FractionGroupSequence") or ():
        referred = [float_of(i, "ReferencedBeamNumber") for i in group.get("ReferencedBeamSequence") or ()]
        if len(referred) != group.get("NumberOfBeams") or set(referred) - set(beams):
            found.append(say("the fraction group does not name the beams"))
    for number, beam in beams.items():
        points = list(beam.get("ControlPointSequence") or ())
        if len(points) != beam.get("NumberOfControlPoints") or len(points) < 2:
            found.append(say("beam {number} has {count} control points", number=number, count=len(points)))
            continue
        for keyword in ("GantryAngle", "BeamLimitingDeviceAngle", "PatientSupportAngle", "IsocenterPosition"):
            if not _filled(points[0], keyword):
                found.append(
                    say("beam {number}: {keyword} is missing at the first control point", number=number, keyword=keyword)
                )
        sizes = {}
        for device in beam.get("BeamLimitingDeviceSequence") or ():
            kind, pairs = text_of(device, "RTBeamLimitingDeviceType"), int(float_of(device, "NumberOfLeafJawPairs") or 0)
            sizes[kind] = 2 * pairs
            if kind.startswith("MLC") and _count(device, "LeafPositionBoundaries") != pairs + 1:
                found.append(say("beam {number}: leaf boundaries do not fit the leaves", number=number))
        shown = {
            text_of(p, "RTBeamLimitingDeviceType"): _count(p, "LeafJawPositions")
            for p in points[0].get("BeamLimitingDevicePositionSequence") or ()
        }
        if shown != sizes:
            found.append(say("beam {number}: jaw and leaf positions do not fit their devices", number=number))
    if text_of(dataset, "ApprovalStatus") in ("APPROVED", "REJECTED"):
        found += [
            say("{k} is missing", k=k) for k in ("ReviewDate", "ReviewTime", "ReviewerName") if not _filled(dataset, k)
        ]
    return found


def _structure_problems(dataset: Dataset) -> list[str]:
    found: list[str] = []
    numbers = [int(i.ROINumber) for i in dataset.get("StructureSetROISequence") or () if "ROINumber" in i]
    if len(set(numbers)) != len(numbers):
        found.append(say("two regions share a number"))
    for sequence in ("ROIContourSequence", "RTROIObservationsSequence"):
        referred = [int(i.ReferencedROINumber) for i in dataset.get(sequence) or () if "ReferencedROINumber" in i]
        if set(referred) - set(numbers):
            found.append(say("{sequence} refers to a region that does not exist", sequence=sequence))
    for item in dataset.get("ROIContourSequence") or ():
        for contour in item.get("ContourSequence") or ():
            raw = contour.get_item("ContourData").value if "ContourData" in contour else b""
            count = raw.count(b"\\") + 1 if isinstance(raw, bytes) else len(raw)
            if count != 3 * int(contour.get("NumberOfContourPoints") or 0):
                found.append(say("a contour's number of points is wrong"))
    return found


def _images(structures: Dataset) -> Iterator[Dataset]:
    for frame in structures.get("ReferencedFrameOfReferenceSequence") or ():
        for study in frame.get("RTReferencedStudySequence") or ():
            for series in study.get("RTReferencedSeriesSequence") or ():
                yield from series.get("ContourImageSequence") or ()
    for item in structures.get("ROIContourSequence") or ():
        for contour in item.get("ContourSequence") or ():
            yield from contour.get("ContourImageSequence") or ()


def _referred(dataset: Dataset, sequence: str) -> list[str]:
    return [text_of(item, "ReferencedSOPInstanceUID") for item in dataset.get(sequence) or ()]
