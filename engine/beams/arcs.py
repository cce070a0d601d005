"""Arcs: which angles a turning gantry passes, and beams made to turn."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam, ControlPoint

# Apertures of a new arc are given this often; between them they move evenly.
POINT_SPACING_DEG = 4.0


def turn_deg(start_deg: float, stop_deg: float, rotation: str) -> float:
    """Return how far the gantry turns, 0 < a <= 360; from an angle to itself it is a full turn (DICOM PS3.3 C.8.8.14)."""
    turned = (stop_deg - start_deg if rotation == "CW" else start_deg - stop_deg) % 360.0
    return turned if turned > 0 else 360.0


def span_deg(beam: Beam) -> float:
    """Return how far the gantry turns over the whole beam; 0 for one that stands still."""
    if not beam.is_arc:
        return 0.0
    return sum(turn_deg(a.gantry_deg, b.gantry_deg, beam.rotation) for a, b in pairwise(beam.points))


def arc_angles(
    start_deg: float, stop_deg: float, rotation: str, spacing_deg: float = POINT_SPACING_DEG
) -> tuple[float, ...]:
    """Return evenly spaced gantry angles (0 <= a < 360) from start to stop, both included, at most `spacing_deg` apart.

    Raises
    ------
    InputError
        If the rotation is not CW or CC or the spacing not between 0.1 and 180 degrees.
    """
    if rotation not in ("CW", "CC"):
        raise InputError(say("a gantry cannot turn {rotation!r}", rotation=rotation), "arc", "Use CW or CC.")
    if not 0.1 <= spacing_deg <= 180.0:
        raise InputError(say("a spacing of {spacing:g} degrees is not between 0.1 and 180", spacing=spacing_deg), "arc")
    whole = turn_deg(start_deg, stop_deg, rotation)
    steps = max(1, ceil(whole / spacing_deg - 1e-9))
    sign = 1.0 if rotation == "CW" else -1.0
    return tuple(round(start_deg + sign * whole * n / steps, 6) % 360.0 for n in range(steps + 1))


def with_arc(
    beam: Beam,
    angles_deg: Sequence[float],
    apertures: Sequence[Aperture],
    rotation: str,
    weights: Sequence[float] | None = None,
) -> Beam:
    """Return a beam that turns through these angles with these apertures.

    Parameters
    ----------
    angles_deg, apertures : one of each per control point, two or more
    weights : cumulative, from 0 to 1; else monitor units flow evenly with the angle

    Raises
    ------
    InputError
        If their numbers differ, or no beam can be made of them (see ``Beam``).
    """
    if len(angles_deg) != len(apertures) or len(angles_deg) < 2:
        raise InputError(
            say("{angles} angles and {apertures} apertures make no arc", angles=len(angles_deg), apertures=len(apertures)),
            say("beam {beam}", beam=beam.name),
            "Give one aperture for each of two or more angles.",
        )
    if weights is None:
        turned = [0.0]
        for a, b in pairwise(angles_deg):
            turned.append(turned[-1] + turn_deg(a, b, rotation))
        weights = [t / turned[-1] for t in turned]
    points = tuple(ControlPoint(*p) for p in zip(weights, angles_deg, apertures, strict=True))
    return beam.but(gantry_deg=points[0].gantry_deg, aperture=points[0].aperture, points=points, rotation=rotation)
