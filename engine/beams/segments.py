"""Several apertures one after another from one gantry angle: fields in a field, steps of a modulated beam."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam, ControlPoint


@dataclass(frozen=True)
class Segment:
    """An aperture that stays while a share of the beam's monitor units (0 to 1) is given."""

    share: float
    aperture: Aperture


def segments(beam: Beam) -> tuple[Segment, ...]:
    """Return the segments of a beam in order, one for a still beam.

    Raises
    ------
    InputError
        If the gantry, jaws or leaves move while monitor units are given.
    """
    if not beam.points:
        return (Segment(1.0, beam.aperture),)
    where = say("beam {beam}", beam=beam.name)
    if beam.is_arc:
        raise InputError("it is an arc and has no segments", where)
    found: list[Segment] = []
    for before, after in pairwise(beam.points):
        share = after.cumulative_weight - before.cumulative_weight
        if share == 0:
            continue
        if before.aperture != after.aperture:
            raise InputError("its jaws or leaves move while it delivers, so it has no segments", where)
        if found and found[-1].aperture == after.aperture:
            share += found.pop().share
        found.append(Segment(share, after.aperture))
    return tuple(found)


def with_segments(beam: Beam, wanted: Sequence[Segment]) -> Beam:
    """Return a beam that gives these segments one after another; shares count by their ratios.

    One segment makes a still beam without control points.

    Raises
    ------
    InputError
        If there is none, a share is negative, or all are zero.
    """
    where = say("beam {beam}", beam=beam.name)
    total = sum(s.share for s in wanted)
    if not wanted or any(not s.share >= 0 for s in wanted) or not 0 < total < float("inf"):
        raise InputError("the shares of its segments do not add up to anything", where, "Give each a share above 0.")
    if len(wanted) == 1:
        return beam.but(aperture=wanted[0].aperture, points=(), rotation="")
    points, given = [], 0.0
    for n, segment in enumerate(wanted):
        last = n == len(wanted) - 1
        ends = given, 1.0 if last else min(given + segment.share / total, 1.0)
        points += [ControlPoint(weight, beam.gantry_deg, segment.aperture) for weight in ends]
        given = ends[1]
    return beam.but(aperture=wanted[0].aperture, points=tuple(points), rotation="")
