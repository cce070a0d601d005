"""The apertures of a beam one by one: that of a still beam, each opening in turn, each control point of an arc."""

from __future__ import annotations

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.segments import Segment, segments, with_segments


def part_count(beam: Beam) -> int:
    """Return how many apertures are given one after another, or how many control points an arc has."""
    return len(segments(beam)) if _steps(beam) else len(beam.points)


def part(beam: Beam, n: int) -> tuple[float, Aperture]:
    """Return gantry angle and aperture of part n; the last there is if n is too large."""
    n = max(0, min(n, part_count(beam) - 1))
    if not beam.points:
        return beam.gantry_deg, beam.aperture
    if _steps(beam):
        return beam.gantry_deg, segments(beam)[n].aperture
    return beam.points[n].gantry_deg, beam.points[n].aperture


def with_part(beam: Beam, n: int, aperture: Aperture) -> Beam:
    """Return the beam with another aperture as part n.

    Raises
    ------
    InputError
        If it has no such part, or its leaves are not those of the other parts.
    """
    if not 0 <= n < part_count(beam):
        raise InputError(say("it has no opening {n}", n=n + 1), say("beam {beam}", beam=beam.name))
    if not beam.points:
        return beam.but(aperture=aperture)
    if _steps(beam):
        held = segments(beam)
        return with_segments(beam, [Segment(s.share, aperture) if i == n else s for i, s in enumerate(held)])
    points = tuple(p.but(aperture=aperture) if i == n else p for i, p in enumerate(beam.points))
    return beam.but(aperture=points[0].aperture, points=points)


def _steps(beam: Beam) -> bool:
    """Whether nothing moves while monitor units are given."""
    if beam.is_arc:
        return False
    try:
        segments(beam)
    except InputError:
        return False
    return True
