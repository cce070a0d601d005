"""The headers of all files below a folder, read quickly and without pixels."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path

import pydicom
from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.base.progress import Report
from engine.base.words import say
from engine.dicom.common import floats_of, reading, text_of

MEDIA_DIRECTORY = "1.2.840.10008.1.3.10"

_TEXTS = (
    "SOPClassUID", "SOPInstanceUID", "SeriesInstanceUID", "StudyInstanceUID", "FrameOfReferenceUID", "Modality",
    "ImageType", "PatientName", "PatientID", "PatientBirthDate", "PatientSex", "PatientComments", "SeriesDescription",
    "StudyDescription", "StudyDate", "SeriesDate", "RescaleType", "PatientPosition", "PhotometricInterpretation",
    "Manufacturer", "ManufacturerModelName", "ConvolutionKernel", "KVP",
)  # fmt: skip
_NUMBERS = {
    "ImagePositionPatient": 3, "ImageOrientationPatient": 6, "PixelSpacing": 2, "Rows": 1, "Columns": 1,
    "GantryDetectorTilt": 1, "RescaleSlope": 1, "RescaleIntercept": 1, "NumberOfFrames": 1, "BitsAllocated": 1,
    "SamplesPerPixel": 1, "SliceThickness": 1,
}  # fmt: skip
_TAGS = [*_TEXTS, *_NUMBERS, "SpecificCharacterSet"]


@dataclass(frozen=True)
class Header:
    """One file's header: `texts` and `numbers` by DICOM keyword; a malformed number is as good as missing.

    `frame` is the number from 0 of one frame of the file (see ``frames``), None for the file as a whole.
    """

    path: str
    name: str
    size: int
    syntax: str
    texts: dict[str, str] = field(repr=False)
    numbers: dict[str, tuple[float, ...]] = field(repr=False)
    frame: int | None = None

    def text(self, keyword: str) -> str:
        """Return a text attribute, or nothing."""
        return self.texts.get(keyword, "")

    def number(self, keyword: str) -> float | None:
        """Return a single number, or None."""
        found = self.numbers.get(keyword)
        return found[0] if found else None

    @property
    def identity(self) -> tuple[str, str, str]:
        """Name, ID and birth date: what tells one patient from another."""
        return self.text("PatientName"), self.text("PatientID"), self.text("PatientBirthDate")


@dataclass(frozen=True)
class Scan:
    """What lies below a folder: headers of DICOM files, the number of other files, names of damaged DICOM files."""

    headers: tuple[Header, ...]
    others: int
    damaged: tuple[str, ...]


def scan_folder(folder: str, report: Report) -> Scan:
    """Read the headers of all DICOM files below a folder, in the order of their paths.

    Raises
    ------
    InputError
        If the folder is missing, is a file, cannot be listed, or holds no file at all.
    """
    root = Path(folder)
    if not root.exists():
        raise InputError("there is no such folder", str(root), "Check the path.")
    if not root.is_dir():
        raise InputError("this is a file, not a folder", str(root), "Choose the folder that holds the images.")
    if not os.access(root, os.R_OK | os.X_OK):
        raise InputError("the folder cannot be read", str(root), "Ask for the right to read it.")
    paths = sorted(os.path.join(base, name) for base, _, names in os.walk(root) for name in names)
    if not paths:
        raise InputError("the folder is empty", str(root), "Choose the folder that holds the images.")
    headers: list[Header] = []
    damaged: list[str] = []
    others = 0
    with reading():
        for i, path in enumerate(paths):
            if i % 10 == 0:
                report(i / len(paths), say("reading headers, {i} of {count}", i=i, count=len(paths)))
            name = os.path.relpath(path, root)
            try:
                header = read_header(path, name)
            except Exception:
                damaged.append(name)
                continue
            if header is None:
                others += 1
            else:
                headers.append(header)
    report(1.0, "")
    return Scan(tuple(headers), others, tuple(damaged))


def read_header(path: str, name: str) -> Header | None:
    """Return the header of a file, or None if it is no DICOM object (or a DICOMDIR). Use inside ``reading()``.

    A file without the 128-byte preamble is taken if it starts like a data set of group 0008 (PS3.10 7.1 asks for the
    preamble; old archives lack it).
    """
    size = os.stat(path).st_size
    if not os.path.isfile(path):
        return None
    with open(path, "rb") as stream:
        start = stream.read(132)
        bare = start[128:] != b"DICM"
        if bare and not (start[:2] == b"\x08\x00" and start[2:4] in (b"\0\0", b"\1\0", b"\5\0", b"\x08\0", b"\x16\0")):
            return None
        stream.seek(0)
        dataset = pydicom.dcmread(stream, stop_before_pixels=True, force=bare, specific_tags=list(_TAGS))
    meta = getattr(dataset, "file_meta", Dataset())
    sop_class = text_of(dataset, "SOPClassUID") or text_of(meta, "MediaStorageSOPClassUID")
    if sop_class == MEDIA_DIRECTORY:
        return None
    if bare and not sop_class:
        return None
    if not text_of(dataset, "SOPClassUID"):
        raise ValueError("the data set ends before its SOP class")
    texts = {keyword: text_of(dataset, keyword) for keyword in _TEXTS if keyword in dataset}
    numbers: dict[str, tuple[float, ...]] = {}
    for keyword, count in _NUMBERS.items():
        found = floats_of(dataset, keyword, count) if keyword in dataset else None
        if found is not None:
            numbers[keyword] = found
    texts["SOPClassUID"] = sop_class
    syntax = text_of(meta, "TransferSyntaxUID") or str(pydicom.uid.ImplicitVRLittleEndian)
    return Header(path, name, size, syntax, texts, numbers)
