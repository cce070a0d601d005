"""CT series: what lies in a folder, and one of them opened as an image."""

from __future__ import annotations

import os
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass

import numpy as np
import pydicom
from numpy.typing import NDArray
from pydicom.dataset import Dataset
from pydicom.pixels.decoders.base import get_decoder
from pydicom.uid import UID

from engine.base.errors import InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value, own_array
from engine.base.words import listed, say
from engine.case.case import Patient
from engine.dicom.common import SYNTHETIC, first_line, float_of, reading
from engine.dicom.headers import Header, Scan, scan_folder
from engine.dicom.second_stack import second_stack
from engine.dicom.stacking import Stack, stack_of
from engine.image.ct import CtImage

AIR_HU = -1000
_LEAST_PADDING_TISSUE_HU, _MOST_PADDING_TISSUE_HU = -900, 3000
_FACTS = (
    ("manufacturer", "Manufacturer"),
    ("model", "ManufacturerModelName"),
    ("kVp", "KVP"),
    ("kernel", "ConvolutionKernel"),
    ("study date", "StudyDate"),
    ("study description", "StudyDescription"),
)


@dataclass(frozen=True, eq=False)
class FindSeries(Value):
    """Ask for the series below a folder."""

    folder: str


@dataclass(frozen=True, eq=False)
class SeriesFound(Value):
    """One series below a folder.

    Parameters
    ----------
    uid, modality, description : DICOM series
    patient_name, patient_id, study_date : as in its first file; empty where empty
    files : how many
    problem : empty if the series can be opened as a CT image, else the plain reason
    note : what a person should know all the same
    over_problem : empty if it can be laid over a planning CT as a second image, else the plain reason
    frame_of_reference_uid : what its coordinates are measured in
    paths : the files, absolute
    """

    uid: str
    modality: str
    description: str
    patient_name: str
    patient_id: str
    study_date: str
    files: int
    problem: str = ""
    note: str = ""
    frame_of_reference_uid: str = ""
    paths: tuple[str, ...] = ()
    over_problem: str = ""

    @property
    def usable(self) -> bool:
        """Whether it can be opened as a CT image."""
        return not self.problem


@dataclass(frozen=True, eq=False)
class SeriesList(Value):
    """All series below a folder, usable ones first; how many files are no DICOM, which DICOM files are damaged."""

    folder: str
    series: tuple[SeriesFound, ...]
    other_files: int = 0
    damaged: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class OpenSeries(Value):
    """Ask for one series as an image. An empty `series_uid` means the only usable one.

    `patient_position` is what a person says where the files are silent; it never overrules them.
    """

    folder: str
    series_uid: str = ""
    patient_position: str = ""


@dataclass(frozen=True, eq=False)
class Opened(Value):
    """A CT series as values, with what a person should know about it."""

    patient: Patient
    image: CtImage
    notes: tuple[str, ...] = ()


def find_series(request: FindSeries, report: Report = quiet) -> SeriesList:
    """List the series below a folder, reading headers only.

    Raises
    ------
    InputError
        If the folder is missing, empty or no folder.
    """
    scan = scan_folder(request.folder, report)
    found = [_found(group, scan) for group in _groups(scan).values()]
    found.sort(key=lambda s: (not s.usable, s.modality != "CT", -s.files, s.uid))
    return SeriesList(request.folder, tuple(found), scan.others, scan.damaged)


def open_series(request: OpenSeries, report: Report = quiet) -> Opened:
    """Read one CT series into an image whose x, y and z ascend.

    Raises
    ------
    InputError
        If the series is not there, or is refused: one sentence says what, where and what to do.
    """
    scan = scan_folder(request.folder, part(report, 0.0, 0.2))
    stack = _stack(_chosen(scan, request), scan, request.patient_position)
    check_decoders((h.syntax for h in stack.headers), stack.headers[0].name)
    hu = np.empty(stack.grid.shape, dtype=np.int16)
    with reading():
        odd_padding = _decode(stack, hu, part(report, 0.2, 1.0))
    first = stack.headers[0]
    facts = [(name, first.text(keyword)) for name, keyword in _FACTS]
    image = CtImage(
        own_array(hu),
        stack.grid,
        stack.patient_position,
        first.text("FrameOfReferenceUID"),
        first.text("StudyInstanceUID"),
        first.text("SeriesInstanceUID"),
        tuple(h.text("SOPInstanceUID") for h in stack.headers),
        first.text("SeriesDescription"),
        tuple((name, value) for name, value in facts if value),
    )
    rescales = {(h.number("RescaleSlope"), h.number("RescaleIntercept")) for h in stack.headers}
    notes = (
        *stack.notes,
        *((say("slices carry different rescales; each got its own"),) if len(rescales) > 1 else ()),
        *(
            (say("the padding value stands for {odd_padding} HU, which is tissue; left as it is", odd_padding=odd_padding),)
            if odd_padding
            else ()
        ),
    )
    return Opened(patient_of(first), image, notes)


