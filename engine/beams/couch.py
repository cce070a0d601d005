"""How the couch moves from the set-up point to the isocentre."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.space.frames import fixed_from_patient
from engine.space.grid import Point


@dataclass(frozen=True)
class CouchMove:
    """How far the couch goes, mm, along the IEC 61217 axes at couch angle 0: lateral +X (to the right of a viewer who
    faces the gantry), longitudinal +Y (towards the gantry), vertical +Z (up)."""

    lateral_mm: float
    longitudinal_mm: float
    vertical_mm: float


def couch_move(marker_mm: Point, isocentre_mm: Point, patient_position: str) -> CouchMove:
    """Return how the couch moves so that a patient set up to a marker point lies at the isocentre.

    The marker stands in the room's isocentre first; the patient goes the opposite way of the line from marker to
    isocentre. Both points are patient coordinates.

    Raises
    ------
    GeometryError
        If the patient position is none of ``frames.POSITIONS``.
    """
    line = np.asarray(isocentre_mm, dtype=np.float64) - np.asarray(marker_mm, dtype=np.float64)
    # No -0.0 on a sheet of paper.
    x, y, z = (round(-float(v), 1) + 0.0 for v in fixed_from_patient(patient_position) @ line)
    return CouchMove(x, y, z)
