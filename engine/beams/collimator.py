"""The collimator angle at which least is open beyond the target."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import EmptyVolume
from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.conform import Margins, conform_to_shadow
from engine.beams.machine import Machine
from engine.beams.silhouette import project_volume, shadow_points
from engine.volumes.coverage import Coverage

_COARSE_DEG = 5
# A turn that gains less than this is not worth making: the smaller angle wins.
_WORTH_CM2 = 0.02


@dataclass(frozen=True, eq=False)
class CollimatorRequest(Value):
    """Ask how much a beam fitted to a target leaves open beyond it at every collimator angle.

    Parameters
    ----------
    beam : its gantry, couch and isocentre count, its collimator angle and aperture do not
    margins_mm : towards X1, X2, Y1, Y2
    """

    beam: Beam
    target: Coverage
    machine: Machine
    margins_mm: tuple[float, float, float, float]
    patient_position: str


@dataclass(frozen=True, eq=False)
class CollimatorResult(Value):
    """What is open beyond the target's shadow.

    Parameters
    ----------
    angles_deg : tried, ascending, 0 <= a < 180 (half a turn brings the same opening with the leaves of the other bank)
    beyond_cm2 : open area less that of the shadow, at the isocentre plane, for each angle
    best_deg : the smallest angle within _WORTH_CM2 of the least area
    inputs : fingerprint of the request
    """

    angles_deg: tuple[float, ...]
    beyond_cm2: tuple[float, ...]
    best_deg: float
    inputs: Fingerprint


def best_collimator(request: CollimatorRequest, report: Report = quiet) -> CollimatorResult:
    """Try angles 5 degrees apart over half a turn, then single degrees about the best.

    Raises
    ------
    EmptyVolume
        If the target is not painted.
    GeometryError, InputError
        As ``conform``.
    """
    beam = request.beam.but(collimator_deg=0.0)
    sad_mm = request.machine.sad_mm
    shadow = shadow_points(request.target, beam, sad_mm, request.patient_position)
    if not len(shadow):
        raise EmptyVolume(
            "there is no target to turn the collimator for", say("beam {beam}", beam=beam.name), "Paint it first."
        )
    loops = project_volume(request.target, beam, sad_mm, request.patient_position)
    within = abs(sum(_area_mm2(loop) for loop in loops)) / 100
    found: dict[int, float] = {}

    def attempt(angle: int) -> None:
        report(min(0.99, len(found) / 44), "collimator")
        if angle % 180 not in found:
            aperture = conform_to_shadow(
                _turned(shadow, angle % 180), request.machine, Margins(*request.margins_mm), beam.name
            )
            found[angle % 180] = open_cm2(aperture) - within

    for angle in range(0, 180, _COARSE_DEG):
        attempt(angle)
    about = min(found, key=lambda a: (found[a], a))
    for angle in range(about - _COARSE_DEG + 1, about + _COARSE_DEG):
        attempt(angle)
    least = min(found.values())
    angles = sorted(found)
    best = next(a for a in angles if found[a] <= least + _WORTH_CM2)
    report(1.0, "collimator")
    return CollimatorResult(tuple(map(float, angles)), tuple(found[a] for a in angles), float(best), request.fingerprint)


def open_cm2(aperture: Aperture) -> float:
    """Return the area that jaws and leaves leave open, cm2 at the isocentre plane."""
    return sum(max(0.0, x1 - x0) * max(0.0, y1 - y0) for x0, y0, x1, y1 in openings_of(aperture)) / 100


def openings_of(aperture: Aperture) -> list[tuple[float, float, float, float]]:
    """Return the open parts as (x low, y low, x high, y high) in mm: one for each leaf pair within the jaws."""
    (x1, x2), (y1, y2) = aperture.x_mm, aperture.y_mm
    if not aperture.leaves_mm:
        return [(x1, y1, x2, y2)]
    edges = aperture.leaf_edges_mm
    rows = (
        (max(a, x1), max(edges[n], y1), min(b, x2), min(edges[n + 1], y2)) for n, (a, b) in enumerate(aperture.leaves_mm)
    )
    return [r for r in rows if r[2] > r[0] and r[3] > r[1]]


def _turned(points: NDArray[np.float64], collimator_deg: float) -> NDArray[np.float64]:
    """Return points of the plane in the axes of a collimator that is turned (IEC 61217: anticlockwise from the source)."""
    a = np.deg2rad(collimator_deg)
    c, s = np.cos(a), np.sin(a)
    return points @ np.array(((c, -s), (s, c)))


def _area_mm2(loop: NDArray[np.float64]) -> float:
    ahead = np.roll(loop, -1, axis=0)
    return float((loop[:, 0] * ahead[:, 1] - loop[:, 1] * ahead[:, 0]).sum()) / 2
