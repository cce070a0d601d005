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
from engine.base.values import Value, own_array
from engine.base.words import as_words, listed, say, say_count
from engine.case.case import Patient
from engine.dicom.common import STRUCTURES_STORAGE, float_of, floats_of, patient_in, read_file, reading, text_of
from engine.dicom.points import points_of
from engine.dicom.roles import NOT_REGIONS, has_role, role_of_type
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.space.point import NamedPoint
from engine.volumes.outline import fill_report, filled, height_mm
from engine.volumes.volume import COLOURS, Contour, Volume, new_key

Points = NDArray[np.float64]

_CLOSED = ("CLOSED_PLANAR", "CLOSEDPLANAR_XOR")
_LEAST_STEP_MM = 0.05
_FARTHEST_MM = 2000.0
_LONGEST_NAME, _LONGEST_NUMBER = 64, 64


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
    points : of regions that hold nothing but points: markers, reference points, isocentres
    """

    volumes: tuple[Volume, ...]
    grid: Grid
    notes: tuple[str, ...] = ()
    numbers: tuple[int, ...] = ()
    label: str = ""
    patient: Patient = field(default_factory=Patient)
    sop_uid: str = ""
    frame_of_reference_uid: str = ""
    points: tuple[NamedPoint, ...] = ()

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
    contours: list[Contour] = field(default_factory=list)
    kinds: set[str] = field(default_factory=set)
    points_mm: list[tuple[float, ...]] = field(default_factory=list)


def read_structures(request: ReadStructures, report: Report = quiet) -> StructuresRead:
    """Read an RT Structure Set (PS3.3 A.19).

    All closed contours of a volume on one plane count together by the even-odd rule, so a loop inside another is a
    hole, and keyholes and CLOSEDPLANAR_XOR work; a CLOSED_PLANAR contour that is there twice counts once. Regions of
    nothing but points become named points. Points of other regions, open lines, regions of another frame of reference
    and contours off the image's planes are left out with a note. The contours that came in stay with the volume, digit
    by digit.

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
        _tell_series(dataset, request.image, notes)
    frames = {r.frame_uid for r in rois if r.frame_uid}
    rois = _of_this_frame(rois, request, notes)
    grid = request.image.grid if request.image else _grid_of(rois, request.path)
    volumes: list[Volume] = []
    numbers: list[int] = []
    refused: list[str] = []
    points: list[NamedPoint] = []
    for i, roi in enumerate(rois):
        report(i / max(1, len(rois)), say("filling {roi}", roi=roi.name))
        if not roi.contours and (roi.kinds or roi.interpreted in NOT_REGIONS):
            points += points_of(roi.name, roi.interpreted, roi.points_mm, notes)
            if not roi.points_mm:
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
        tuple(points),
    )


def _tell_series(dataset: Dataset, image: CtImage | None, notes: list[str]) -> None:
    """Tell if the set was drawn on another series than the image, which may lie in the same frame of reference."""
    drawn_on = {
        text_of(series, "SeriesInstanceUID")
        for frame in dataset.get("ReferencedFrameOfReferenceSequence") or ()
        for study in frame.get("RTReferencedStudySequence") or ()
        for series in study.get("RTReferencedSeriesSequence") or ()
    } - {""}
    if image is not None and image.series_uid and drawn_on and image.series_uid not in drawn_on:
        notes.append(say("it was drawn on another series of the same frame of reference; see that it fits the image"))


def _rois(dataset: Dataset, path: str, notes: list[str]) -> list[_Roi]:
    found: dict[int, _Roi] = {}
    said = {text_of(f, "FrameOfReferenceUID") for f in dataset.get("ReferencedFrameOfReferenceSequence") or ()}
    only_frame = said.pop() if len(said) == 1 else ""
    for item in dataset.get("StructureSetROISequence") or ():
        number = float_of(item, "ROINumber")
        if number is None:
            raise InputError("a region has no number (3006,0022)", path, "Export the structure set again.")
        if int(number) in found:
            raise InputError(
                say("two regions share the number {number}", number=int(number)), path, "Export the structure set again."
            )
        name = " ".join(text_of(item, "ROIName").split()) or f"ROI {int(number)}"
        if len(name) > _LONGEST_NAME:
            notes.append(say("{name}: its name is longer than {most} characters and is cut", name=name, most=_LONGEST_NAME))
            name = name[:_LONGEST_NAME].rstrip()
        frame = text_of(item, "ReferencedFrameOfReferenceUID") or only_frame
        found[int(number)] = _Roi(int(number), name, frame, text_of(item, "ROIDescription"))
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
                roi.contours.append(_line(contour, f"{path}, {roi.name}"))
            elif kind == "POINT":
                roi.points_mm += filter(None, (floats_of(contour, "ContourData", 3),))
    for roi in found.values():
        _once(roi, notes)
    return list(found.values())


