"""What every DICOM file has in common: identifiers, validation contexts, text and number forms, reading and saving."""

from __future__ import annotations

import hashlib
import math
import os
import re
import uuid
import warnings
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pydicom
from pydicom import config
from pydicom.dataelem import RawDataElement
from pydicom.dataset import Dataset, FileDataset, FileMetaDataset
from pydicom.uid import ExplicitVRLittleEndian, ImplicitVRLittleEndian
from pydicom.valuerep import format_number_as_ds

from engine import __version__
from engine.base.errors import InputError, UserError
from engine.base.words import say
from engine.case.case import Patient

FILE_LAYOUT = 1
"""Raised when the writers put other content under the same inputs: it enters every identifier."""

SYNTHETIC = "Synthetic demonstration patient, not a real person"
CAUTION = "Halfshade: research and education; not a medical device; qualified staff and local rules decide"
CT_STORAGE = "1.2.840.10008.5.1.4.1.1.2"
MR_STORAGE = "1.2.840.10008.5.1.4.1.1.4"
PET_STORAGE = "1.2.840.10008.5.1.4.1.1.128"
DOSE_STORAGE = "1.2.840.10008.5.1.4.1.1.481.2"
STRUCTURES_STORAGE = "1.2.840.10008.5.1.4.1.1.481.3"
PLAN_STORAGE = "1.2.840.10008.5.1.4.1.1.481.5"


def uid_of(*parts: str) -> str:
    """Return the same identifier for the same parts: 2.25 and a name-based UUID as a number (PS3.5 B.2)."""
    digest = hashlib.sha256("\x1f".join(("halfshade", str(FILE_LAYOUT), *parts)).encode()).digest()
    return f"2.25.{uuid.UUID(bytes=digest[:16], version=5).int}"


IMPLEMENTATION_UID = uid_of("implementation")


@contextmanager
def reading() -> Iterator[None]:
    """Let odd values pass while reading: what is used is checked by hand, what is not used is nobody's trouble."""
    before = config.settings.reading_validation_mode
    config.settings.reading_validation_mode = config.IGNORE
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            yield
    finally:
        config.settings.reading_validation_mode = before


@contextmanager
def writing() -> Iterator[None]:
    """Refuse any value that the standard forbids while writing; also a decorator.

    Raises
    ------
    InputError
        With the value in words.
    """
    before = config.settings.reading_validation_mode, config.settings.writing_validation_mode
    # An element made by assignment is judged by the reading mode, so both are set.
    config.settings.reading_validation_mode = config.settings.writing_validation_mode = config.RAISE
    try:
        yield
    except ValueError as error:
        raise InputError(
            say("a value cannot be written to DICOM ({error})", error=str(error)), do="Correct the value."
        ) from None
    finally:
        config.settings.reading_validation_mode, config.settings.writing_validation_mode = before


def ds_text(value: float) -> str:
    """Return a decimal string of at most 16 characters, as close to `value` as that allows (PS3.5 6.2, DS)."""
    value = float(value)
    if not math.isfinite(value):
        raise InputError(say("{value} cannot be written as a decimal string", value=value), do="Correct the number.")
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    return str(format_number_as_ds(value))


def ds_texts(values: Iterable[float]) -> list[str]:
    """Return decimal strings of several numbers."""
    return [ds_text(v) for v in values]


def da_text(date: str, what: str = "date") -> str:
    """Return a DICOM date (YYYYMMDD) of a date in that form or as YYYY-MM-DD; empty stays empty."""
    text = date.strip().replace("-", "")
    if text and not (re.fullmatch(r"\d{8}", text) and 1 <= int(text[4:6]) <= 12 and 1 <= int(text[6:]) <= 31):
        raise InputError(say("{date!r} is not a date", date=date), what, "Give it as YYYY-MM-DD.")
    return text


def date_and_time(moment: str, what: str) -> tuple[str, str]:
    """Return DICOM date and time of an ISO moment such as 2026-03-01T14:05:00+01:00 (PS3.5 6.2, DA and TM)."""
    day, _, clock = moment.strip().replace(" ", "T").partition("T")
    found = re.match(r"(\d\d):?(\d\d):?(\d\d)?", clock)
    if not day or found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise InputError(say("{moment!r} is not a date and time", moment=moment), what, "Give it as YYYY-MM-DDTHH:MM:SS.")
    return da_text(day, what), f"{found[1]}{found[2]}{found[3] or '00'}"


