"""A CT image as a value."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.errors import GeometryError
from engine.base.values import FrozenArray, Value
from engine.base.words import say
from engine.space.grid import Grid


@dataclass(frozen=True, eq=False)
class CtImage(Value):
    """CT numbers on an axis-aligned grid.

    Parameters
    ----------
    hu : int16 array (planes, rows, columns), CT numbers after the rescale of each slice; planes ascend in z
    grid : its Grid, patient axes (the importer flips rows, columns and planes so that x, y, z all ascend)
    patient_position : DICOM (0018,5100): HFS, HFP, FFS, FFP
    frame_of_reference_uid, study_uid, series_uid : DICOM identity; empty for an image that was never DICOM
    sop_uids : one SOP Instance UID per plane, in plane order; empty like the others
    description : what a person calls the series
    scanner : ((name, value), ...) further facts worth keeping: manufacturer model, kVp, kernel, acquisition date
    """

    hu: FrozenArray
    grid: Grid
    patient_position: str = "HFS"
    frame_of_reference_uid: str = ""
    study_uid: str = ""
    series_uid: str = ""
    sop_uids: tuple[str, ...] = ()
    description: str = ""
    scanner: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.hu.shape != self.grid.shape or self.hu.dtype.str != "<i2":
            raise GeometryError(
                say(
                    "CT numbers of shape {shape}, {dtype} do not fit the grid {wanted}",
                    shape=self.hu.shape,
                    dtype=self.hu.dtype,
                    wanted=self.grid.shape,
                )
            )
        if self.sop_uids and len(self.sop_uids) != self.grid.shape[0]:
            raise GeometryError("a CT image needs one SOP Instance UID per plane")
