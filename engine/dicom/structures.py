"""RT Structure Set -> volumes on an image."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from pydicom.dataelem import RawDataElement
from pydicom.dataset import Dataset

from engine.base.errors import GeometryError, InputError, UserError
from engine.base.progress import Report, quiet
from engine.base.values import Value, frozen_array
from engine.base.words import as_words, listed, say
from engine.case.case import Patient
from engine.dicom.common import STRUCTURES_STORAGE, float_of, floats_of, patient_in, read_file, reading, text_of
from engine.dicom.roles import NOT_REGIONS, role_of_type
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.outline import fill_report, filled, height_mm
from engine.volumes.volume import COLOURS, Contour, Volume, new_key

_CLOSED = ("CLOSED_PLANAR", "CLOSEDPLANAR_XOR")
_LEAST_STEP_MM = 0.05


@dataclass(frozen=True, eq=False)
class ReadStructures(Value):
    """Ask for the volumes of an RT Structure Set on an image (without one: on a grid made to fit its contours)."""

    path: str
    image: CtImage | None = None


@dataclass(frozen=True, eq=False)
class StructuresRead(Value):
    """The volumes of an RT Structure Set; iterating gives the volumes.

    Parameters
    ----------
    numbers : ROI Number of each volume
    notes : what was left out or is worth knowing, one sentence each
    grid : the grid of the volumes
    """

    volumes: tuple[Volume, ...]
    grid: Grid
    notes: tuple[str, ...] = ()
    numbers: tuple[int, ...] = ()
    label: str = ""
    patient: Patient = field(default_factory=Patient)
    sop_uid: str = ""
    frame_of_reference_uid: str = ""

    def __iter__(self) -> Iterator[Volume]:
        return iter(self.volumes)

    def __len__(self) -> int:
        return len(self.volumes)


@dataclass
class _Roi:
    number: int
    name: str
    frame_uid: str
    note: str = ""
    interpreted: str = ""
    role_label: str = ""
    density_g_cm3: float | None = None
    colour: tuple[int, int, int] | None = None
    contours: list[NDArray[np.float64]] = field(default_factory=list)
    kinds: set[str] = field(default_factory=set)


def read_structures(request: ReadStructures, report: Report = quiet) -> StructuresRead:
    """Read an RT Structure Set (PS3.3 A.19).

    All closed contours of a volume on one plane count together by the even-odd rule, so a loop inside another is a
    hole, and keyholes and CLOSEDPLANAR_XOR work. Points, open lines, regions of another frame of reference and
    contours off the image's planes are left out with a note. The contours that came in stay with the volume.

    Raises
    ------
    InputError
        If the file is no RT Structure Set or damaged, if it belongs to another frame of reference or patient position
        in space, or if nothing in it can be used.
    """
    notes: list[str] = []
    with reading():
        dataset = read_file(request.path, STRUCTURES_STORAGE, say("RT Structure Set"))
        rois = _rois(dataset, request.path, notes)
        patient = patient_in(dataset)
    frames = {r.frame_uid for r in rois if r.frame_uid}
    rois = _of_this_frame(rois, request, notes)
    grid = request.image.grid if request.image else _grid_of(rois, request.path)
    volumes: list[Volume] = []
    numbers: list[int] = []
    refused: list[str] = []
    for i, roi in enumerate(rois):
        report(i / max(1, len(rois)), say("filling {roi}", roi=roi.name))
        if roi.interpreted in NOT_REGIONS or (roi.kinds and not roi.contours):
            notes.append(say("{roi}: points and open lines are not regions; left out", roi=roi.name))
            continue
        try:
            volumes.append(_volume(roi, grid, len(volumes), notes))
            numbers.append(roi.number)
        except (InputError, GeometryError) as error:
            refused.append(
                say(
                    "{roi}: {reason}; left out",
                    roi=roi.name,
                    reason=listed(map(as_words, filter(None, (error.where, error.what))), " "),
                )
            )
    if refused and not volumes:
        raise InputError(
            say("none of its volumes fits the image ({refused})", refused=refused[0]),
            request.path,
            "Choose the set of this image.",
        )
    return StructuresRead(
        tuple(volumes),
        grid,
        (*notes, *refused),
        tuple(numbers),
        text_of(dataset, "StructureSetLabel"),
        patient,
        text_of(dataset, "SOPInstanceUID"),
        frames.pop() if len(frames) == 1 else "",
    )


def _rois(dataset: Dataset, path: str, notes: list[str]) -> list[_Roi]:
    found: dict[int, _Roi] = {}
    for item in dataset.get("StructureSetROISequence") or ():
        number = float_of(item, "ROINumber")
        if number is None:
            raise InputError("a region has no number (3006,0022)", path, "Export the structure set again.")
        if int(number) in found:
            raise InputError(
                say("two regions share the number {number}", number=int(number)), path, "Export the structure set again."
            )
        name = text_of(item, "ROIName") or f"ROI {int(number)}"
        note = text_of(item, "ROIDescription")
        found[int(number)] = _Roi(int(number), name[:64], text_of(item, "ReferencedFrameOfReferenceUID"), note)
    if not found:
        raise InputError("it holds no regions", path, "Choose another structure set.")
    for item in dataset.get("RTROIObservationsSequence") or ():
        roi = found.get(int(float_of(item, "ReferencedROINumber") or -1))
        if roi is not None:
            _observe(roi, item, notes)
    for item in dataset.get("ROIContourSequence") or ():
        roi = found.get(int(float_of(item, "ReferencedROINumber") or -1))
        if roi is None:
            notes.append(say("contours of a region that is not listed were left out"))
            continue
        colour = floats_of(item, "ROIDisplayColor", 3)
        if colour and all(0 <= c <= 255 for c in colour):
            roi.colour = (int(colour[0]), int(colour[1]), int(colour[2]))
        for contour in item.get("ContourSequence") or ():
            kind = text_of(contour, "ContourGeometricType").upper()
            roi.kinds.add(kind)
            if kind in _CLOSED:
                roi.contours.append(_points(contour, f"{path}, {roi.name}"))
    return list(found.values())


def _observe(roi: _Roi, item: Dataset, notes: list[str]) -> None:
    roi.interpreted = text_of(item, "RTROIInterpretedType").upper() or roi.interpreted
    roi.role_label = text_of(item, "ROIObservationLabel") or roi.role_label
    for fact in item.get("ROIPhysicalPropertiesSequence") or ():
        kind, value = text_of(fact, "ROIPhysicalProperty"), float_of(fact, "ROIPhysicalPropertyValue")
        if kind == "REL_MASS_DENSITY" and value is not None and 0 <= value <= 25:
            roi.density_g_cm3 = value
        elif kind:
            notes.append(
                say(
                    "{roi}: its {kind} of {value} is not used; set a mass density if it matters",
                    roi=roi.name,
                    kind=kind,
                    value=value,
                )
            )


def _points(contour: Dataset, where: str) -> NDArray[np.float64]:
    """Return (n, 3); the text is split here because the general reader takes seconds for a large set."""
    element = contour.get_item("ContourData") if "ContourData" in contour else None
    try:
        if isinstance(element, RawDataElement) and isinstance(element.value, bytes):
            text = element.value.strip(b" \0")
            flat = np.array(text.split(b"\\"), dtype="S32").astype(np.float64) if text else np.empty(0)
        else:
            flat = np.array(floats_of(contour, "ContourData") or (), dtype=np.float64)
    except ValueError:
        raise InputError(
            "a contour holds something that is not a number", where, "Export the structure set again."
        ) from None
    if flat.size % 3 or not np.isfinite(flat).all():
        raise InputError("a contour is no list of x, y, z", where, "Export the structure set again.")
    said = float_of(contour, "NumberOfContourPoints")
    if said is not None and int(said) != flat.size // 3:
        raise InputError(
            say("a contour says it has {said} points and has {size}", said=int(said), size=flat.size // 3),
            where,
            "Export the structure set again.",
        )
    return flat.reshape(-1, 3)


def _of_this_frame(rois: list[_Roi], request: ReadStructures, notes: list[str]) -> list[_Roi]:
    if request.image is None:
        if len({r.frame_uid for r in rois}) > 1:
            raise InputError("its regions lie in several frames of reference", request.path, "Give the CT they belong to.")
        return rois
    ours = request.image.frame_of_reference_uid
    here = [r for r in rois if ours and r.frame_uid == ours]
    if not here:
        raise InputError(
            "it belongs to another frame of reference than the image"
            if ours
            else "the image has no frame of reference, so nothing can be placed on it",
            request.path,
            "Choose the structure set drawn on this image.",
        )
    notes += [
        say("{name}: drawn in another frame of reference; left out", name=r.name) for r in rois if r.frame_uid != ours
    ]
    return here


def _grid_of(rois: list[_Roi], path: str) -> Grid:
    """Make a grid of 1 mm pixels whose planes are the contours' own."""
    points = [c for r in rois for c in r.contours if len(c)]
    if not points:
        raise InputError("it holds no closed contours", path, "Choose another structure set.")
    z = np.unique(np.round([height_mm(c) for c in points], 2))
    gaps = np.diff(z)
    gaps = gaps[gaps > _LEAST_STEP_MM]
    if not gaps.size:
        raise InputError("all its contours lie in one plane, so their thickness is unknown", path, "Give the CT too.")
    step = float(gaps.min())
    count = (z[-1] - z[0]) / step
    step = float(z[-1] - z[0]) / max(1, round(count))
    off = np.abs((z - z[0]) / step - np.round((z - z[0]) / step)).max() * step
    if off > 0.1 * step:
        raise InputError("its contours do not lie on evenly spaced planes", path, "Give the CT they were drawn on.")
    every = np.concatenate(points)
    lo, hi = every.min(axis=0) - 2.0, every.max(axis=0) + 2.0
    nx, ny = (int(np.ceil(hi[i] - lo[i])) + 1 for i in (0, 1))
    return Grid((float(lo[0]), float(lo[1]), float(z[0])), (1.0, 1.0, step), (round((z[-1] - z[0]) / step) + 1, ny, nx))


