"""Whether the head of the machine would meet patient or couch: a cylinder against points of a simple envelope.

A warning, no guarantee: sizes are those of the machine file (typical values unless someone measured), accessories and
limbs outside the image are not there, and the real couch may stand elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from engine.beams.arcs import turn_deg
from engine.beams.arrange import new_beam
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.beams.silhouette import sides
from engine.space.frames import beam_from_patient, fixed_from_patient
from engine.space.grid import Point
from engine.volumes.coverage import Coverage

# Closer than this is worth a look at the machine (own choice).
NEAR_MM = 30.0
_BODY_POINT_MM = 12.0
_COUCH_POINT_MM = 40.0
# The couch top beyond the image: towards the head, and towards the feet where most of the patient lies (own choice).
_BEYOND_HEAD_MM, _BEYOND_FEET_MM = 300.0, 1200.0
_SWEEP_DEG = 5.0


@dataclass(frozen=True)
class Clearance:
    """The least distance in mm between the head and `what` ("body" or "couch") and the gantry angle it occurs at;
    0 when they touch."""

    distance_mm: float
    what: str
    gantry_deg: float


def clearance(beam: Beam, body: Coverage, machine: Machine, patient_position: str) -> Clearance | None:
    """Return the least distance between head and body or couch over all angles of a beam; None without a body.

    The couch is a box under the lowest point of the body, centred across on the body, as wide and thick as the machine
    file says.
    """
    points = envelope(body, machine.couch_width_mm, machine.couch_thickness_mm, patient_position)
    found = [
        Clearance(head_distance_mm(cloud, beam, angle, machine, patient_position), what, angle)
        for angle in angles_of(beam)
        for what, cloud in points
    ]
    return min(found, key=lambda c: c.distance_mm) if found else None


def near_angles(
    isocentre_mm: Point, couch_deg: float, body: Coverage, machine: Machine, patient_position: str, step_deg: int = 10
) -> tuple[float, ...]:
    """Return the gantry angles, `step_deg` apart, at which the head would come nearer than NEAR_MM."""
    points = envelope(body, machine.couch_width_mm, machine.couch_thickness_mm, patient_position)
    beam = new_beam("", machine.name, isocentre_mm, 0.0, couch_deg=couch_deg)
    return tuple(
        float(angle)
        for angle in range(0, 360, step_deg)
        if any(head_distance_mm(cloud, beam, angle, machine, patient_position) < NEAR_MM for _, cloud in points)
    )


def head_distance_mm(
    points_mm: NDArray[np.float64], beam: Beam, gantry_deg: float, machine: Machine, patient_position: str
) -> float:
    """Return the least distance of patient points (n, 3) from the head: a cylinder about the beam axis that begins
    ``head_distance_mm`` from the isocentre and has no end; 0 within it."""
    to_beam = beam_from_patient(patient_position, gantry_deg, 0.0, beam.couch_deg)
    x, y, z = to_beam @ (points_mm - beam.isocentre_mm).T
    short = np.maximum(machine.head_distance_mm - z, 0.0)
    beside = np.maximum(np.hypot(x, y) - machine.head_radius_mm, 0.0)
    return float(np.hypot(short, beside).min())


def angles_of(beam: Beam) -> Iterable[float]:
    """Return the gantry angles a beam passes, at most _SWEEP_DEG apart."""
    if not beam.is_arc:
        return (beam.gantry_deg,)
    sign = 1.0 if beam.rotation == "CW" else -1.0
    out = [beam.points[0].gantry_deg]
    for a, b in zip(beam.points, beam.points[1:]):
        whole = turn_deg(a.gantry_deg, b.gantry_deg, beam.rotation)
        steps = max(1, int(np.ceil(whole / _SWEEP_DEG - 1e-9)))
        out += [(a.gantry_deg + sign * whole * n / steps) % 360.0 for n in range(1, steps + 1)]
    return out


@lru_cache(maxsize=8)
def envelope(
    body: Coverage, width_mm: float, thickness_mm: float, patient_position: str
) -> tuple[tuple[str, NDArray[np.float64]], ...]:
    """Return ("body", points) and ("couch", points) in patient coordinates; () without a body."""
    held = sides(body)
    if not len(held.points_mm):
        return ()
    every = max(1, round(_BODY_POINT_MM / max(body.grid.spacing_mm[:2])))
    skin = held.points_mm[::every]
    ends = [skin + (0.0, 0.0, s * held.slab_mm / 2) for s in (-1, 1)]
    turn = fixed_from_patient(patient_position)
    fixed = held.points_mm @ turn.T
    middle, top = (fixed[:, 0].min() + fixed[:, 0].max()) / 2, fixed[:, 2].min()
    head = 1.0 if turn[1] @ (0, 0, 1) > 0 else -1.0
    low = fixed[:, 1].min() - (_BEYOND_FEET_MM if head > 0 else _BEYOND_HEAD_MM)
    high = fixed[:, 1].max() + (_BEYOND_HEAD_MM if head > 0 else _BEYOND_FEET_MM)
    x = _ticks(middle - width_mm / 2, middle + width_mm / 2)
    y, z = _ticks(low, high), _ticks(top - thickness_mm, top)
    box = np.stack(np.meshgrid(x, y, z, indexing="ij"), axis=-1).reshape(-1, 3)
    return ("body", np.concatenate(ends)), ("couch", box @ turn)


def _ticks(low: float, high: float) -> NDArray[np.float64]:
    return np.linspace(low, high, max(2, int(np.ceil((high - low) / _COUCH_POINT_MM)) + 1))
