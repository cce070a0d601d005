"""DICOM files for tests: written plainly from given directions, spoilt on purpose, and judged by an outside checker."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np
import pydicom
import pytest
from pydicom.dataset import Dataset, FileDataset, FileMetaDataset
from pydicom.uid import ExplicitVRLittleEndian, generate_uid

from engine.base.values import own_array
from engine.beams.beam import Aperture, Beam
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.case.case import Case, Patient
from engine.dicom.ct_files import with_identity, write_ct
from engine.dose.dose import Dose
from engine.image.ct import CtImage
from engine.space.grid import Grid
from tests.support.cases import small_case

PATIENT = Patient("Doe^Jane", "T-7", "19700131", "F", synthetic=True)


def small_image(shape=(4, 6, 5), spacing=(2.0, 3.0, 4.0), seed=3, **facts) -> CtImage:
    """Return an image of random CT numbers."""
    hu = np.random.default_rng(seed).integers(-1000, 2000, shape).astype("<i2")
    return CtImage(own_array(hu), Grid((-5.0, 7.5, -20.0), spacing, shape), description="random numbers", **facts)


def ct_folder(folder: Path, image: CtImage | None = None, patient: Patient = PATIENT) -> CtImage:
    """Write a small CT series into a folder and return its image with identifiers."""
    return write_ct(image or small_image(), patient, folder)


def spoil(path: Path, change: Callable[[Dataset], object]) -> None:
    """Change a file in place, whatever the standard says about the outcome."""
    dataset = pydicom.dcmread(path)
    change(dataset)
    dataset.save_as(path, enforce_file_format=False)


def spoil_all(folder: Path, change: Callable[[Dataset], object]) -> None:
    """Change every file of a folder."""
    for path in sorted(folder.glob("*.dcm")):
        spoil(path, change)


def plain_ct(folder: Path, image: CtImage, along_row, along_column, downwards: bool = False) -> None:
    """Write an image with rows and columns running along given patient axes, without the product's writer.

    along_row is the direction in which the column index grows (the first triple of Image Orientation), along_column
    that in which the row index grows; both are signed unit vectors along x and y. File names and instance numbers are
    in the opposite order of z if `downwards`. Pixels are unsigned with intercept -1024.
    """
    folder.mkdir(parents=True, exist_ok=True)
    grid = image.grid
    row_axis, column_axis = int(np.argmax(np.abs(along_row))), int(np.argmax(np.abs(along_column)))
    series, study, frame = generate_uid(), generate_uid(), generate_uid()
    n = grid.shape[0]
    for number in range(n):
        k = n - 1 - number if downwards else number
        pixels = image.hu[k]  # (y, x)
        if row_axis == 1:
            pixels = pixels.T  # rows now follow x
        first = list(grid.point((k, 0, 0)))
        if along_row[row_axis] < 0:
            pixels = pixels[:, ::-1]
            first[row_axis] += grid.spacing_mm[row_axis] * (pixels.shape[1] - 1)
        if along_column[column_axis] < 0:
            pixels = pixels[::-1]
            first[column_axis] += grid.spacing_mm[column_axis] * (pixels.shape[0] - 1)
        meta = FileMetaDataset()
        meta.TransferSyntaxUID = ExplicitVRLittleEndian
        d = FileDataset(None, {}, file_meta=meta, preamble=b"\0" * 128)
        d.SOPClassUID = meta.MediaStorageSOPClassUID = "1.2.840.10008.5.1.4.1.1.2"
        d.SOPInstanceUID = meta.MediaStorageSOPInstanceUID = generate_uid()
        d.SeriesInstanceUID, d.StudyInstanceUID, d.FrameOfReferenceUID = series, study, frame
        d.Modality, d.PatientName, d.PatientID = "CT", "Letter^Lop", "L"
        d.ImageType = ["ORIGINAL", "PRIMARY", "AXIAL"]
        d.InstanceNumber = number + 1
        d.PatientPosition = image.patient_position
        d.ImagePositionPatient = [float(v) for v in first]
        d.ImageOrientationPatient = [*map(float, along_row), *map(float, along_column)]
        d.PixelSpacing = [grid.spacing_mm[column_axis], grid.spacing_mm[row_axis]]
        d.Rows, d.Columns = pixels.shape
        d.SamplesPerPixel, d.PhotometricInterpretation = 1, "MONOCHROME2"
        d.BitsAllocated, d.BitsStored, d.HighBit, d.PixelRepresentation = 16, 12, 11, 0
        d.RescaleSlope, d.RescaleIntercept = 1, -1024
        d.PixelData = np.ascontiguousarray(pixels.astype(np.int32) + 1024).astype("<u2").tobytes()
        d.save_as(folder / f"{number:03d}", enforce_file_format=True)


def checker_errors(paths: Iterable[Path | str], tmp_path: Path) -> list[str]:
    """Return the lines beginning with Error that dciodvfy (Debian package dicom3tools) gives; skip without it."""
    tool = shutil.which("dciodvfy")
    if tool is None:
        pytest.skip("dciodvfy is not installed (Debian package dicom3tools)")
    found = []
    for path in paths:
        run = subprocess.run([tool, str(path)], capture_output=True, text=True, check=False)
        if run.returncode < 0:
            found.append(f"{path}: the checker itself ended with signal {-run.returncode}")
        found += [f"{path}: {line}" for line in run.stderr.splitlines() if line.startswith("Error") or "ssertion" in line]
    return found


def planned_case(identified: bool = True) -> Case:
    """Return the small case with three beams on a shipped machine; `identified` gives its image DICOM identifiers."""
    case = edits.with_machine(small_case(), load_machine("generic-6"))
    machine = case.machines[0]
    leaves = tuple((round(-20.5 + 0.1 * i, 2), round(21.25 + 0.1 * i, 2)) for i in range(machine.leaf_pairs))
    aperture = Aperture((-25.5, 27), (-30, 31.125), machine.leaf_edges_mm, leaves)
    draft = case.drafts[0].but(name="Three fields")
    for i, gantry in enumerate((0, 120.5, 359.9)):
        beam = Beam(f"b{i}", f"Field {i}", machine.name, (1.5, -2.25, 3.125), gantry, 10, 350, aperture)
        draft = edits.with_beam(draft, beam)
    case = edits.with_draft(case, draft)
    return case.but(image=with_identity(case.image, case.patient)) if identified else case


def uneven_dose(case: Case, highest_gy: float = 63.0) -> Dose:
    """Return a dose that differs in every voxel, on a grid of its own inside the image."""
    grid = Grid((-50.0, -40.0, -30.0), (2.5, 3.0, 4.0), (9, 12, 11))
    gy = np.random.default_rng(5).random(grid.shape, dtype=np.float32) * np.float32(highest_gy)
    return Dose(own_array(gy), grid)
