"""Headers of one MR, PET or CT series -> where its slices lie as a second image: oblique planes are allowed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from pydicom.uid import UID

from engine.base.errors import InputError
from engine.base.words import say, say_count
from engine.dicom.common import CT_STORAGE
from engine.dicom.headers import Header

MR_STORAGE = "1.2.840.10008.5.1.4.1.1.4"
PET_STORAGE = "1.2.840.10008.5.1.4.1.1.128"
KINDS = {CT_STORAGE: "CT", MR_STORAGE: "MR", PET_STORAGE: "PT"}
_OFF_LINE_MM, _SAME_MM, _GAP, _UNEVEN = 0.1, 0.01, 1.5, 0.01
_EXPORT = say("Export the whole series again from the scanner or archive.")
_NEEDED = {
    "ImagePositionPatient": say("image position (0020,0032)"),
    "ImageOrientationPatient": say("image orientation (0020,0037)"),
    "PixelSpacing": say("pixel spacing (0028,0030)"),
    "Rows": say("number of rows (0028,0010)"),
    "Columns": say("number of columns (0028,0011)"),
}


@dataclass(frozen=True)
class SecondStack:
    """Slices in the order of their normal; `affine` takes (column, row, plane, 1) to (x, y, z) mm, shape (3, 4)."""

    headers: tuple[Header, ...]
    affine: NDArray[np.float64]
    kind: str


def second_stack(headers: Sequence[Header]) -> SecondStack:
    """Sort the files of one series by position along their normal (PS3.3 C.7.6.2).

    Raises
    ------
    InputError
        What keeps the series from lying over the planning CT, and what to do.
    """
    where = say("series {where!r}", where=headers[0].text("SeriesDescription") or headers[0].text("SeriesInstanceUID"))
    kind = _kind(headers, where)
    slices = [h for h in headers if "LOCALIZER" not in h.text("ImageType").upper().split("\\")]
    if len(slices) < 2:
        raise InputError("it holds fewer than two slices", where, _EXPORT)
    for h in slices:
        for keyword, words in _NEEDED.items():
            if keyword not in h.numbers:
                raise InputError(say("{name} has no usable {words}", name=h.name, words=words), where, _EXPORT)
        if not h.text("FrameOfReferenceUID"):
            raise InputError(
                say("{name} has no frame of reference (0020,0052), so nothing can be placed on it", name=h.name),
                where,
                _EXPORT,
            )
        whole = UID(h.syntax).is_compressed or h.size >= (
            h.numbers["Rows"][0] * h.numbers["Columns"][0] * (h.number("BitsAllocated") or 16) / 8
        )
        if not whole:
            raise InputError(
                say("{name} is cut off: it is shorter than its pixels", name=h.name), where, "Copy or export it again."
            )
    _one(slices, where, say("patient"), [h.identity for h in slices])
    _one(slices, where, say("frame of reference"), [h.text("FrameOfReferenceUID") for h in slices])
    _one(slices, where, say("image size"), [(h.number("Columns"), h.number("Rows")) for h in slices])
    _one(slices, where, say("pixel spacing"), [_rounded(h, "PixelSpacing", 5) for h in slices])
    _one(slices, where, say("orientation"), [_rounded(h, "ImageOrientationPatient", 3) for h in slices])
    return _placed(slices, where, kind)


def _kind(headers: Sequence[Header], where: str) -> str:
    for h in headers:
        kind, name = KINDS.get(h.text("SOPClassUID")), UID(h.text("SOPClassUID")).name
        if name.startswith("Enhanced") or (h.number("NumberOfFrames") or 1) != 1:
            raise InputError("its files hold several frames each, which is not read", where, "Export single-frame images.")
        if kind is None or kind != h.text("Modality"):
            raise InputError(
                say("it is {modality} ({name}), no MR, PET or CT images", modality=h.text("Modality") or "?", name=name),
                where,
                "Choose an MR, PET or CT series.",
            )
        if (h.number("SamplesPerPixel") or 1) != 1:
            raise InputError(say("{name} is a colour picture", name=h.name), where, "Choose an MR, PET or CT series.")
    return KINDS[headers[0].text("SOPClassUID")]


def _rounded(header: Header, keyword: str, digits: int) -> tuple[float, ...]:
    return tuple(round(v, digits) + 0.0 for v in header.numbers[keyword])


def _one(slices: Sequence[Header], where: str, what: str, kinds: Sequence[object]) -> None:
    counts = Counter(kinds)
    if len(counts) > 1:
        usual = counts.most_common(1)[0][0]
        odd = next(h for h, k in zip(slices, kinds, strict=True) if k != usual)
        raise InputError(
            say("its files differ in {what}, for one {odd} from most", what=what, odd=odd.name),
            where,
            "Export the part that belongs together as a series of its own.",
        )


def _placed(slices: Sequence[Header], where: str, kind: str) -> SecondStack:
    along_row, along_column = np.array(slices[0].numbers["ImageOrientationPatient"]).reshape(2, 3)
    lengths = np.linalg.norm(along_row), np.linalg.norm(along_column)
    if not np.allclose(lengths, 1.0, atol=1e-2) or abs(along_row @ along_column) > 1e-2:
        raise InputError("its orientation is no pair of perpendicular units", where, _EXPORT)
    between_rows, between_columns = slices[0].numbers["PixelSpacing"]
    if min(between_rows, between_columns) <= 0:
        raise InputError("its pixel spacing is not positive", where, _EXPORT)
    positions = np.array([h.numbers["ImagePositionPatient"] for h in slices])
    normal = np.cross(along_row, along_column)
    order = np.argsort(positions @ normal, kind="stable")
    positions, ordered = positions[order], [slices[i] for i in order]
    _check_steps(ordered, positions @ normal, where)
    step = (positions[-1] - positions[0]) / (len(ordered) - 1)
    along = positions[0] + ((positions - positions[0]) @ normal / (step @ normal))[:, None] * step
    off = float(np.abs(positions - along).max())
    if off > _OFF_LINE_MM:
        raise InputError(say("its slices do not stand in line: one is off by {off:.1f} mm", off=off), where, _EXPORT)
    affine = np.column_stack([along_row * between_columns, along_column * between_rows, step, positions[0]])
    return SecondStack(tuple(ordered), affine, kind)


def _check_steps(slices: Sequence[Header], heights: NDArray[np.float64], where: str) -> None:
    gaps = np.diff(heights)
    usual = float(np.median(gaps))
    k = int(np.argmin(gaps))
    if gaps[k] < _SAME_MM:
        raise InputError(
            say("{one} and {other} lie at the same position", one=slices[k].name, other=slices[k + 1].name),
            where,
            "Export one phase, echo or time of the series only.",
        )
    k = int(np.argmax(np.abs(gaps - usual)))
    if gaps[k] > _GAP * usual:
        raise InputError(
            say_count(
                "{count} slice missing between {low} and {high}",
                "{count} slices missing between {low} and {high}",
                max(1, round(float(gaps[k]) / usual) - 1),
                low=slices[k].name,
                high=slices[k + 1].name,
            ),
            where,
            _EXPORT,
        )
    if abs(gaps[k] - usual) > _UNEVEN * usual:
        raise InputError(
            say("its slices are unevenly spaced: {gap:.3f} mm, elsewhere {usual:.3f} mm", gap=gaps[k], usual=usual),
            where,
            "Reconstruct the series with one spacing.",
        )
