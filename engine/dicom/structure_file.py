"""Volumes of a case -> RT Structure Set."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from pydicom.charset import default_encoding
from pydicom.datadict import tag_for_keyword
from pydicom.dataelem import RawDataElement
from pydicom.dataset import Dataset, FileDataset
from pydicom.tag import Tag

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import own_array
from engine.base.words import say
from engine.case.case import Case
from engine.case.release import Release, standing_release
from engine.dicom.common import (
    CAUTION,
    CT_STORAGE,
    STRUCTURES_STORAGE,
    add_patient_and_study,
    date_and_time,
    ds_text,
    new_file,
    pn_text,
    short,
    study_date,
    uid_of,
    writing,
)
from engine.dicom.keyholes import keyholes, nested
from engine.dicom.points import point_items
from engine.dicom.roles import type_of_role
from engine.image.ct import CtImage
from engine.volumes.outline import height_mm, slice_outlines_mm
from engine.volumes.volume import Contour, Volume

_STUDY_CLASS = "1.2.840.10008.3.1.2.3.1"
_CONTOUR_DATA = Tag(tag_for_keyword("ContourData") or 0)
_ROUND_MM = 3
_LONGEST_DS = 16


def structures_uid(case: Case) -> str:
    """Return the identifier of the structure set of a case: it changes with patient, image, volumes, points and release."""
    release = standing_release(case)
    said = (release.fingerprint,) if release is not None else ()
    prints = (v.fingerprint for v in case.volumes)
    points = (p.fingerprint for p in case.points)
    return uid_of("structures", case.patient.fingerprint, case.image.fingerprint, *prints, *said, *points)


def roi_numbers(case: Case) -> dict[str, int]:
    """Return the ROI Number of each volume, by key: 1, 2, ... in order."""
    return {v.key: i for i, v in enumerate(case.volumes, 1)}


@writing()
def structures_dataset(case: Case, label: str = "", report: Report = quiet) -> FileDataset:
    """Build the RT Structure Set of a case: PS3.3 A.19 with C.8.8.1, C.8.8.5, C.8.8.6, C.8.8.8 and, for volumes
    that are released, C.8.8.16.

    Implicit VR is used because a long contour does not fit the 16-bit length of an explicit one. Lines of a volume
    that was painted are rounded to a micrometre and holes are joined to their outer line (C.8.8.6.3); contours that
    came in and were not edited leave with the very digits they came with, as CLOSEDPLANAR_XOR where they nest, because
    that is how they were read.

    Raises
    ------
    InputError
        If the image has no DICOM identity, or a name or number cannot be written.
    """
    image = case.image
    if not image.sop_uids or not image.frame_of_reference_uid:
        raise InputError("the image was never DICOM, so contours have nothing to refer to", do="Write the CT files first.")
    sop_uid = structures_uid(case)
    dataset = new_file(STRUCTURES_STORAGE, sop_uid, implicit=True)
    add_patient_and_study(dataset, case.patient, image.study_uid, study_date(image.scanner))
    dataset.Modality = "RTSTRUCT"
    dataset.SeriesInstanceUID = uid_of("structures series", sop_uid)
    dataset.SeriesNumber = 101
    dataset.SeriesDescription = "Volumes"
    dataset.OperatorsName = ""
    dataset.InstanceNumber = 1
    dataset.FrameOfReferenceUID = image.frame_of_reference_uid
    dataset.PositionReferenceIndicator = ""
    dataset.StructureSetLabel = short(label, 16) or "Volumes"
    dataset.StructureSetDescription = CAUTION
    dataset.StructureSetDate = ""
    dataset.StructureSetTime = ""
    dataset.ReferencedFrameOfReferenceSequence = [_frame(image)]
    numbers = roi_numbers(case)
    regions, contours, observations = [], [], []
    for i, volume in enumerate(case.volumes):
        n = len(case.volumes)
        inner = part(report, i / n, (i + 1) / n)
        regions.append(_region(volume, numbers[volume.key], image))
        contours.append(_contours(volume, numbers[volume.key], image, inner))
        observations.append(_observation(volume, numbers[volume.key]))
    for number, point in enumerate(case.points, len(case.volumes) + 1):
        for items, item in zip((regions, contours, observations), point_items(point, number, image), strict=True):
            items.append(item)
    dataset.StructureSetROISequence = regions
    dataset.ROIContourSequence = contours
    dataset.RTROIObservationsSequence = observations
    _approve(dataset, standing_release(case))
    return dataset


def _approve(dataset: FileDataset, release: Release | None) -> None:
    """Fill the Approval Module (PS3.3 C.8.8.16) when the volumes are released and the release holds."""
    if release is not None:
        dataset.ApprovalStatus = "APPROVED"
        dataset.ReviewDate, dataset.ReviewTime = date_and_time(release.at, "release")
        dataset.ReviewerName = pn_text(release.who, "release")


def _frame(image: CtImage) -> Dataset:
    """Build an item of the Referenced Frame of Reference Sequence (PS3.3 C.8.8.5)."""
    series = Dataset()
    series.SeriesInstanceUID = image.series_uid
    series.ContourImageSequence = [_image_item(uid) for uid in image.sop_uids]
    study = Dataset()
    study.ReferencedSOPClassUID = _STUDY_CLASS
    study.ReferencedSOPInstanceUID = image.study_uid
    study.RTReferencedSeriesSequence = [series]
    frame = Dataset()
    frame.FrameOfReferenceUID = image.frame_of_reference_uid
    frame.RTReferencedStudySequence = [study]
    return frame


def _image_item(uid: str) -> Dataset:
    item = Dataset()
    item.ReferencedSOPClassUID = CT_STORAGE
    item.ReferencedSOPInstanceUID = uid
    return item


def _region(volume: Volume, number: int, image: CtImage) -> Dataset:
    item = Dataset()
    item.ROINumber = number
    item.ReferencedFrameOfReferenceUID = image.frame_of_reference_uid
    item.ROIName = short(volume.name, 64)
    if volume.note:
        item.ROIDescription = short(volume.note, 1024)
    item.ROIVolume = ds_text(round(volume.coverage.volume_cm3, 4))
    item.ROIGenerationAlgorithm = ""
    return item


def _observation(volume: Volume, number: int) -> Dataset:
    """Build an item of the RT ROI Observations Sequence (PS3.3 C.8.8.8)."""
    item = Dataset()
    item.ObservationNumber = number
    item.ReferencedROINumber = number
    item.ROIObservationLabel = volume.role
    item.RTROIInterpretedType = type_of_role(volume.role)
    item.ROIInterpreter = ""
    if volume.density_g_cm3 is not None:
        fact = Dataset()
        fact.ROIPhysicalProperty = "REL_MASS_DENSITY"
        fact.ROIPhysicalPropertyValue = ds_text(volume.density_g_cm3)
        item.ROIPhysicalPropertiesSequence = [fact]
    return item


def _contours(volume: Volume, number: int, image: CtImage, report: Report) -> Dataset:
    """Build an item of the ROI Contour Sequence (PS3.3 C.8.8.6)."""
    item = Dataset()
    item.ROIDisplayColor = list(volume.colour)
    kind = "CLOSED_PLANAR"
    lines: list[Contour] = []
    if volume.original:
        lines = list(volume.original)
        if any(nested(same) for same in _by_height([c.points_mm for c in lines])):
            kind = "CLOSEDPLANAR_XOR"
    else:
        planes = volume.coverage.planes
        for k, plane in enumerate(planes):
            report(0.5 * k / len(planes), say("outlining {volume}", volume=volume.name))
            for points in keyholes(slice_outlines_mm(volume.coverage, plane)):
                lines.append(Contour(own_array(np.round(points, _ROUND_MM) + 0.0)))
    found = []
    for k, line in enumerate(lines):
        report(0.5 + 0.5 * k / len(lines), say("writing {volume}", volume=volume.name))
        if len(line.points_mm):
            found.append(_contour(line, kind, image))
    if found:
        for k, contour in enumerate(found, 1):
            contour.ContourNumber = k
        item.ContourSequence = found
    item.ReferencedROINumber = number
    return item


def _by_height(lines: list[NDArray[np.float64]]) -> list[list[NDArray[np.float64]]]:
    heights: dict[float, list[NDArray[np.float64]]] = {}
    for points in lines:
        if len(points):
            heights.setdefault(round(float(points[0, 2]), 2), []).append(points)
    return list(heights.values())


def _contour(line: Contour, kind: str, image: CtImage) -> Dataset:
    item, points = Dataset(), line.points_mm
    z = height_mm(points)
    plane = image.grid.plane_at(z)
    if abs(z - image.grid.z_mm[plane]) <= image.grid.spacing_mm[2] / 2:
        item.ContourImageSequence = [_image_item(image.sop_uids[plane])]
    item.ContourGeometricType = kind
    item.NumberOfContourPoints = len(points)
    text = _text(line).encode("ascii")
    text += b" " * (len(text) % 2)
    item[_CONTOUR_DATA] = RawDataElement(_CONTOUR_DATA, "DS", len(text), text, 0, True, True)
    # Said to be encoded as it will be written, so that the writer takes the text as it is: seconds for a large set.
    item.set_original_encoding(True, True, default_encoding)
    return item


def _text(line: Contour) -> str:
    """Return the decimal strings a line came as, unless one is longer than DICOM allows; else the shortest exact ones."""
    if line.text and max(map(len, line.text.split("\\"))) <= _LONGEST_DS:
        return line.text
    return "\\".join(_decimal(v) for v in line.points_mm.ravel().tolist())


def _decimal(value: float) -> str:
    text = repr(value)
    if text.endswith(".0"):
        return text[:-2]
    return text if len(text) <= _LONGEST_DS else ds_text(value)
