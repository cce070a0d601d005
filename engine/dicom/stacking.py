"""Headers of one series -> an axis-aligned stack of slices, or one plain sentence why not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pydicom.uid import UID

from engine.base.errors import GeometryError, InputError
from engine.base.words import say, say_count
from engine.dicom.common import CT_STORAGE
from engine.dicom.headers import Header
from engine.dicom.one_series import (
    EXPORT,
    check_alike,
    check_placed,
    check_same,
    check_steps,
    check_whole,
    images_of,
    named,
    refuse_frames,
)
from engine.space.frames import POSITIONS
from engine.space.grid import Grid

_ANGLE = 1e-3  # sine of the largest angle taken as aligned: 0.06 degrees, half a millimetre at the edge of a 500 mm field
_TILT_DEG = 0.1
_SHEAR_MM = 0.1
_RESCALED = {
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
    where = named(headers)
    _check_kind(headers, where)
    slices = images_of(headers)
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
    check_alike(slices, where)
    check_same(slices, where, say("patient position"), lambda h: h.text("PatientPosition"))
    if len(slices) < 2:
        raise InputError("it holds a single slice, and one slice has no known thickness", where, EXPORT)
    check_whole(slices, where)
    return _geometry(slices, where, patient_position, notes)


def _check_kind(headers: Sequence[Header], where: str) -> None:
    for h in headers:
        if h.text("SOPClassUID") != CT_STORAGE:
            name = UID(h.text("SOPClassUID")).name
            kind = h.text("Modality") or say("an unknown kind")
            if "Enhanced CT" in name:
                refuse_frames(h, where)
            raise InputError(
                say("it is not a CT series but {kind} ({name})", kind=kind, name=name), where, "Choose a CT series."
            )
        if h.text("Modality") != "CT":
            raise InputError(
                say("its modality is {modality}, not CT", modality=h.text("Modality") or say("missing")),
                where,
                "Choose a CT series.",
            )
        refuse_frames(h, where)
        if (h.number("SamplesPerPixel") or 1) != 1:
            raise InputError(say("{name} is a colour picture, not CT numbers", name=h.name), where, "Choose a CT series.")


def _check_required(slices: Sequence[Header], where: str) -> None:
    for h in slices:
        check_placed(h, where, _RESCALED)
        if not h.text("SOPInstanceUID"):
            raise InputError(say("{name} has no SOP instance UID (0008,0018)", name=h.name), where, EXPORT)
        if h.number("RescaleSlope") == 0:
            raise InputError(say("{name} has a rescale slope of 0", name=h.name), where, EXPORT)
        if h.text("RescaleType").upper() not in ("", "HU"):
            unit = h.text("RescaleType")
            raise InputError(
                say("{name} holds numbers in {unit!r}, not in Hounsfield units", name=h.name, unit=unit),
                where,
                "Choose a CT series.",
            )


def _geometry(slices: Sequence[Header], where: str, said_position: str, notes: tuple[str, ...]) -> Stack:
    cosines = np.array(slices[0].numbers["ImageOrientationPatient"]).reshape(2, 3)
    along_row, along_column = cosines
    if not np.allclose(np.linalg.norm(cosines, axis=1), 1.0, atol=1e-2) or abs(along_row @ along_column) > 1e-2:
        raise InputError(
            say("{name} has an orientation that is no pair of perpendicular units", name=slices[0].name), where, EXPORT
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
            say("its slices are shifted sideways by up to {sideways:.1f} mm", sideways=sideways), where, EXPORT
        )

    check_steps(slices, positions[:, 2], where)
    return _stack(slices, cosines, positions, where, said_position, notes)


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
        raise InputError(error.what, where, EXPORT) from None
    return Stack(tuple(slices), grid, transpose, bool(y_way < 0), bool(x_way < 0), position, notes)
