"""The openings jaws and leaves leave, as a sum of rectangles whose edges know how far they are from the source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from engine.beams.beam import Aperture
from engine.beams.machine import Machine
from engine.beams.optics import Edges

Floats = NDArray[np.float64]
View = Callable[[list[Edges]], Floats]
Gap = tuple[float, float]

# Leaves further than this outside the jaws are not seen past them, from anywhere the map reaches; and the sides of
# leaves that only the rim of the focal spot could see do not matter.
_BESIDE_MM, _BESIDE_FOCUS_MM = 80.0, 10.0


@dataclass(frozen=True)
class Openings:
    """Rectangles that jaws and leaves leave open.

    Parameters
    ----------
    jaw_x, jaw_y : the jaws, one interval each
    strips_x, strips_y : (m,) openings of the leaves; None without leaves
    shade_x, shade_y : (k,) parts of those openings under the sides of leaves (tongue and groove)
    """

    jaw_x: Edges
    jaw_y: Edges
    strips_x: Edges | None
    strips_y: Edges | None
    shade_x: Edges | None
    shade_y: Edges | None
    jaw_transmission: float
    leaf_transmission: float

    @property
    def lowest_mm(self) -> float:
        """Distance of the edge nearest to the isocentre, which has the sharpest penumbra."""
        planes = [self.jaw_x.distance_mm, self.jaw_y.distance_mm]
        return max([*planes, self.strips_x.distance_mm] if self.strips_x else planes)

    def let_through(self, view_x: View, view_y: View, fine: bool = True) -> Floats:
        """Return (ny, nx): what gets through, open or leaking.

        Parameters
        ----------
        view_x, view_y : from edges of m intervals to (m, n), what points along one axis see through them
        fine : whether the sides of leaves count
        """
        ys, xs = self.views(view_x, view_y, fine)
        # What shades take off an opening they fill is nothing but for rounding.
        through = ys.T @ xs
        return np.maximum(through, 0.0, out=through)

    def views(self, view_x: View, view_y: View, fine: bool = True) -> tuple[Floats, Floats]:
        """Return (k, ny) and (k, nx) whose products, summed over k, are what ``let_through`` returns.

        What leaks is a share of its own of the whole plane, of the jaws' opening and of the leaves'.
        """
        behind_jaws, behind_leaves = self.jaw_transmission, self.leaf_transmission
        jaw_y, jaw_x = view_y([self.jaw_y]), view_x([self.jaw_x])
        within = (behind_leaves if self.strips_x is not None else 1.0) - behind_jaws
        ys = [np.full((1, jaw_y.shape[1]), behind_jaws), within * jaw_y]
        xs = [np.ones((1, jaw_x.shape[1])), jaw_x]
        for share, y, x in ((1.0, self.strips_y, self.strips_x), (-1.0, self.shade_y, self.shade_x)):
            if y is not None and x is not None and y.low_mm.size and (fine or share > 0):
                ys.append(share * (1 - behind_leaves) * view_y([self.jaw_y, y]))
                xs.append(view_x([self.jaw_x, x]))
        return np.concatenate(ys), np.concatenate(xs)


def openings(aperture: Aperture, machine: Machine) -> Openings:
    """Return the openings of an aperture on a machine."""
    plane_x, plane_y = machine.jaw_planes_mm
    strips: list[tuple[Gap, Gap]] = []
    shades: list[tuple[Gap, Gap]] = []
    if aperture.leaves_mm:
        edges = list(pairwise(aperture.leaf_edges_mm))
        gaps = [_radiation_gap(gap, machine) for gap in aperture.leaves_mm]
        near = [n for n, (low, high) in enumerate(edges) if _beside(low, high, aperture.y_mm, _BESIDE_MM)]
        strips = [(gaps[n], edges[n]) for n in near if gaps[n][1] > gaps[n][0]]
        sides = [n for n in near if machine.tongue_mm and _beside(*edges[n], aperture.y_mm, _BESIDE_FOCUS_MM)]
        shades = [s for n in sides for s in _shades(n, gaps, edges, machine.tongue_mm)]
    has_leaves = bool(aperture.leaves_mm)
    return Openings(
        _edges(plane_x, [aperture.x_mm]),
        _edges(plane_y, [aperture.y_mm]),
        _edges(machine.leaf_distance_mm, [s[0] for s in strips]) if has_leaves else None,
        _edges(machine.leaf_distance_mm, [s[1] for s in strips]) if has_leaves else None,
        _edges(machine.leaf_distance_mm, [s[0] for s in shades]) if shades else None,
        _edges(machine.leaf_distance_mm, [s[1] for s in shades]) if shades else None,
        machine.jaw_transmission,
        machine.leaf_transmission,
    )


def _edges(distance_mm: float, spans: list[Gap]) -> Edges:
    pairs = np.array(spans, dtype=np.float64).reshape(-1, 2)
    return Edges(distance_mm, pairs[:, 0], pairs[:, 1])


def _beside(low: float, high: float, jaws: Gap, reach_mm: float) -> bool:
    return high > jaws[0] - reach_mm and low < jaws[1] + reach_mm


def _radiation_gap(gap: Gap, machine: Machine) -> Gap:
    """Return where radiation passes between two tips: behind each tip, the more the further off axis."""
    flat, growth = machine.leaf_end_offset_mm, machine.leaf_end_growth_mm
    if not flat and not growth:
        return gap
    left, right = gap
    return left - flat - growth * (left / 100) ** 2, right + flat + growth * (right / 100) ** 2


def _shades(n: int, gaps: list[Gap], edges: list[Gap], tongue_mm: float) -> list[tuple[Gap, Gap]]:
    """Return the parts of opening n that lie under the sides of its neighbours: where it is open and they are not."""
    low, high = edges[n]
    sides = ((n - 1, (low, low + tongue_mm)), (n + 1, (high - tongue_mm, high)))
    out = []
    for other, strip in sides:
        covered = _without(gaps[n], gaps[other]) if 0 <= other < len(gaps) else []
        out += [(part, strip) for part in covered]
    return out


def _without(gap: Gap, other: Gap) -> list[Gap]:
    """Return what of one interval lies outside another."""
    if other[1] <= other[0]:
        return [gap] if gap[1] > gap[0] else []
    parts = [(gap[0], min(gap[1], other[0])), (max(gap[0], other[1]), gap[1])]
    return [p for p in parts if p[1] > p[0]]