def pn_text(name: str, what: str) -> str:
    """Return a person name that the standard allows (PS3.5 6.2, PN)."""
    name = name.strip()
    groups = name.split("=")
    if "\\" in name or any(ord(c) < 32 for c in name) or len(groups) > 3 or any(len(g) > 64 for g in groups):
        raise InputError(
            say("{name!r} cannot be written as a person name", name=name),
            what,
            "Use at most 64 characters and no backslash.",
        )
    return name


def short(text: str, limit: int) -> str:
    """Return text that fits a DICOM string of `limit` characters: no backslash, no control characters."""
    clean = "".join(c if ord(c) >= 32 and c != "\\" else " " for c in text).strip()
    return clean[:limit].rstrip()


def new_file(sop_class: str, sop_uid: str, implicit: bool = False) -> FileDataset:
    """Return an empty file with its meta information and SOP Common Module (PS3.10 7.1, PS3.3 C.12.1)."""
    meta = FileMetaDataset()
    meta.MediaStorageSOPClassUID = sop_class  # type: ignore[assignment]
    meta.MediaStorageSOPInstanceUID = sop_uid  # type: ignore[assignment]
    meta.TransferSyntaxUID = ImplicitVRLittleEndian if implicit else ExplicitVRLittleEndian
    meta.ImplementationClassUID = IMPLEMENTATION_UID  # type: ignore[assignment]
    meta.ImplementationVersionName = short(f"HALFSHADE_{__version__}", 16)
    dataset = FileDataset(None, {}, file_meta=meta, preamble=b"\0" * 128)  # type: ignore[arg-type]
    dataset.SpecificCharacterSet = "ISO_IR 192"
    dataset.SOPClassUID = sop_class
    dataset.SOPInstanceUID = sop_uid
    return dataset


def add_patient_and_study(dataset: Dataset, patient: Patient, study_uid: str, study_date: str = "") -> None:
    """Fill the Patient, General Study and General Equipment Modules (PS3.3 C.7.1.1, C.7.2.1, C.7.5.1)."""
    dataset.PatientName = pn_text(patient.name, say("patient's name"))
    dataset.PatientID = short(patient.patient_id, 64)
    dataset.PatientBirthDate = da_text(patient.birth_date, say("birth date"))
    dataset.PatientSex = patient.sex if patient.sex in ("M", "F", "O") else ""
    if patient.synthetic:
        dataset.PatientComments = SYNTHETIC
    dataset.StudyInstanceUID = study_uid
    dataset.StudyDate = da_text(study_date, say("study date"))
    dataset.StudyTime = ""
    dataset.ReferringPhysicianName = ""
    dataset.StudyID = ""
    dataset.AccessionNumber = ""
    dataset.Manufacturer = "Halfshade"
    dataset.ManufacturerModelName = "Halfshade"
    dataset.SoftwareVersions = __version__


def patient_in(dataset: Dataset) -> Patient:
    """Return the patient of a data set; nothing is invented."""
    name, number, born, sex = (text_of(dataset, k) for k in ("PatientName", "PatientID", "PatientBirthDate", "PatientSex"))
    return Patient(name, number, born, sex, text_of(dataset, "PatientComments").startswith(SYNTHETIC))


def study_date(scanner: tuple[tuple[str, str], ...]) -> str:
    """Return the study date an image remembers among its scanner facts, or nothing."""
    return dict(scanner).get("study date", "")


def text_of(dataset: Dataset, keyword: str) -> str:
    """Return a text attribute without padding, or nothing; several values are joined by a backslash."""
    try:
        value = dataset.get(keyword)
    except Exception:
        return ""
    if value is None:
        return ""
    if isinstance(value, (list, tuple)) or type(value).__name__ == "MultiValue":
        return "\\".join(str(v) for v in value).strip()
    return str(value).strip(" \0")


