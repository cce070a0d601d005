"""Headers of one MR, PET or CT series -> where its slices lie as a second image: oblique planes are allowed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pydicom.uid import UID

from engine.base.errors import InputError
from engine.base.words import say
from engine.dicom.common import CT_STORAGE, MR_STORAGE, PET_STORAGE
from engine.dicom.frames import frames_of
from engine.dicom.headers import Header
from engine.dicom.one_series import (
    EXPORT,
    check_alike,
    check_placed,
    check_steps,
    check_whole,
    images_of,
    named,
    refuse_frames,
)

KINDS = {CT_STORAGE: "CT", MR_STORAGE: "MR", PET_STORAGE: "PT"}
_OFF_LINE_MM = 0.1


@dataclass(frozen=True)
class SecondStack:
    """Slices in the order of their normal; `affine` takes (column, row, plane, 1) to (x, y, z) mm, shape (3, 4)."""

    headers: tuple[Header, ...]
    affine: NDArray[np.float64]
    kind: str


def second_stack(headers: Sequence[Header]) -> SecondStack:
    """Sort the files of one series, or the frames of enhanced ones, by position along their normal (PS3.3 C.7.6.2).

    Raises
    ------
    InputError
        What keeps the series from lying over the planning CT, and what to do.
    """
    where = named(headers)
    headers = frames_of(headers, where)
    kind = _kind(headers, where)
    slices = images_of(headers)
    if len(slices) < 2:
        raise InputError("it holds fewer than two slices", where, EXPORT)
    for h in slices:
        check_placed(h, where)
    check_whole(slices, where)
    check_alike(slices, where)
    return _placed(slices, where, kind)


def _kind(headers: Sequence[Header], where: str) -> str:
    for h in headers:
        kind, name = KINDS.get(h.text("SOPClassUID")), UID(h.text("SOPClassUID")).name
        refuse_frames(h, where)
        if kind is None or kind != h.text("Modality"):
            raise InputError(
                say("it is {modality} ({name}), no MR, PET or CT images", modality=h.text("Modality") or "?", name=name),
                where,
                "Choose an MR, PET or CT series.",
            )
        if (h.number("SamplesPerPixel") or 1) != 1:
            raise InputError(say("{name} is a colour picture", name=h.name), where, "Choose an MR, PET or CT series.")
    return KINDS[headers[0].text("SOPClassUID")]


def _placed(slices: Sequence[Header], where: str, kind: str) -> SecondStack:
    along_row, along_column = np.array(slices[0].numbers["ImageOrientationPatient"]).reshape(2, 3)
    lengths = np.linalg.norm(along_row), np.linalg.norm(along_column)
    if not np.allclose(lengths, 1.0, atol=1e-2) or abs(along_row @ along_column) > 1e-2:
        raise InputError("its orientation is no pair of perpendicular units", where, EXPORT)
    between_rows, between_columns = slices[0].numbers["PixelSpacing"]
    positions = np.array([h.numbers["ImagePositionPatient"] for h in slices])
    normal = np.cross(along_row, along_column)
    order = np.argsort(positions @ normal, kind="stable")
    positions, ordered = positions[order], [slices[i] for i in order]
    check_steps(ordered, positions @ normal, where)
    step = (positions[-1] - positions[0]) / (len(ordered) - 1)
    along = positions[0] + ((positions - positions[0]) @ normal / (step @ normal))[:, None] * step
    off = float(np.abs(positions - along).max())
    if off > _OFF_LINE_MM:
        raise InputError(say("its slices do not stand in line: one is off by {off:.1f} mm", off=off), where, EXPORT)
    affine = np.column_stack([along_row * between_columns, along_column * between_rows, step, positions[0]])
    return SecondStack(tuple(ordered), affine, kind)
