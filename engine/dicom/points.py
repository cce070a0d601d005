"""Regions of an RT Structure Set that are points <-> named points."""

from __future__ import annotations

from collections.abc import Sequence

from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.base.words import say
from engine.dicom.common import ds_texts, short
from engine.image.ct import CtImage
from engine.space.point import NamedPoint

# Interpreted types of PS3.3 C.8.8.8 that may be points; any other comes in as it is and leaves as a marker.
_KINDS = ("MARKER", "ISOCENTER", "REGISTRATION", "CONTROL", "DOSE_MEASUREMENT")
MOST = 20
_LONGEST_NAME = 64
_COLOUR = [230, 230, 230]


def points_of(name: str, kind: str, places_mm: Sequence[tuple[float, ...]], notes: list[str]) -> tuple[NamedPoint, ...]:
    """Return the points of a region; several are told apart by a number. What is no place is left out with a note.

    A region of more than MOST points is a cloud of them and none that anybody would name.
    """
    found: list[NamedPoint] = []
    places = tuple(dict.fromkeys(places_mm))
    if len(places) > MOST:
        notes.append(say("{name}: {count} points are no markers; left out", name=name, count=len(places)))
        return ()
    for n, place in enumerate(places, 1):
        number = f" {n}" if len(places) > 1 else ""
        try:
            found.append(NamedPoint(name[: _LONGEST_NAME - len(number)] + number, place, kind))  # type: ignore[arg-type]
        except InputError as error:
            notes.append(say("{name}: {what}; left out", name=name, what=error.what))
    return tuple(found)


def point_items(point: NamedPoint, number: int, image: CtImage) -> tuple[Dataset, Dataset, Dataset]:
    """Build a point's items of Structure Set ROI, ROI Contour and RT ROI Observations (PS3.3 C.8.8.5, C.8.8.6, C.8.8.8)."""
    region = Dataset()
    region.ROINumber = number
    region.ReferencedFrameOfReferenceUID = image.frame_of_reference_uid
    region.ROIName = short(point.name, _LONGEST_NAME)
    region.ROIGenerationAlgorithm = ""
    place = Dataset()
    place.ContourGeometricType = "POINT"
    place.NumberOfContourPoints = 1
    place.ContourNumber = 1
    place.ContourData = ds_texts(point.place_mm)
    contour = Dataset()
    contour.ROIDisplayColor = list(_COLOUR)
    contour.ContourSequence = [place]
    contour.ReferencedROINumber = number
    seen = Dataset()
    seen.ObservationNumber = number
    seen.ReferencedROINumber = number
    seen.RTROIInterpretedType = point.kind if point.kind in _KINDS else "MARKER"
    seen.ROIInterpreter = ""
    return region, contour, seen
