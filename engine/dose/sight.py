"""Where a beam stands towards a patient: from voxels to tangents and distances, and back."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.words import say
from engine.beams.beam import Beam
from engine.space.frames import Matrix, beam_from_patient
from engine.space.grid import Grid, Point

Floats = NDArray[np.float64]

_NEAREST_MM = 50.0


@dataclass(frozen=True, eq=False)
class Sight:
    """The view from the source of one beam, in device axes (X, Y at the isocentre plane, Z to the source).

    A point with device coordinates (x, y, z) has the distance t = SAD - z along the axis and the tangents p = x / t,
    q = y / t.

    Parameters
    ----------
    to_device : (3, 3) from patient directions to device axes
    """

    name: str
    isocentre_mm: Point
    to_device: Matrix
    sad_mm: float

    def forms(self, grid: Grid) -> Floats:
        """Return (3, 4): x, y and t of a voxel as linear forms of 1 and its index (plane, row, column)."""
        start = self.to_device @ (np.asarray(grid.origin_mm) - self.isocentre_mm)
        steps = (self.to_device * np.asarray(grid.spacing_mm))[:, ::-1]
        forms = np.concatenate([start[:, None], steps], axis=1)
        forms[2] *= -1
        forms[2, 0] += self.sad_mm
        return forms

    def corners(self, grid: Grid) -> Floats:
        """Return (8, 3): tangents p, q and distance t of a grid's corners.

        Raises
        ------
        GeometryError
            If the source lies inside the grid or within 50 mm of it.
        """
        lo, hi = np.asarray(grid.bounds_mm)
        pick = np.array([[(n >> a) & 1 for a in range(3)] for n in range(8)])
        b = (np.where(pick, hi, lo) - self.isocentre_mm) @ self.to_device.T
        t = self.sad_mm - b[:, 2]
        if t.min() < _NEAREST_MM:
            raise GeometryError(
                say("the source would lie in or beside the patient"),
                say("beam {name}", name=self.name) if self.name else "",
                say("Move the isocentre."),
            )
        return np.stack([b[:, 0] / t, b[:, 1] / t, t], axis=1)

    def in_grid(self, grid: Grid) -> tuple[Floats, Floats]:
        """Return the source as fractional (plane, row, column), and (3, 3): what p, q and 1 add to it per mm of t."""
        axes = self.to_device / np.asarray(grid.spacing_mm)
        source = np.asarray(self.isocentre_mm) + self.sad_mm * self.to_device[2]
        return grid.index(source).copy(), np.stack([axes[0], axes[1], -axes[2]])[:, ::-1].copy()


def sight_of(beam: Beam, patient_position: str, sad_mm: float) -> Sight:
    """Return the view of a beam with its collimator's turn; one and the same while only the beam's aperture changes."""
    angles = beam.gantry_deg, beam.collimator_deg, beam.couch_deg
    return _sight(beam.name.strip(), beam.isocentre_mm, *angles, patient_position, sad_mm)


@lru_cache(maxsize=32)
def _sight(
    name: str,
    isocentre_mm: Point,
    gantry_deg: float,
    collimator_deg: float,
    couch_deg: float,
    patient_position: str,
    sad_mm: float,
) -> Sight:
    turn = beam_from_patient(patient_position, gantry_deg, collimator_deg, couch_deg)
    return Sight(name, isocentre_mm, turn, sad_mm)
