"""A beam in the steps it is computed in: what stands open, and for which share, at each angle of the gantry."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from engine.beams.arcs import turn_deg
from engine.beams.beam import Aperture, Beam, ControlPoint

# An arc is the sum of still beams in the middle of pieces no longer than this; a moving leaf is a sum of still ones.
ARC_STEP_DEG = 4.0
LEAF_STEP_MM = 4.0


@dataclass(frozen=True)
class Still:
    """What is given while the gantry stands at one angle.

    Parameters
    ----------
    gantry_deg : IEC 61217
    openings : (share, aperture), shares of the whole beam's monitor units
    """

    gantry_deg: float
    openings: tuple[tuple[float, Aperture], ...]

    @property
    def share(self) -> float:
        """Share of the beam's monitor units given here."""
        return sum(share for share, _ in self.openings)


def stills(beam: Beam, arc_step_deg: float = ARC_STEP_DEG, leaf_step_mm: float = LEAF_STEP_MM) -> tuple[Still, ...]:
    """Return the steps a beam is computed in, in order of delivery; their shares add up to 1.

    Between two control points gantry, jaws and leaves move evenly with the monitor units (DICOM PS3.3 C.8.8.14). Each such
    piece is cut so that the gantry turns by at most `arc_step_deg` and no edge moves by more than `leaf_step_mm` within a
    step, and stands for what is in the middle of it. Openings from one angle are gathered in one step.
    """
    if not beam.points:
        return (Still(beam.gantry_deg, ((1.0, beam.aperture),)),)
    found: dict[float, list[tuple[float, Aperture]]] = {}
    for before, after in pairwise(beam.points):
        share = after.cumulative_weight - before.cumulative_weight
        if share <= 0:
            continue
        turned = turn_deg(before.gantry_deg, after.gantry_deg, beam.rotation) if beam.is_arc else 0.0
        steps = max(
            1, ceil(turned / arc_step_deg - 1e-9), ceil(_farthest_mm(before.aperture, after.aperture) / leaf_step_mm - 1e-9)
        )
        for n in range(steps):
            way = (n + 0.5) / steps
            angle = before.gantry_deg + (way * turned if beam.rotation == "CW" else -way * turned)
            openings = found.setdefault(round(angle, 6) % 360.0, [])
            openings.append((share / steps, _between(before, after, way)))
    return tuple(Still(angle, _gathered(openings)) for angle, openings in found.items())


def _gathered(openings: list[tuple[float, Aperture]]) -> tuple[tuple[float, Aperture], ...]:
    total: dict[Aperture, float] = {}
    for share, aperture in openings:
        total[aperture] = total.get(aperture, 0.0) + share
    return tuple((share, aperture) for aperture, share in total.items())


def _farthest_mm(a: Aperture, b: Aperture) -> float:
    """Return how far the edge moves that moves farthest."""
    return max((abs(q - p) for p, q in zip(_edges(a), _edges(b), strict=True)), default=0.0)


def _edges(aperture: Aperture) -> tuple[float, ...]:
    return (*aperture.x_mm, *aperture.y_mm, *(v for pair in aperture.leaves_mm for v in pair))


def _between(before: ControlPoint, after: ControlPoint, way: float) -> Aperture:
    a, b = before.aperture, after.aperture
    if a == b:
        return a

    def moved(p: tuple[float, float], q: tuple[float, float]) -> tuple[float, float]:
        return p[0] + way * (q[0] - p[0]), p[1] + way * (q[1] - p[1])

    leaves = tuple(moved(p, q) for p, q in zip(a.leaves_mm, b.leaves_mm, strict=True))
    return Aperture(moved(a.x_mm, b.x_mm), moved(a.y_mm, b.y_mm), a.leaf_edges_mm, leaves)
