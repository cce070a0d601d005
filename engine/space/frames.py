"""Rotations between patient, IEC 61217 fixed, gantry and beam limiting device axes. The only file with rotations.

IEC 61217 fixed system, origin at the isocentre: +X to the right of a viewer facing the gantry, +Y towards the gantry,
+Z up. Gantry angle g puts the source at SAD (sin g, 0, cos g). The couch turns about Z, the collimator about the beam
axis. The patient frame is DICOM LPS whatever the position on the couch.

Which way the patient lies fixes the map at couch angle 0 (derived from the definitions, worked rows in
tests/reference): HFS (x, z, -y), HFP (-x, z, y), FFS (-x, -z, -y), FFP (x, -z, y).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError
from engine.base.words import say

Matrix = NDArray[np.float64]

_FIXED_FROM_PATIENT = {
    "HFS": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "HFP": ((-1, 0, 0), (0, 0, 1), (0, 1, 0)),
    "FFS": ((-1, 0, 0), (0, 0, -1), (0, -1, 0)),
    "FFP": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
}
POSITIONS = tuple(_FIXED_FROM_PATIENT)


def _turn_z(angle_deg: float) -> Matrix:
    a = np.deg2rad(angle_deg)
    c, s = np.cos(a), np.sin(a)
    return np.array(((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0)))


def _turn_y(angle_deg: float) -> Matrix:
    a = np.deg2rad(angle_deg)
    c, s = np.cos(a), np.sin(a)
    return np.array(((c, 0.0, s), (0.0, 1.0, 0.0), (-s, 0.0, c)))


def fixed_from_patient(patient_position: str, couch_deg: float = 0.0) -> Matrix:
    """Return the 3x3 matrix that turns patient directions into IEC fixed directions.

    A couch angle turns the patient counter-clockwise as seen from above (about +Z), IEC 61217 patient support.
    """
    try:
        table = np.array(_FIXED_FROM_PATIENT[patient_position], dtype=np.float64)
    except KeyError:
        raise GeometryError(
            say(
                "patient position {patient_position!r} is not one of {positions}",
                patient_position=patient_position,
                positions=", ".join(POSITIONS),
            ),
            do="Set it at intake.",
        ) from None
    return _turn_z(couch_deg) @ table


def fixed_from_beam(gantry_deg: float, collimator_deg: float) -> Matrix:
    """Return the matrix from beam limiting device axes (X, Y at the isocentre plane, Z to the source) to fixed."""
    return _turn_y(gantry_deg) @ _turn_z(collimator_deg)


def beam_from_patient(patient_position: str, gantry_deg: float, collimator_deg: float, couch_deg: float) -> Matrix:
    """Return the matrix from patient directions to beam axes (X, Y in the isocentre plane, +Z towards the source)."""
    return fixed_from_beam(gantry_deg, collimator_deg).T @ fixed_from_patient(patient_position, couch_deg)


def source_mm(
    isocentre_mm: tuple[float, float, float], patient_position: str, gantry_deg: float, couch_deg: float, sad_mm: float
) -> NDArray[np.float64]:
    """Return the source position in patient coordinates."""
    to_beam = beam_from_patient(patient_position, gantry_deg, 0.0, couch_deg)
    return np.asarray(isocentre_mm) + sad_mm * to_beam[2]


def project(
    points_mm: NDArray[np.float64], isocentre_mm: tuple[float, float, float], to_beam: Matrix, sad_mm: float
) -> Matrix:
    """Project patient points, shape (..., 3), from the source onto the isocentre plane; returns (..., 2) in mm."""
    b = (np.asarray(points_mm) - isocentre_mm) @ to_beam.T
    return b[..., :2] * (sad_mm / (sad_mm - b[..., 2:]))