def _once(roi: _Roi, notes: list[str]) -> None:
    """Let go of contours that are there twice: by the even-odd rule they would undo each other."""
    if "CLOSEDPLANAR_XOR" in roi.kinds:
        return
    kept = {c.points_mm.tobytes(): c for c in reversed(roi.contours) if len(c.points_mm)}
    twice = sum(len(c.points_mm) > 0 for c in roi.contours) - len(kept)
    if twice:
        roi.contours = list(reversed(kept.values()))
        notes.append(
            say_count("{roi}: {count} contour is there twice; it counts once",
                      "{roi}: {count} contours are there twice; they count once", twice, roi=roi.name)
        )  # fmt: skip


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


def _line(contour: Dataset, where: str) -> Contour:
    """Return a contour and its text, which is split here because the general reader takes seconds for a large set."""
    element = contour.get_item("ContourData") if "ContourData" in contour else None
    text = ""
    try:
        if isinstance(element, RawDataElement) and isinstance(element.value, bytes):
            text = element.value.strip(b" \0").decode("ascii")
            numbers = text.split("\\") if text else []
            if max(map(len, numbers), default=0) > _LONGEST_NUMBER:
                raise ValueError("no number is as long as that")
            flat = np.array(numbers, dtype=f"S{_LONGEST_NUMBER}").astype(np.float64)
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
    return Contour(own_array(flat.reshape(-1, 3)), text)


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
    points = [c.points_mm for r in rois for c in r.contours if len(c.points_mm)]
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
    if (hi - lo).max() > 2 * _FARTHEST_MM:
        raise InputError(say("its points are up to {far:.3g} m apart", far=float((hi - lo).max()) / 1000), path)
    nx, ny = (int(np.ceil(hi[i] - lo[i])) + 1 for i in (0, 1))
    return Grid((float(lo[0]), float(lo[1]), float(z[0])), (1.0, 1.0, step), (round((z[-1] - z[0]) / step) + 1, ny, nx))


def _volume(roi: _Roi, grid: Grid, count: int, notes: list[str]) -> Volume:
    lo, hi = grid.bounds_mm
    lines = [c.points_mm for c in roi.contours if len(c.points_mm)]
    far = max((float(np.maximum(lo - c, c - hi).max()) for c in lines), default=0.0)
    if far > _FARTHEST_MM:
        raise InputError(
            say("a point of it lies {far:.3g} m away from the image", far=far / 1000), do="Correct that point."
        )
    inside = [c for c in lines if lo[2] <= height_mm(c) <= hi[2]]
    beyond = len(lines) - len(inside)
    if roi.contours and not inside:
        raise InputError("it lies wholly above or below the image", do="Choose the structure set of this image.")
    if beyond:
        notes.append(
            say("{roi}: {beyond} contours lie above or below the image and are not filled", roi=roi.name, beyond=beyond)
        )
    inside, doubled = _one_height(grid, inside)
    if doubled:
        notes.append(
            say_count(
                "{roi}: {count} slice holds contours at several heights; the nearest count",
                "{roi}: {count} slices hold contours at several heights; the nearest count",
                doubled,
                roi=roi.name,
            )
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
    if roi.interpreted and not has_role(roi.interpreted):
        notes.append(
            say("{roi}: its type {type} has no role here and is taken as OTHER", roi=roi.name, type=roi.interpreted)
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
            tuple(roi.contours),
            roi.note,
        )
    except UserError as error:
        raise InputError(error.what, error.where) from None


def _one_height(grid: Grid, lines: list[Points]) -> tuple[list[Points], int]:
    """Keep the lines nearest to each slice, since the even-odd rule holds within one plane only; on how many not all."""
    near: dict[int, float] = {}
    where = [(grid.plane_at(z), z) for z in map(height_mm, lines)]
    for plane, z in where:
        near[plane] = min(near.get(plane, z), z, key=lambda at: abs(at - float(grid.z_mm[plane])))
    kept = [abs(z - near[plane]) <= _LEAST_STEP_MM for plane, z in where]
    return [c for c, keep in zip(lines, kept) if keep], len({k for (k, _), keep in zip(where, kept) if not keep})