def patient_of(header: Header) -> Patient:
    """Return the patient of a header; nothing is invented."""
    name, patient_id, birth_date = header.identity
    synthetic = header.text("PatientComments").startswith(SYNTHETIC)
    return Patient(name, patient_id, birth_date, header.text("PatientSex"), synthetic)


def _groups(scan: Scan) -> dict[str, list[Header]]:
    groups: dict[str, list[Header]] = {}
    for header in scan.headers:
        groups.setdefault(header.text("SeriesInstanceUID"), []).append(header)
    return groups


def _stack(group: list[Header], scan: Scan, patient_position: str = "") -> Stack:
    """Return the stack of a series, unless a damaged file beside it may be a lost slice at either end."""
    stack = stack_of(group, patient_position)
    folders = {os.path.dirname(h.name) for h in group}
    lost = [name for name in scan.damaged if os.path.dirname(name) in folders]
    if lost:
        more = say(" and {count} more", count=len(lost) - 1) if len(lost) > 1 else ""
        raise InputError(
            say("{lost}{more} beside it is damaged and may be one of its slices", lost=lost[0], more=more),
            group[0].text("SeriesDescription"),
            "Copy or export the series again, or move that file away if it does not belong to it.",
        )
    return stack


def _found(group: list[Header], scan: Scan) -> SeriesFound:
    first, problem, note = group[0], "", ""
    try:
        if not first.text("SeriesInstanceUID"):
            raise InputError("its files carry no series UID (0020,000E)", do="Export them again.")
        note = listed(_stack(group, scan).notes, "; ")
    except UserError as error:
        problem = say("{reason}", reason=UserError(error.what, do=error.do))
    try:
        over_problem = ""
        second_stack(group)
    except UserError as error:
        over_problem = say("{reason}", reason=UserError(error.what, do=error.do))
    return SeriesFound(
        first.text("SeriesInstanceUID"),
        first.text("Modality"),
        first.text("SeriesDescription"),
        first.text("PatientName"),
        first.text("PatientID"),
        first.text("StudyDate"),
        len(group),
        problem,
        note,
        first.text("FrameOfReferenceUID"),
        tuple(os.path.abspath(h.path) for h in group),
        over_problem,
    )


def _chosen(scan: Scan, request: OpenSeries) -> list[Header]:
    groups = _groups(scan)
    if request.series_uid:
        if request.series_uid not in groups:
            raise InputError(
                say("there is no series {series_uid}", series_uid=request.series_uid),
                request.folder,
                "Choose one of the series found there.",
            )
        return groups[request.series_uid]
    found = [_found(g, scan) for g in groups.values()]
    usable = [s.uid for s in found if s.usable]
    if len(usable) == 1:
        return groups[usable[0]]
    if usable:
        raise InputError(
            say("there are {count} usable CT series", count=len(usable)), request.folder, "Say which one by its series UID."
        )
    scans = [s for s in found if s.modality == "CT"]
    if len(scans) == 1 and scans[0].uid:
        return groups[scans[0].uid]
    said = (
        say(": {problem}", problem=scans[0].problem)
        if scans
        else say(", only {count} other DICOM files", count=len(scan.headers))
        if found
        else ""
    )
    damaged = say(" ({count} damaged)", count=len(scan.damaged)) if scan.damaged else ""
    raise InputError(
        say("there is no usable CT series{said}{damaged}", said=said, damaged=damaged),
        request.folder,
        "Choose the folder of a CT scan.",
    )


def check_decoders(syntaxes: Iterable[str], name: str) -> None:
    """Refuse transfer syntaxes that cannot be read here, in words; `name` is a file that has one."""
    for syntax in sorted(set(syntaxes)):
        uid = UID(syntax)
        if not uid.is_transfer_syntax:
            raise InputError(say("transfer syntax {syntax} is not known", syntax=syntax), name, "Export it uncompressed.")
        if not uid.is_compressed:
            continue
        try:
            available = get_decoder(uid).is_available
        except NotImplementedError:
            raise InputError(say("pixels in {uid} cannot be read", uid=uid.name), name, "Export it uncompressed.") from None
        if not available:
            do = say('Install the decoders with pip install "halfshade[codecs]", or export the series uncompressed.')
            raise InputError(say("pixels are compressed as {uid} and no decoder is installed", uid=uid.name), name, do)


