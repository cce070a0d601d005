"""What the files of one series must have in common before they can be a stack of slices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from pydicom.uid import UID

from engine.base.errors import InputError
from engine.base.words import say, say_count
from engine.dicom.headers import Header

EXPORT = say("Export the whole series again from the scanner or archive.")
_SAME_MM, _GAP, _UNEVEN = 0.01, 1.5, 0.01
_PLACED = {
    "ImagePositionPatient": say("image position (0020,0032)"),
    "ImageOrientationPatient": say("image orientation (0020,0037)"),
    "PixelSpacing": say("pixel spacing (0028,0030)"),
    "Rows": say("number of rows (0028,0010)"),
    "Columns": say("number of columns (0028,0011)"),
}


def named(headers: Sequence[Header]) -> str:
    """Return what the series is called in errors."""
    name = headers[0].text("SeriesDescription") or headers[0].text("SeriesInstanceUID")
    return say("series {where!r}", where=name) if name else say("series")


def images_of(headers: Iterable[Header]) -> list[Header]:
    """Return the files that are no localizer pictures."""
    return [h for h in headers if "LOCALIZER" not in h.text("ImageType").upper().split("\\")]


def refuse_frames(header: Header, where: str) -> None:
    """Refuse a file of several frames: its places and numbers stand elsewhere, for each frame (PS3.3 C.7.6.16)."""
    name = UID(header.text("SOPClassUID")).name
    frames = int(header.number("NumberOfFrames") or 1)
    if "Enhanced" in name or frames != 1:
        what = (
            say(
                "{file} is an enhanced multi-frame object ({name}), which is no planning CT here",
                file=header.name,
                name=name,
            )
            if "Enhanced" in name
            else say("{file} holds several frames ({frames}), which is not read", file=header.name, frames=frames)
        )
        raise InputError(what, where, "Export the series from the scanner or archive as single-frame images, one a slice.")


def check_placed(header: Header, where: str, more: Mapping[str, str] | None = None) -> None:
    """Refuse a file that does not say where its pixels lie, or lacks one of the numbers in `more` (keyword -> words)."""
    for keyword, words in {**_PLACED, **(more or {})}.items():
        if keyword not in header.numbers:
            raise InputError(say("{name} has no usable {words}", name=header.name, words=words), where, EXPORT)
    if not header.text("FrameOfReferenceUID"):
        raise InputError(
            say("{name} has no frame of reference (0020,0052), so nothing can be placed on it", name=header.name),
            where,
            EXPORT,
        )
    if min(header.numbers["PixelSpacing"]) <= 0:
        raise InputError(
            say("{name} has a pixel spacing of {numbers} mm", name=header.name, numbers=header.numbers["PixelSpacing"]),
            where,
            EXPORT,
        )


def check_alike(slices: Sequence[Header], where: str) -> None:
    """Refuse files of several patients, frames of reference, sizes, spacings or orientations."""
    people = Counter(h.identity for h in slices)
    if len(people) > 1:
        (a, _), (b, _) = people.most_common(2)
        first, second = (", ".join(p for p in person if p) or say("no name") for person in (a, b))
        raise InputError(
            say("its files name different patients: {first}; and {second}", first=first, second=second),
            where,
            "Find out whose images these are.",
        )
    check_same(slices, where, say("frame of reference"), lambda h: h.text("FrameOfReferenceUID"))
    check_same(slices, where, say("image size"), lambda h: (int(h.numbers["Columns"][0]), int(h.numbers["Rows"][0])))
    check_same(slices, where, say("pixel spacing"), lambda h: _rounded(h, "PixelSpacing", 5))
    check_same(slices, where, say("orientation"), lambda h: _rounded(h, "ImageOrientationPatient", 3))


def check_same(slices: Sequence[Header], where: str, what: str, of: Callable[[Header], object]) -> None:
    """Refuse files that differ in `what`."""
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


def _rounded(header: Header, keyword: str, digits: int) -> tuple[float, ...]:
    return tuple(round(v, digits) + 0.0 for v in header.numbers[keyword])


def _plain(value: object) -> str:
    if isinstance(value, tuple):
        return " x ".join(f"{v:g}" for v in value)
    return str(value) or say("none")


def check_whole(slices: Sequence[Header], where: str) -> None:
    """Refuse files that end before their pixels do."""
    for h in slices:
        uncompressed = not UID(h.syntax).is_compressed
        bits = h.number("BitsAllocated") or 16
        if uncompressed and h.size < h.numbers["Rows"][0] * h.numbers["Columns"][0] * bits / 8:
            raise InputError(
                say("{name} is cut off: it is shorter than its pixels", name=h.name), where, "Copy or export it again."
            )


def check_steps(slices: Sequence[Header], heights_mm: NDArray[np.float64], where: str) -> None:
    """Refuse ascending slices of which two lie at one height, one is missing, or the spacing is uneven."""
    gaps = np.diff(heights_mm)
    same = np.flatnonzero(gaps < _SAME_MM)
    if same.size:
        k = int(same[0])
        raise InputError(
            say(
                "{one} and {other} lie at the same position, {z:.2f} mm",
                one=slices[k].name,
                other=slices[k + 1].name,
                z=heights_mm[k],
            ),
            where,
            "Remove the copy, or export one phase, echo or time of the series only.",
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
                low=heights_mm[k],
                high=heights_mm[k + 1],
                more=more,
            ),
            where,
            EXPORT,
        )
    if float(gaps.max() - gaps.min()) > _UNEVEN * usual:
        k = int(np.argmax(np.abs(gaps - usual)))
        raise InputError(
            say(
                "its slices are unevenly spaced: {gap:.3f} mm between {low:.1f} and {high:.1f} mm, "
                "elsewhere {usual:.3f} mm",
                gap=gaps[k],
                low=heights_mm[k],
                high=heights_mm[k + 1],
                usual=usual,
            ),
            where,
            "Reconstruct the series with one spacing.",
        )
