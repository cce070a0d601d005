"""What can be grabbed on an aperture, in mm at the isocentre plane: jaw edges and leaf tips."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from PySide6.QtCore import QCoreApplication

from engine.beams.beam import Aperture, Beam
from engine.beams.wedge import toe_direction

_WEDGE_GAP_MM, _WEDGE_MM = 4.0, 10.0


HANDLE_GAP_MM = 14.0  # the collimator's handle stands so far beyond the Y2 jaw
RUN = 2  # with Shift so many leaves on each side go along


@dataclass(frozen=True)
class Grip:
    """One thing under the pointer: "x" or "y" jaw, "leaf" or the "turn" handle; `side` 0 is the negative one; `pair`
    counts leaves."""

    kind: str
    side: int
    pair: int = -1

    def position(self, aperture: Aperture) -> float:
        """Return where it stands, mm."""
        if self.kind == "turn":
            return aperture.y_mm[1] + HANDLE_GAP_MM
        if self.kind == "leaf":
            return aperture.leaves_mm[self.pair][self.side]
        return (aperture.x_mm if self.kind == "x" else aperture.y_mm)[self.side]

    def name(self) -> str:
        """Return how it is called: X1, Y2, leaf 12 at -X."""
        if self.kind == "turn":
            return QCoreApplication.translate("ApertureShape", "collimator")
        if self.kind == "leaf":
            words = QCoreApplication.translate("ApertureShape", "leaf {0} {1}")
            return words.format(self.pair + 1, "−X" if self.side == 0 else "+X")
        return f"{self.kind.upper()}{self.side + 1}"


def grip_at(aperture: Aperture, x_mm: float, y_mm: float, reach_mm: float) -> Grip | None:
    """Return what lies within reach of a point: leaf tips inside the jaws first, then jaw edges."""
    found: list[tuple[float, Grip]] = []
    at = handle(aperture)
    if hypot(x_mm - at[0], y_mm - at[1]) <= 1.3 * reach_mm:
        return Grip("turn", 0)
    edges = aperture.leaf_edges_mm
    pair = next((i for i in range(len(edges) - 1) if edges[i] <= y_mm < edges[i + 1]), None)
    inside_y = aperture.y_mm[0] + reach_mm < y_mm < aperture.y_mm[1] - reach_mm
    if pair is not None and inside_y:
        for side, tip in enumerate(aperture.leaves_mm[pair]):
            if aperture.x_mm[0] <= tip <= aperture.x_mm[1] and abs(x_mm - tip) <= reach_mm:
                found.append((abs(x_mm - tip) - 0.25 * reach_mm, Grip("leaf", side, pair)))
    if aperture.y_mm[0] - reach_mm <= y_mm <= aperture.y_mm[1] + reach_mm:
        found += [(abs(x_mm - e), Grip("x", s)) for s, e in enumerate(aperture.x_mm) if abs(x_mm - e) <= reach_mm]
    if aperture.x_mm[0] - reach_mm <= x_mm <= aperture.x_mm[1] + reach_mm:
        found += [(abs(y_mm - e), Grip("y", s)) for s, e in enumerate(aperture.y_mm) if abs(y_mm - e) <= reach_mm]
    return min(found, key=lambda f: f[0])[1] if found else None


def handle(aperture: Aperture) -> tuple[float, float]:
    """Return where the handle that turns the collimator stands, (x, y) in mm: above the middle of the Y2 jaw."""
    return (aperture.x_mm[0] + aperture.x_mm[1]) / 2, aperture.y_mm[1] + HANDLE_GAP_MM


def run_of(aperture: Aperture, pair: int) -> range:
    """Return the pairs that go along when leaves are moved together: the neighbours within the Y jaws."""
    edges, (y1, y2) = aperture.leaf_edges_mm, aperture.y_mm
    near = range(max(0, pair - RUN), min(len(aperture.leaves_mm), pair + RUN + 1))
    shown = [n for n in near if n == pair or (edges[n + 1] > y1 and edges[n] < y2)]
    return range(shown[0], shown[-1] + 1)


def open_boxes(aperture: Aperture) -> list[tuple[float, float, float, float]]:
    """Return the open parts as (x low, y low, x high, y high): one for each leaf pair within the jaws."""
    (x1, x2), (y1, y2) = aperture.x_mm, aperture.y_mm
    if not aperture.leaves_mm:
        return [(x1, y1, x2, y2)] if x2 > x1 and y2 > y1 else []
    out = []
    for i, (a, b) in enumerate(aperture.leaves_mm):
        lo, hi = max(aperture.leaf_edges_mm[i], y1), min(aperture.leaf_edges_mm[i + 1], y2)
        left, right = max(a, x1), min(b, x2)
        if hi > lo and right > left:
            out.append((left, lo, right, hi))
    return out


def wedge_triangle(beam: Beam) -> list[tuple[float, float]]:
    """Return the wedge's cross-section beside the field, (x, y) in mm: its point lies at the toe; [] without a wedge."""
    if not beam.wedge:
        return []
    (x1, x2), (y1, y2) = beam.aperture.x_mm, beam.aperture.y_mm
    toe_x, toe_y = toe_direction(beam.wedge_orientation_deg) if beam.wedge_orientation_deg % 90 == 0 else (0.0, 1.0)
    if toe_x:
        toe, heel = (x2, x1) if toe_x > 0 else (x1, x2)
        return [(toe, y2 + _WEDGE_GAP_MM), (heel, y2 + _WEDGE_GAP_MM), (heel, y2 + _WEDGE_GAP_MM + _WEDGE_MM)]
    toe, heel = (y2, y1) if toe_y > 0 else (y1, y2)
    return [(x2 + _WEDGE_GAP_MM, toe), (x2 + _WEDGE_GAP_MM, heel), (x2 + _WEDGE_GAP_MM + _WEDGE_MM, heel)]