def _decode(stack: Stack, hu: NDArray[np.int16], report: Report) -> str:
    """Fill `hu`; return the CT number of a padding value that cannot be padding, or nothing."""
    n = len(stack.headers)
    odd = ""
    with ThreadPoolExecutor(max_workers=min(4, os.cpu_count() or 1)) as pool:
        jobs = [pool.submit(_slice, stack, k, hu) for k in range(n)]
        try:
            for done, job in enumerate(as_completed(jobs), 1):
                odd = job.result() or odd
                report(done / n, say("reading slices, {done} of {n}", done=done, n=n))
        except BaseException:
            for job in jobs:
                job.cancel()
            raise
    return odd


def _slice(stack: Stack, k: int, hu: NDArray[np.int16]) -> str:
    header = stack.headers[k]
    try:
        dataset = pydicom.dcmread(header.path, force=True)
        stored = dataset.pixel_array
        numbers, odd = hounsfield(dataset, stored)
        hu[k] = stack.turned(numbers)
    except UserError:
        raise
    except Exception as error:
        raise InputError(
            say("the pixels cannot be read, the file is cut off or damaged ({error})", error=first_line(error)),
            header.name,
            "Copy or export it again.",
        ) from None
    return odd


def hounsfield(dataset: Dataset, stored: NDArray[np.integer]) -> tuple[NDArray[np.int16], str]:
    """Return CT numbers of stored pixels: slope x stored + intercept, rounded and clipped to int16 (PS3.3 C.11.1).

    Padding (PS3.3 C.7.5.1.1.2) becomes -1000, unless its value stands for tissue: some files name a value that is not
    padding at all, and turning soft tissue into air would be worse. Bits above Bits Stored are not part of the pixel.

    Returns
    -------
    hu, odd : int16 of the same shape; the CT number of an implausible padding value as text, or ""
    """
    bits, stored_bits = int(dataset.BitsAllocated), int(dataset.BitsStored)
    if bits not in (8, 16, 32) or not 1 <= stored_bits <= bits or int(dataset.HighBit) != stored_bits - 1:
        raise ValueError(f"{stored_bits} of {bits} bits with high bit {dataset.HighBit}")
    signed = bool(dataset.PixelRepresentation)
    spare = stored.dtype.itemsize * 8 - stored_bits
    wide: NDArray[np.signedinteger] = stored.astype(np.int64 if bits == 32 else np.int32)
    if spare:
        wide &= (1 << stored_bits) - 1
        if signed:
            wide[wide >= 1 << (stored_bits - 1)] -= 1 << stored_bits
    slope, intercept = float(dataset.RescaleSlope), float(dataset.RescaleIntercept)
    padding = _padding(dataset, signed, stored_bits)
    pad_mask, odd = None, ""
    if padding is not None:
        lo, hi = padding
        ends = sorted(slope * v + intercept for v in padding)
        if ends[1] > _LEAST_PADDING_TISSUE_HU and ends[0] < _MOST_PADDING_TISSUE_HU:
            odd = f"{ends[0]:g}"
        else:
            pad_mask = (wide >= lo) & (wide <= hi)
    if slope == 1.0 and intercept == int(intercept):
        wide += int(intercept)
        exact: NDArray[np.generic] = wide
    else:
        exact = np.rint(wide * slope + intercept)
    out = np.clip(exact, -32768, 32767).astype(np.int16)
    if pad_mask is not None:
        out[pad_mask] = AIR_HU
    return out, odd


def _padding(dataset: Dataset, signed: bool, stored_bits: int) -> tuple[int, int] | None:
    values = [float_of(dataset, k) for k in ("PixelPaddingValue", "PixelPaddingRangeLimit")]
    found = [int(v) for v in values if v is not None]
    if values[0] is None:
        return None
    if signed:
        found = [v - 65536 if v > 32767 else v for v in found]
    return min(found), max(found)


def notes_of(found: Iterable[SeriesFound]) -> tuple[str, ...]:
    """Return one line per series that cannot be used, for logs and the command line."""
    return tuple(
        say(
            "{modality} {description}: {problem}",
            modality=s.modality or "?",
            description=s.description or s.uid,
            problem=s.problem,
        )
        for s in found
        if s.problem
    )
