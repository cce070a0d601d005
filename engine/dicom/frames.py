"""Enhanced multi-frame objects taken apart: a header for each frame, as if it were a file of its own (PS3.3 C.7.6.16)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pydicom
from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.base.words import say
from engine.dicom.common import CT_STORAGE, MR_STORAGE, PET_STORAGE, first_line, floats_of, reading
from engine.dicom.headers import Header

# The enhanced and the legacy converted enhanced storage of each kind -> that of single frames.
SINGLE = {
    "1.2.840.10008.5.1.4.1.1.2.1": CT_STORAGE,
    "1.2.840.10008.5.1.4.1.1.2.2": CT_STORAGE,
    "1.2.840.10008.5.1.4.1.1.4.1": MR_STORAGE,
    "1.2.840.10008.5.1.4.1.1.4.4": MR_STORAGE,
    "1.2.840.10008.5.1.4.1.1.130": PET_STORAGE,
    "1.2.840.10008.5.1.4.1.1.128.1": PET_STORAGE,
}
# Functional group -> what of it a header holds, and how many numbers that is.
_GROUPS = {
    "PlanePositionSequence": {"ImagePositionPatient": 3},
    "PlaneOrientationSequence": {"ImageOrientationPatient": 6},
    "PixelMeasuresSequence": {"PixelSpacing": 2, "SliceThickness": 1},
    "PixelValueTransformationSequence": {"RescaleSlope": 1, "RescaleIntercept": 1},
}
_TAGS = ["SharedFunctionalGroupsSequence", "PerFrameFunctionalGroupsSequence", "NumberOfFrames"]


def frames_of(headers: Sequence[Header], where: str) -> list[Header]:
    """Return the headers with each enhanced multi-frame object replaced by those of its frames.

    A frame's header has the place, spacing and rescale of its own functional groups, else the shared ones; its number
    from 0 is its ``frame``.

    Raises
    ------
    InputError
        If the functional groups cannot be read or are not one for each frame.
    """
    out: list[Header] = []
    for header in headers:
        if header.text("SOPClassUID") in SINGLE:
            out += _taken_apart(header, where)
        else:
            out.append(header)
    return out


def _taken_apart(header: Header, where: str) -> list[Header]:
    try:
        with reading():
            dataset = pydicom.dcmread(header.path, stop_before_pixels=True, force=True, specific_tags=list(_TAGS))
            shared = _numbers(next(iter(dataset.get("SharedFunctionalGroupsSequence") or ()), Dataset()))
            each = [_numbers(item) for item in dataset.get("PerFrameFunctionalGroupsSequence") or ()]
    except Exception as error:
        raise InputError(
            say("the places of its frames cannot be read ({error})", error=first_line(error)),
            header.name,
            "Copy or export it again.",
        ) from None
    frames = int(header.number("NumberOfFrames") or 0)
    if not each or len(each) != frames:
        raise InputError(
            say(
                "{name} says it has {frames} frames and describes {count}", name=header.name, frames=frames, count=len(each)
            ),
            where,
            "Export the series again, or as single-frame images.",
        )
    single = {**header.texts, "SOPClassUID": SINGLE[header.text("SOPClassUID")]}
    common = {k: v for k, v in header.numbers.items() if k != "NumberOfFrames"}
    return [
        replace(
            header,
            name=say("{name}, frame {number}", name=header.name, number=k + 1),
            size=header.size // frames,
            texts=single,
            numbers={**common, **shared, **own},
            frame=k,
        )
        for k, own in enumerate(each)
    ]


def _numbers(groups: Dataset) -> dict[str, tuple[float, ...]]:
    found = {}
    for sequence, keywords in _GROUPS.items():
        for item in groups.get(sequence) or ():
            for keyword, count in keywords.items():
                numbers = floats_of(item, keyword, count) if keyword in item else None
                if numbers is not None:
                    found[keyword] = numbers
    return found
