"""Arcs around a target: leaves that follow its shadow, or one aperture that stays."""

from __future__ import annotations

from dataclasses import dataclass

from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.beams.arcs import POINT_SPACING_DEG, arc_angles, with_arc
from engine.beams.beam import Beam
from engine.beams.conform import Margins, conform
from engine.beams.machine import Machine
from engine.volumes.coverage import Coverage


@dataclass(frozen=True, eq=False)
class ArcRequest(Value):
    """Ask for an arc.

    Parameters
    ----------
    beam : which one turns; its collimator, couch and isocentre stay
    target : what leaves are fitted to at every control point; None keeps the beam's first aperture
    margins_mm : towards X1, X2, Y1, Y2
    start_deg, stop_deg, rotation : IEC 61217, CW or CC; from an angle to itself is a full turn
    spacing_deg : between control points, at most
    """

    beam: Beam
    target: Coverage | None
    machine: Machine
    margins_mm: tuple[float, float, float, float]
    patient_position: str
    start_deg: float
    stop_deg: float
    rotation: str
    spacing_deg: float = POINT_SPACING_DEG


@dataclass(frozen=True, eq=False)
class ArcResult(Value):
    """The beam as an arc, and the fingerprint of the request it answers."""

    beam: Beam
    inputs: Fingerprint


def make_arc(request: ArcRequest, report: Report = quiet) -> ArcResult:
    """Fit an aperture at every control point; monitor units flow evenly with the angle.

    Raises
    ------
    InputError
        If rotation, spacing or margins make no sense.
    EmptyVolume, GeometryError
        As ``conform``.
    """
    angles = arc_angles(request.start_deg, request.stop_deg, request.rotation, request.spacing_deg)
    beam = request.beam.but(points=(), rotation="")
    apertures = [beam.aperture] * len(angles)
    for n, angle in enumerate(angles if request.target is not None else ()):
        report(n / len(angles), say("arc of {beam}", beam=beam.name))
        assert request.target is not None
        turned, margins = beam.but(gantry_deg=angle), Margins(*request.margins_mm)
        apertures[n] = conform(turned, request.target, request.machine, margins, request.patient_position)
    report(1.0, say("arc of {beam}", beam=beam.name))
    return ArcResult(with_arc(beam, angles, apertures, request.rotation), request.fingerprint)
