"""Headers of one series -> an axis-aligned stack of slices, or one plain sentence why not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pydicom.uid import UID

from engine.base.errors import GeometryError, InputError
from engine.base.words import say, say_count
from engine.dicom.common import CT_STORAGE
from engine.dicom.headers import Header
from engine.space.frames import POSITIONS
from engine.space.grid import Grid

_ANGLE = 1e-3  # sine of the largest angle taken as aligned: 0.06 degrees, half a millimetre at the edge of a 500 mm field
_TILT_DEG = 0.1
_SAME_MM = 0.01
_SHEAR_MM = 0.1
_UNEVEN = 0.01
_GAP = 1.5
_EXPORT = say("Export the whole series again from the scanner or archive.")
_REQUIRED_NUMBERS = {
    "ImagePositionPatient": say("image position (0020,0032)"),
    "ImageOrientationPatient": say("image orientation (0020,0037)"),
    "PixelSpacing": say("pixel spacing (0028,0030)"),
    "Rows": say("number of rows (0028,0010)"),
    "Columns": say("number of columns (0028,0011)"),
    "RescaleSlope": say("rescale slope (0028,1053)"),
    "RescaleIntercept": say("rescale intercept (0028,1052)"),
}


@dataclass(frozen=True)
class Stack:
    """An ordered stack: `headers` ascending in z, the grid they make, how pixels are turned, what was set aside.

    transpose is done first, then the flips, so that columns ascend in x and rows in y.
    """

    headers: tuple[Header, ...]
    grid: Grid
    transpose: bool
    flip_rows: bool
    flip_columns: bool
    patient_position: str
    notes: tuple[str, ...] = ()

    def turned(self, pixels: NDArray[np.generic]) -> NDArray[np.generic]:
        """Return a slice as stored (rows, columns) turned so that x and y ascend."""
        if self.transpose:
            pixels = pixels.T
        return pixels[:: -1 if self.flip_rows else 1, :: -1 if self.flip_columns else 1]


def stack_of(headers: Sequence[Header], patient_position: str = "") -> Stack:
    """Sort the files of one series into a stack (PS3.3 C.7.6.2: position and orientation, never instance numbers).

    Parameters
    ----------
    headers : all files of the series
    patient_position : what a person says where the files do not; it does not overrule them

    Raises
    ------
    InputError
        One sentence: what, where, what to do.
    """
    where = headers[0].text("SeriesDescription") or headers[0].text("SeriesInstanceUID")
    where = say("series {where!r}", where=where) if where else say("series")
    _check_kind(headers, where)
    slices = [h for h in headers if "LOCALIZER" not in h.text("ImageType").upper().split("\\")]
    notes: tuple[str, ...] = ()
    if not slices:
        raise InputError("it holds only localizer pictures", where, "Choose the transverse CT series.")
    if len(slices) < len(headers):
        aside = len(headers) - len(slices)
        notes = (
            say_count(
                "{count} localizer picture of the series left out",
                "{count} localizer pictures of the series left out",
                aside,
            ),
        )
    _check_required(slices, where)
    _check_same_patient(slices, where)
    _check_same(slices, where, say("frame of reference"), lambda h: h.text("FrameOfReferenceUID"))
    _check_same(slices, where, say("image size"), lambda h: (int(h.numbers["Columns"][0]), int(h.numbers["Rows"][0])))
    _check_same(slices, where, say("pixel spacing"), lambda h: tuple(round(v, 5) for v in h.numbers["PixelSpacing"]))
    _check_same(
        slices, where, say("orientation"), lambda h: tuple(round(v, 3) + 0.0 for v in h.numbers["ImageOrientationPatient"])
    )
    _check_same(slices, where, say("patient position"), lambda h: h.text("PatientPosition"))
    if len(slices) < 2:
        raise InputError("it holds a single slice, and one slice has no known thickness", where, _EXPORT)
    _check_whole(slices, where)
    return _geometry(slices, where, patient_position, notes)


def _check_kind(headers: Sequence[Header], where: str) -> None:
    for h in headers:
        if h.text("SOPClassUID") != CT_STORAGE:
            name = UID(h.text("SOPClassUID")).name
            kind = h.text("Modality") or say("an unknown kind")
            if name.startswith("Enhanced CT"):
                what = say("it is an enhanced multi-frame CT, which is not read")
                raise InputError(what, where, "Export it as single-frame CT images.")
            raise InputError(
                say("it is not a CT series but {kind} ({name})", kind=kind, name=name), where, "Choose a CT series."
            )
        if h.text("Modality") != "CT":
            raise InputError(
                say("its modality is {modality}, not CT", modality=h.text("Modality") or say("missing")),
                where,
                "Choose a CT series.",
            )
        if (h.number("NumberOfFrames") or 1) != 1:
            raise InputError(say("{name} holds several frames", name=h.name), where, "Export it as single-frame CT images.")
        if (h.number("SamplesPerPixel") or 1) != 1:
            raise InputError(say("{name} is a colour picture, not CT numbers", name=h.name), where, "Choose a CT series.")


def _check_required(slices: Sequence[Header], where: str) -> None:
    for h in slices:
        for keyword, words in _REQUIRED_NUMBERS.items():
            if keyword not in h.numbers:
                raise InputError(say("{name} has no usable {words}", name=h.name, words=words), where, _EXPORT)
        if not h.text("FrameOfReferenceUID"):
            raise InputError(
                say("{name} has no frame of reference (0020,0052), so nothing can be placed on it", name=h.name),
                where,
                _EXPORT,
            )
        if not h.text("SOPInstanceUID"):
            raise InputError(say("{name} has no SOP instance UID (0008,0018)", name=h.name), where, _EXPORT)
        if h.number("RescaleSlope") == 0:
            raise InputError(say("{name} has a rescale slope of 0", name=h.name), where, _EXPORT)
        if h.text("RescaleType").upper() not in ("", "HU"):
            unit = h.text("RescaleType")
            raise InputError(
                say("{name} holds numbers in {unit!r}, not in Hounsfield units", name=h.name, unit=unit),
                where,
                "Choose a CT series.",
            )
        if min(h.numbers["PixelSpacing"]) <= 0:
            raise InputError(
                say("{name} has a pixel spacing of {numbers} mm", name=h.name, numbers=h.numbers["PixelSpacing"]),
                where,
                _EXPORT,
            )


def _check_same_patient(slices: Sequence[Header], where: str) -> None:
    people = Counter(h.identity for h in slices)
    if len(people) > 1:
        (a, _), (b, _) = people.most_common(2)
        first, second = (", ".join(p for p in person if p) or say("no name") for person in (a, b))
        raise InputError(
            say("its files name different patients: {first}; and {second}", first=first, second=second),
            where,
            "Find out whose images these are.",
        )


def _check_same(slices: Sequence[Header], where: str, what: str, of: Callable[[Header], object]) -> None:
    kinds = Counter(of(h) for h in slices)
    if len(kinds) > 1:
        usual = kinds.most_common(1)[0][0]
        odd = next(h for h in slices if of(h) != usual)
        raise InputError(
            say(
                "its files differ in {what}: {odd} has {this}, most have {usual}",
                what=what,
                odd=odd.name,
                this=_plain(of(odd)),
                usual=_plain(usual),
            ),
            where,
            "Export the part that belongs together as a series of its own.",
        )


def _plain(value: object) -> str:
    if isinstance(value, tuple):
        return " x ".join(f"{v:g}" for v in value)
    return str(value) or say("none")


def _check_whole(slices: Sequence[Header], where: str) -> None:
    for h in slices:
        uncompressed = not UID(h.syntax).is_compressed
        bits = h.number("BitsAllocated") or 16
        if uncompressed and h.size < h.numbers["Rows"][0] * h.numbers["Columns"][0] * bits / 8:
            raise InputError(
                say("{name} is cut off: it is shorter than its pixels", name=h.name), where, "Copy or export it again."
            )


def _geometry(slices: Sequence[Header], where: str, said_position: str, notes: tuple[str, ...]) -> Stack:
    cosines = np.array(slices[0].numbers["ImageOrientationPatient"]).reshape(2, 3)
    along_row, along_column = cosines
    if not np.allclose(np.linalg.norm(cosines, axis=1), 1.0, atol=1e-2) or abs(along_row @ along_column) > 1e-2:
        raise InputError(
            say("{name} has an orientation that is no pair of perpendicular units", name=slices[0].name), where, _EXPORT
        )
    normal = np.cross(along_row, along_column)
    positions = np.array([h.numbers["ImagePositionPatient"] for h in slices])
    order = np.argsort(positions @ normal, kind="stable")
    if normal[2] < 0:
        order = order[::-1]
    slices = [slices[i] for i in order]
    positions = positions[order]

    step = positions[-1] - positions[0]
    length = float(np.linalg.norm(step))
    oblique = bool(np.any((np.abs(cosines) > _ANGLE) & (np.abs(np.abs(cosines) - 1) > _ANGLE)))
    off_normal = float(np.linalg.norm(step - (step @ normal) * normal))
    tilt = max((abs(h.number("GantryDetectorTilt") or 0.0) for h in slices), default=0.0)
    if tilt > _TILT_DEG or off_normal > max(_SHEAR_MM, length * np.sin(np.deg2rad(_TILT_DEG))):
        shown = (
            say("{tilt:g} degrees", tilt=tilt)
            if tilt > _TILT_DEG
            else say("slices shift sideways by {off_normal:.1f} mm over the stack", off_normal=off_normal)
        )
        raise InputError(say("the gantry was tilted ({shown})", shown=shown), where, "Scan or reconstruct without tilt.")
    if oblique or abs(normal[2]) < 0.5:
        kind = say("oblique") if oblique else say("sagittal or coronal")
        raise InputError(
            say("its planes are {kind}, not transverse", kind=kind), where, "Choose or reconstruct a transverse series."
        )
    sideways = float(np.abs(positions[:, :2] - positions[0, :2]).max())
    if sideways > _SHEAR_MM:
        raise InputError(
            say("its slices are shifted sideways by up to {sideways:.1f} mm", sideways=sideways), where, _EXPORT
        )

    _check_steps(slices, positions[:, 2], where)
    return _stack(slices, cosines, positions, where, said_position, notes)


def _check_steps(slices: Sequence[Header], z: NDArray[np.float64], where: str) -> None:
    gaps = np.diff(z)
    same = np.flatnonzero(gaps < _SAME_MM)
    if same.size:
        k = int(same[0])
        raise InputError(
            say(
                "{one} and {other} lie at the same position, {z:.2f} mm",
                one=slices[k].name,
                other=slices[k + 1].name,
                z=z[k],
            ),
            where,
            "Remove the copy, or export one phase of a time series only.",
        )
    usual = float(np.median(gaps))
    wide = np.flatnonzero(gaps > _GAP * usual)
    if wide.size:
        k = int(wide[0])
        lost = max(1, round(float(gaps[k]) / usual) - 1)
        more = say(" (and {size} more such gaps)", size=wide.size - 1) if wide.size > 1 else ""
        raise InputError(
            say_count(
                "{count} slice missing between {low:.1f} and {high:.1f} mm{more}",
                "{count} slices missing between {low:.1f} and {high:.1f} mm{more}",
                lost,
                low=z[k],
                high=z[k + 1],
                more=more,
            ),
            where,
            _EXPORT,
        )
    if float(gaps.max() - gaps.min()) > _UNEVEN * usual:
        k = int(np.argmax(np.abs(gaps - usual)))
        raise InputError(
            say(
                "its slices are unevenly spaced: {gap:.3f} mm between {low:.1f} and {high:.1f} mm, "
                "elsewhere {usual:.3f} mm",
                gap=gaps[k],
                low=z[k],
                high=z[k + 1],
                usual=usual,
            ),
            where,
            "Reconstruct the series with one spacing.",
        )


def _stack(
    slices: Sequence[Header],
    cosines: NDArray[np.float64],
    positions: NDArray[np.float64],
    where: str,
    said_position: str,
    notes: tuple[str, ...],
) -> Stack:
    first = slices[0]
    rows, columns = int(first.numbers["Rows"][0]), int(first.numbers["Columns"][0])
    between_rows, between_columns = first.numbers["PixelSpacing"]
    transpose = abs(cosines[0, 0]) < 0.5
    x_way, y_way = (cosines[1, 0], cosines[0, 1]) if transpose else (cosines[0, 0], cosines[1, 1])
    nx, ny = (rows, columns) if transpose else (columns, rows)
    dx, dy = (between_rows, between_columns) if transpose else (between_columns, between_rows)
    x0 = positions[0, 0] - (0 if x_way > 0 else (nx - 1) * dx)
    y0 = positions[0, 1] - (0 if y_way > 0 else (ny - 1) * dy)
    z = positions[:, 2]
    dz = float(z[-1] - z[0]) / (len(slices) - 1)
    position = first.text("PatientPosition").upper() or said_position
    if position not in POSITIONS:
        what = (
            say("patient position {position} is not read", position=position)
            if position
            else say("the patient position (0018,5100) is missing")
        )
        raise InputError(what, where, say("Say which it is: {positions}.", positions=", ".join(POSITIONS)))
    try:
        grid = Grid((float(x0), float(y0), float(z[0])), (dx, dy, dz), (len(slices), ny, nx))
    except GeometryError as error:
        raise InputError(error.what, where, _EXPORT) from None
    return Stack(tuple(slices), grid, transpose, bool(y_way < 0), bool(x_way < 0), position, notes)
