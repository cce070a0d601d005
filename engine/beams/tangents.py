"""Two beams that graze the body along a target near its surface."""

from __future__ import annotations

from math import atan, atan2, degrees

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume, GeometryError
from engine.beams.arrange import new_beam
from engine.beams.conform import Margins, conform_to_shadow
from engine.beams.machine import Machine
from engine.beams.silhouette import shadow_points
from engine.space.frames import beam_from_patient, fixed_from_patient, project
from engine.space.grid import Point
from engine.volumes.coverage import Coverage

_SEARCH_DEG = 40
_STEP_DEG = 2
_POINT_MM = 8.0


def tangents(
    target: Coverage,
    body: Coverage,
    spare: Coverage | None,
    isocentre_mm: Point,
    machine: Machine,
    margins: Margins,
    patient_position: str,
) -> tuple[float, float]:
    """Return two gantry angles, whole degrees, for beams along a target near the surface.

    The rule: both run across the line from the middle of the body to the middle of the target (in the target's slices).
    The first is turned, within 40 degrees of that, to where the least of `spare` (the lungs; else the body) lies within
    the field fitted to the target. The second comes from the other side, turned so that the deep edges of both fields,
    those nearer to the middle of the body, are parallel.

    Raises
    ------
    EmptyVolume
        If target or body is not painted.
    GeometryError
        If the target lies in the middle of the body.
    """
    middle, centre = _middle_beside(body, target), target.centroid_mm()
    if middle is None or centre is None:
        raise EmptyVolume("tangential beams need a target and a body outline", do="Paint them first.")
    outwards = fixed_from_patient(patient_position) @ (np.array(centre) - middle)
    if np.hypot(outwards[0], outwards[2]) < 5.0:
        raise GeometryError("the target lies in the middle of the body", do="Choose another set of beams.")
    across = degrees(atan2(outwards[0], outwards[2]))
    points = _points(spare if spare is not None and not spare.is_empty else body)

    def cost(gantry_deg: float) -> tuple[int, float]:
        beam = new_beam("", machine.name, isocentre_mm, gantry_deg)
        shadow = shadow_points(target, beam, machine.sad_mm, patient_position)
        (x1, x2), (y1, y2) = (a := conform_to_shadow(shadow, machine, margins)).x_mm, a.y_mm
        to_beam = beam_from_patient(patient_position, gantry_deg, 0.0, 0.0)
        x, y = project(points, isocentre_mm, to_beam, machine.sad_mm).T
        return int(((x > x1) & (x < x2) & (y > y1) & (y < y2)).sum()), abs(gantry_deg - across - 90.0)

    first = min((across + 90.0 + t for t in range(-_SEARCH_DEG, _SEARCH_DEG + 1, _STEP_DEG)), key=cost)
    first = round(first) % 360.0
    beam = new_beam("", machine.name, isocentre_mm, first)
    x1, x2 = conform_to_shadow(shadow_points(target, beam, machine.sad_mm, patient_position), machine, margins).x_mm
    inwards = np.array(middle) - np.array(centre)
    deep = x2 if beam_from_patient(patient_position, first, 0.0, 0.0)[0] @ inwards > 0 else x1
    # An edge at x runs as the axis of a beam from atan(x / SAD) less; seen from the other side x has the other sign.
    return first, round(first + 180.0 - 2 * degrees(atan(deep / machine.sad_mm))) % 360.0


def _middle_beside(body: Coverage, target: Coverage) -> NDArray[np.float64] | None:
    planes = set(target.planes)
    held = [t for t in body.tiles if t.plane in planes]
    if not held:
        return None
    part = Coverage(body.grid, tuple(held)).centroid_mm()
    return None if part is None else np.array(part)


def _points(coverage: Coverage) -> NDArray[np.float64]:
    """Return points within a volume about _POINT_MM apart."""
    steps = [max(1, round(_POINT_MM / s)) for s in coverage.grid.spacing_mm[::-1]]
    index = np.argwhere(coverage.dense()[:: steps[0], :: steps[1], :: steps[2]] > 127) * steps
    return coverage.grid.point(index.astype(np.float64))
