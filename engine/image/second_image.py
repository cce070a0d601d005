"""A second image (MR, PET, another CT) laid over the planning CT, and its values on any plane."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.values import FrozenArray, Value, own_array
from engine.base.words import say

Point = tuple[float, float, float]
IDENTITY = (1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class SecondImage(Value):
    """Values on a grid of its own, oblique to the planning axes or not; it is looked at, never computed with.

    Parameters
    ----------
    key : identity, see ``new_key``
    name : what a person calls it
    modality : "MR", "PT" or "CT" (DICOM)
    values : int16 or float32 (planes, rows, columns), in `unit`
    affine : 12 numbers, three rows of four: (column, row, plane, 1) -> (x, y, z) mm in the image's own frame of reference
    transform : 16 numbers, four rows: own frame -> the planning CT's frame, mm; rigid
    unit : "HU", "SUV", "Bq/ml" or "" for bare intensities
    origin : where the transform came from, in words
    frame_of_reference_uid, study_uid, series_uid, registration_uid : DICOM identity; the last is empty without a file
    patient : name, ID and birth date as its files say them
    synthetic : whether it is a demonstration, of no real person
    """

    key: str
    name: str
    modality: str
    values: FrozenArray
    affine: tuple[float, ...]
    transform: tuple[float, ...] = IDENTITY
    unit: str = ""
    origin: str = ""
    frame_of_reference_uid: str = ""
    study_uid: str = ""
    series_uid: str = ""
    registration_uid: str = ""
    patient: tuple[str, str, str] = ("", "", "")
    synthetic: bool = False

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.values.ndim != 3 or self.values.dtype.str not in ("<i2", "<f4") or min(self.values.shape) < 2:
            raise GeometryError(
                say(
                    "values of shape {shape}, {dtype} are no second image",
                    shape=self.values.shape,
                    dtype=self.values.dtype,
                ),
                self.name,
            )
        numbers = (*self.affine, *self.transform)
        if len(self.affine) != 12 or len(self.transform) != 16 or not np.all(np.isfinite(numbers)):
            raise GeometryError("a second image needs 12 numbers that place its voxels and 16 that move it", self.name)
        if abs(np.linalg.det(self._to_mm()[:3, :3])) < 1e-9:
            raise GeometryError("its voxels have no extent", self.name)

    def _to_mm(self) -> NDArray[np.float64]:
        own = np.vstack([np.array(self.affine).reshape(3, 4), [0.0, 0.0, 0.0, 1.0]])
        return np.asarray(np.array(self.transform).reshape(4, 4) @ own)

    @property
    def to_index(self) -> NDArray[np.float64]:
        """Planning (x, y, z, 1) in mm -> fractional (column, row, plane), shape (3, 4); made once."""
        kept = self.__dict__.get("_to_index")
        if kept is None:
            kept = np.ascontiguousarray(np.linalg.inv(self._to_mm())[:3])
            object.__setattr__(self, "_to_index", kept)
        return np.asarray(kept)

    @property
    def usual_window(self) -> tuple[float, float]:
        """Return (from, to) that shows it well: soft tissue of a CT, 0 to 10 SUV, else the middle 98 % of what is not 0."""
        if self.modality == "CT" and self.unit == "HU":
            return -160.0, 240.0
        if self.unit == "SUV":
            return 0.0, 10.0
        some = self.values[:: max(1, self.values.shape[0] // 24), ::2, ::2]
        some = some[some != 0]
        if some.size == 0:
            return 0.0, 1.0
        low, high = np.percentile(some, (1.0, 99.0))
        return float(low), float(max(high, low + 1e-3))

    def value_at(self, point_mm: Point) -> float:
        """Return the value at a point of the planning CT by linear interpolation, NaN outside."""
        return float(self.on_plane(point_mm, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 1, 1)[0, 0])

    def on_plane(self, start_mm: Point, across_mm: Point, down_mm: Point, rows: int, columns: int) -> NDArray[np.float32]:
        """Return values on a raster in the planning CT's frame, by linear interpolation between voxel centres.

        Parameters
        ----------
        start_mm : (x, y, z) of the first pixel's centre
        across_mm, down_mm : step to the next column and to the next row

        Returns
        -------
        float32 (rows, columns); NaN beyond the outer faces of the voxels
        """
        from engine.image.second_kernels import sample_plane

        to_index = self.to_index
        start = to_index[:, :3] @ np.array(start_mm) + to_index[:, 3]
        across, down = to_index[:, :3] @ np.array(across_mm), to_index[:, :3] @ np.array(down_mm)
        out = np.empty((rows, columns), dtype=np.float32)
        sample_plane(self.values, start, across, down, out)
        return out


def warm_up() -> None:
    """Compile (or load from the cache) the kernels the screen thread will call, for both kinds of values."""
    from engine.image.second_kernels import colours

    place = np.eye(3, 4).ravel().tolist()
    for kind in ("<i2", "<f4"):
        image = SecondImage("", "", "MR", own_array(np.zeros((2, 2, 2), dtype=kind)), tuple(place))
        shown = image.on_plane((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), 2, 2)
        colours(shown, 0.0, 1.0, np.zeros(256, np.uint32), np.uint32(0), np.empty(shown.shape, np.uint32))