def _volume(roi: _Roi, grid: Grid, count: int, notes: list[str]) -> Volume:
    lo, hi = grid.bounds_mm
    inside = [c for c in roi.contours if len(c) and lo[2] <= height_mm(c) <= hi[2]]
    beyond = sum(len(c) > 0 for c in roi.contours) - len(inside)
    if roi.contours and not inside:
        raise InputError("it lies wholly above or below the image", do="Choose the structure set of this image.")
    if beyond:
        notes.append(
            say("{roi}: {beyond} contours lie above or below the image and are not filled", roi=roi.name, beyond=beyond)
        )
    coverage = filled(grid, inside)
    facts = fill_report(grid, inside)
    if facts.clipped_cm3 > 0.005:
        notes.append(
            say(
                "{roi}: {clipped_cm3:.2f} cm³ lie outside the image and are cut off",
                roi=roi.name,
                clipped_cm3=facts.clipped_cm3,
            )
        )
    if facts.degenerate:
        notes.append(
            say(
                "{roi}: {degenerate} contours of fewer than three points hold no area",
                roi=roi.name,
                degenerate=facts.degenerate,
            )
        )
    if roi.kinds - set(_CLOSED):
        notes.append(say("{roi}: its points and open lines are left out", roi=roi.name))
    if inside and coverage.is_empty:
        raise InputError("it lies beside the image or holds no area", do="Choose the structure set of this image.")
    try:
        return Volume(
            new_key(),
            roi.name,
            role_of_type(roi.interpreted, roi.role_label),
            roi.colour or COLOURS[count % len(COLOURS)],
            coverage,
            roi.density_g_cm3,
            tuple(Contour(frozen_array(c)) for c in roi.contours),
            roi.note,
        )
    except UserError as error:
        raise InputError(error.what, error.where) from None