def floats_of(dataset: Dataset, keyword: str, count: int | None = None) -> tuple[float, ...] | None:
    """Return a numeric attribute as finite floats, or None if it is missing, empty, malformed or of another length."""
    try:
        value = dataset.get(keyword)
        if value is None or value == "":
            return None
        many = value if isinstance(value, (list, tuple)) or type(value).__name__ == "MultiValue" else (value,)
        numbers = tuple(float(v) for v in many)
    except Exception:
        return None
    if (count is not None and len(numbers) != count) or not all(math.isfinite(v) for v in numbers):
        return None
    return numbers


def float_of(dataset: Dataset, keyword: str) -> float | None:
    """Return a single numeric attribute, or None."""
    found = floats_of(dataset, keyword, 1)
    return None if found is None else found[0]


def read_file(path: str | Path, sop_class: str, called: str) -> Dataset:
    """Read one file and refuse it in words if it is not what it is `called`. Use inside ``reading()``.

    Raises
    ------
    InputError
        Missing, not DICOM, damaged, or of another SOP class.
    """
    where = str(path)
    if not Path(path).is_file():
        raise InputError("there is no such file", where, "Check the path.")
    try:
        dataset = _parsed(Path(path))
        for element in dataset:
            del element
    except EOFError:
        raise InputError("the file is cut off", where, "Copy or export it again.") from None
    except pydicom.errors.InvalidDicomError:
        raise InputError("this is not a DICOM file", where, say("Choose the {called}.", called=called)) from None
    except OSError as error:
        raise InputError(
            say("the file cannot be read ({strerror})", strerror=error.strerror or str(error)), where
        ) from None
    except Exception as error:
        raise InputError(say("the file is damaged ({error})", error=first_line(error)), where, "Export it again.") from None
    found = text_of(dataset, "SOPClassUID")
    if found != sop_class:
        name = pydicom.uid.UID(found).name if found else say("an object without a SOP class")
        raise InputError(
            say("this is {name}, not a {called}", name=name, called=called),
            where,
            say("Choose the {called}.", called=called),
        )
    return dataset


def _parsed(path: Path) -> Dataset:
    """Parse a file and raise EOFError if it ends early, which the reader by itself only warns of."""
    config.settings.reading_validation_mode = config.RAISE
    try:
        dataset = pydicom.dcmread(path)
    except (EOFError, OSError, pydicom.errors.InvalidDicomError):
        raise
    except Exception:
        config.settings.reading_validation_mode = config.IGNORE
        dataset = pydicom.dcmread(path)
    finally:
        config.settings.reading_validation_mode = config.IGNORE
    size = path.stat().st_size
    if not dataset.file_meta.get("TransferSyntaxUID", ImplicitVRLittleEndian).is_deflated:
        for tag in dataset.keys():  # noqa: SIM118 (iterating a data set converts its elements)
            element = dataset.get_item(tag)
            if not isinstance(element, RawDataElement) or element.length == 0xFFFFFFFF:
                continue
            if element.value_tell + element.length > size:
                raise EOFError
    return dataset


def save_file(dataset: FileDataset, path: Path) -> None:
    """Write a data set to `path`; a value the standard forbids or a failing disk leaves no file behind.

    Raises
    ------
    UserError
        If the disk refuses, or a value cannot be written.
    """
    try:
        with writing(), path.open("wb") as stream:
            dataset.save_as(stream, enforce_file_format=True)
    except OSError as error:
        _remove(path)
        if error.errno is None:  # raised so for numbers too large for their field
            raise InputError(
                say("a value cannot be written to DICOM ({error})", error=first_line(error)), path.name
            ) from None
        raise UserError(
            say("the file cannot be written ({strerror})", strerror=error.strerror or str(error)),
            str(path),
            "Free space or choose another folder.",
        ) from None
    except BaseException:
        _remove(path)
        raise


def make_folder(folder: str | Path) -> Path:
    """Return the folder, made if needed."""
    path = Path(folder)
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UserError(
            say("the folder cannot be made ({strerror})", strerror=error.strerror or str(error)),
            str(path),
            "Choose another folder.",
        ) from None
    if not os.access(path, os.W_OK):
        raise UserError("the folder cannot be written to", str(path), "Choose another folder.")
    return path


def first_line(error: Exception) -> str:
    """Return the first line of an error's text, without a full stop."""
    return (str(error).splitlines() or [type(error).__name__])[0].rstrip(".")


def _remove(path: Path) -> None:
    with suppress(OSError):
        path.unlink()
