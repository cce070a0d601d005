"""CT and RT Plan files as another vendor's software would write them: plain pydicom, nothing of the product's writers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pydicom.dataset import Dataset, FileDataset, FileMetaDataset
from pydicom.uid import ImplicitVRLittleEndian, generate_uid

from engine.space.grid import Grid

CT, PLAN, STRUCTURES = (f"1.2.840.10008.5.1.4.1.1.{n}" for n in ("2", "481.5", "481.3"))


@dataclass
class PlainBeam:
    """A static field in IEC 61217; jaws (X1, X2, Y1, Y2); leaves as (boundaries, bank at -X, bank at +X) or none."""

    isocentre: Sequence[float]
    jaws: Sequence[float]
    mu: float = 100.0
    gantry: float = 0.0
    collimator: float = 0.0
    couch: float = 0.0
    leaves: tuple[Sequence[float], Sequence[float], Sequence[float]] | None = None
    energy: float = 6.0
    machine: str = "LINAC-1"
    name: str = ""


def blank(kind: str, modality: str, shared: dict[str, str]) -> FileDataset:
    """Return a data set with what every object carries; implicit VR, as much software still writes."""
    meta = FileMetaDataset()
    meta.TransferSyntaxUID = ImplicitVRLittleEndian
    meta.MediaStorageSOPClassUID, meta.MediaStorageSOPInstanceUID = kind, generate_uid()
    d = FileDataset(None, {}, file_meta=meta, preamble=b"\0" * 128)
    d.SOPClassUID, d.SOPInstanceUID = kind, meta.MediaStorageSOPInstanceUID
    d.Modality, d.PatientName, d.PatientID = modality, "Phantom^Slab", "PH-1"
    d.StudyInstanceUID, d.FrameOfReferenceUID = shared["study"], shared["frame"]
    d.SeriesInstanceUID = generate_uid()
    return d


def identity() -> dict[str, str]:
    """Return UIDs that the files of one patient share."""
    return {"study": generate_uid(), "frame": generate_uid()}


def write_ct(folder: Path, grid: Grid, hu: NDArray[Any], shared: dict[str, str], position: str = "HFS") -> None:
    """Write axial slices with rows along +x and columns along +y, whatever the position on the couch."""
    folder.mkdir(parents=True, exist_ok=True)
    series = generate_uid()
    for k, z in enumerate(grid.z_mm):
        d = blank(CT, "CT", shared)
        d.SeriesInstanceUID, d.InstanceNumber, d.PatientPosition = series, k + 1, position
        d.ImagePositionPatient = [float(grid.x_mm[0]), float(grid.y_mm[0]), float(z)]
        d.ImageOrientationPatient = [1, 0, 0, 0, 1, 0]
        d.PixelSpacing = [grid.spacing_mm[1], grid.spacing_mm[0]]
        d.SliceThickness = grid.spacing_mm[2]
        _, d.Rows, d.Columns = grid.shape
        d.SamplesPerPixel, d.PhotometricInterpretation = 1, "MONOCHROME2"
        d.BitsAllocated, d.BitsStored, d.HighBit, d.PixelRepresentation = 16, 16, 15, 1
        d.RescaleSlope, d.RescaleIntercept = 1, 0
        d.PixelData = np.ascontiguousarray(hu[k]).astype("<i2").tobytes()
        d.save_as(folder / f"CT.{d.SOPInstanceUID}.dcm", enforce_file_format=True)


def write_plan(
    path: Path, beams: Sequence[PlainBeam], shared: dict[str, str], fractions: int = 1, position: str = "HFS"
) -> Dataset:
    """Write an RT Plan with what the standard demands of a static plan and little else."""
    d = blank(PLAN, "RTPLAN", shared)
    d.RTPlanLabel, d.RTPlanGeometry, d.RTPlanDate, d.RTPlanTime = "Check", "TREATMENT_DEVICE", "", ""
    setup = Dataset()
    setup.PatientSetupNumber, setup.PatientPosition = 1, position
    d.PatientSetupSequence = [setup]
    group = Dataset()
    group.FractionGroupNumber, group.NumberOfFractionsPlanned = 1, fractions
    group.NumberOfBeams, group.NumberOfBrachyApplicationSetups = len(beams), 0
    group.ReferencedBeamSequence = []
    d.FractionGroupSequence, d.BeamSequence = [group], []
    for number, b in enumerate(beams, 1):
        reference = Dataset()
        reference.ReferencedBeamNumber, reference.BeamMeterset = number, b.mu
        group.ReferencedBeamSequence.append(reference)
        d.BeamSequence.append(_beam(b, number))
    d.save_as(path, enforce_file_format=True)
    return d


def _beam(b: PlainBeam, number: int) -> Dataset:
    item = Dataset()
    item.BeamNumber, item.BeamName, item.BeamType, item.RadiationType = number, b.name or str(number), "STATIC", "PHOTON"
    item.TreatmentMachineName, item.PrimaryDosimeterUnit, item.SourceAxisDistance = b.machine, "MU", 1000
    item.ReferencedPatientSetupNumber, item.TreatmentDeliveryType = 1, "TREATMENT"
    item.NumberOfWedges = item.NumberOfCompensators = item.NumberOfBoli = item.NumberOfBlocks = 0
    item.FinalCumulativeMetersetWeight, item.NumberOfControlPoints = 1, 2
    settings = [("ASYMX", 1, None, b.jaws[:2]), ("ASYMY", 1, None, b.jaws[2:])]
    if b.leaves:
        bounds, left, right = b.leaves
        settings.append(("MLCX", len(left), bounds, [*left, *right]))
    item.BeamLimitingDeviceSequence, positions = [], []
    for kind, pairs, bounds, where in settings:
        device, place = Dataset(), Dataset()
        device.RTBeamLimitingDeviceType, device.NumberOfLeafJawPairs = kind, pairs
        if bounds is not None:
            device.LeafPositionBoundaries = [float(v) for v in bounds]
        place.RTBeamLimitingDeviceType, place.LeafJawPositions = kind, [float(v) for v in where]
        item.BeamLimitingDeviceSequence.append(device)
        positions.append(place)
    first, last = Dataset(), Dataset()
    first.ControlPointIndex, first.CumulativeMetersetWeight, first.NominalBeamEnergy = 0, 0, b.energy
    first.BeamLimitingDevicePositionSequence = positions
    first.GantryAngle, first.GantryRotationDirection = b.gantry, "NONE"
    first.BeamLimitingDeviceAngle, first.BeamLimitingDeviceRotationDirection = b.collimator, "NONE"
    first.PatientSupportAngle, first.PatientSupportRotationDirection = b.couch, "NONE"
    first.TableTopEccentricAngle, first.TableTopEccentricRotationDirection = 0, "NONE"
    first.IsocenterPosition = [float(v) for v in b.isocentre]
    last.ControlPointIndex, last.CumulativeMetersetWeight = 1, 1
    item.ControlPointSequence = [first, last]
    return item


def write_box_structures(
    path: Path,
    lo: Sequence[float],
    hi: Sequence[float],
    z_mm: Sequence[float],
    shared: dict[str, str],
    kind: str = "EXTERNAL",
) -> None:
    """Write a structure set with one box, a rectangle on every plane `z_mm`."""
    d = blank(STRUCTURES, "RTSTRUCT", shared)
    d.StructureSetLabel, d.StructureSetDate, d.StructureSetTime = "Box", "", ""
    frame = Dataset()
    frame.FrameOfReferenceUID = shared["frame"]
    d.ReferencedFrameOfReferenceSequence = [frame]
    roi, observed, contours = Dataset(), Dataset(), Dataset()
    roi.ROINumber, roi.ROIName, roi.ROIGenerationAlgorithm = 1, "Outline", ""
    roi.ReferencedFrameOfReferenceUID = shared["frame"]
    observed.ObservationNumber, observed.ReferencedROINumber = 1, 1
    observed.RTROIInterpretedType, observed.ROIInterpreter = kind, ""
    contours.ReferencedROINumber, contours.ContourSequence = 1, []
    for z in z_mm:
        c = Dataset()
        c.ContourGeometricType, c.NumberOfContourPoints = "CLOSED_PLANAR", 4
        corners = [(lo[0], lo[1]), (hi[0], lo[1]), (hi[0], hi[1]), (lo[0], hi[1])]
        c.ContourData = [float(v) for x, y in corners for v in (x, y, z)]
        contours.ContourSequence.append(c)
    d.StructureSetROISequence, d.RTROIObservationsSequence, d.ROIContourSequence = [roi], [observed], [contours]
    d.save_as(path, enforce_file_format=True)
