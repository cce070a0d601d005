"""Where things lie on the beam ring: an oval around the slice, graduated as it is seen from the isocentre.

The ring follows the shape of the view at every magnification, so that the anatomy keeps the middle: a circle in a square
view, an oval in others. Its graduation is not even: the mark of an angle is where the central axis of a beam from that
gantry angle would cross the ring, so a spoke always points along its beam. Spokes live in a band along the ring.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from PySide6.QtCore import QPointF

from engine.space.frames import beam_from_patient

RIM_MARGIN_PX = (52.0, 44.0)  # beside and above the ring: its numbers, and the orientation letters beyond them
LEAST_PX = 40.0
WIDEST, TALLEST = 1.5, 1.12  # the long half-axis against the short one: bodies are wide, so height is of little use
BAND = 0.3  # how deep the band of the spokes is against the short half-axis
BAND_PX = (34.0, 96.0)
DEEPEST_HUB = 0.3  # however far out the isocentre lies, a spoke of weight zero ends no nearer to it
HEADROOM = 1.25  # the rim stands for this many times the largest weight
DRAWN_DEG = 2.5  # nearer than this to a quarter or an opposed beam, an angle is drawn to it
FARTHEST = 0.6  # the graduation is seen from within this share of the ring, even if the isocentre lies farther out


def half_axes(width: float, height: float) -> tuple[float, float]:
    """Return the half-axes in px of the ring in a view."""
    a, b = width / 2 - RIM_MARGIN_PX[0], height / 2 - RIM_MARGIN_PX[1]
    return max(LEAST_PX, min(a, WIDEST * b)), max(LEAST_PX, min(b, TALLEST * a))


def band_px(width: float, height: float) -> float:
    """Return how deep the band of the spokes is in a view."""
    return min(max(BAND * min(half_axes(width, height)), BAND_PX[0]), BAND_PX[1])


@lru_cache(maxsize=8)
def screen_sense(patient_position: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the directions on an axial slice, seen from the feet, of beams from gantry 0 and 90 (x right, y down)."""
    zero, right = (beam_from_patient(patient_position, g, 0.0, 0.0)[2] for g in (0.0, 90.0))
    return (float(zero[0]), float(zero[1])), (float(right[0]), float(right[1]))


@dataclass(frozen=True)
class Ring:
    """The ring on one view: centre, half-axes and depth of its band in px, the point its angles are seen from, and the
    patient's position."""

    centre: QPointF
    a: float
    b: float
    band: float
    eye: QPointF
    patient_position: str = "HFS"

    @staticmethod
    def around(width: float, height: float, isocentre: QPointF, patient_position: str) -> Ring:
        """Return the largest ring that fits a view, seen from the isocentre."""
        centre = QPointF(width / 2, height / 2)
        a, b = half_axes(width, height)
        away = isocentre - centre
        far = hypot(away.x() / a, away.y() / b)
        if far > FARTHEST:
            away *= FARTHEST / far
        return Ring(centre, a, b, band_px(width, height), centre + away, patient_position)

    def direction(self, gantry_deg: float) -> tuple[float, float]:
        """Return the unit direction on screen from the isocentre towards the source at a gantry angle."""
        zero, right = screen_sense(self.patient_position)
        c, s = cos(radians(gantry_deg)), sin(radians(gantry_deg))
        return zero[0] * c + right[0] * s, zero[1] * c + right[1] * s

    def reach(self, gantry_deg: float) -> float:
        """Return the distance in px from the eye to the rim at a gantry angle."""
        ux, uy = self.direction(gantry_deg)
        ux, uy = ux / self.a, uy / self.b
        ex, ey = (self.eye.x() - self.centre.x()) / self.a, (self.eye.y() - self.centre.y()) / self.b
        uu, ue, ee = ux * ux + uy * uy, ux * ex + uy * ey, ex * ex + ey * ey
        return (-ue + sqrt(max(0.0, ue * ue - uu * (ee - 1.0)))) / uu

    def outwards(self, rim: QPointF) -> QPointF:
        """Return the unit direction in which the ring is left at a point of the rim."""
        x, y = (rim.x() - self.centre.x()) / self.a**2, (rim.y() - self.centre.y()) / self.b**2
        length = hypot(x, y) or 1.0
        return QPointF(x / length, y / length)

    def hub(self, gantry_deg: float) -> float:
        """Return the share of the way out at which a spoke of weight zero ends."""
        return max(DEEPEST_HUB, 1.0 - self.band / self.reach(gantry_deg))

    def at(self, gantry_deg: float, share: float) -> QPointF:
        """Return the point at a share (0 isocentre, 1 rim) of the way out at a gantry angle."""
        ux, uy = self.direction(gantry_deg)
        d = share * self.reach(gantry_deg)
        return QPointF(self.eye.x() + d * ux, self.eye.y() + d * uy)

    def angle_of(self, position: QPointF) -> float:
        """Return the gantry angle, 0 <= a < 360, whose axis passes through a point."""
        zero, right = screen_sense(self.patient_position)
        x, y = position.x() - self.eye.x(), position.y() - self.eye.y()
        return degrees(atan2(x * right[0] + y * right[1], x * zero[0] + y * zero[1])) % 360.0

    def share_of(self, position: QPointF) -> float:
        """Return how far out a point lies: 0 at the isocentre, 1 on the rim."""
        d = hypot(position.x() - self.eye.x(), position.y() - self.eye.y())
        return d / max(1e-6, self.reach(self.angle_of(position)))

    def on_rim(self, position: QPointF, slack_px: float) -> bool:
        """Whether a point lies on the ring."""
        x, y = position.x() - self.centre.x(), position.y() - self.centre.y()
        share = hypot(x / self.a, y / self.b)
        return share > 0 and hypot(x, y) * abs(1.0 - 1.0 / share) <= slack_px


def share_of_weight(weight: float, full: float, hub: float) -> float:
    """Return how far out a spoke of a weight reaches; `full` is the weight the rim stands for, `hub` where zero lies."""
    return hub + (1.0 - hub) * min(1.0, weight / full if full > 0 else 0.0)


def weight_of_share(share: float, full: float, hub: float) -> float:
    """Return the weight of a spoke that reaches so far out."""
    return max(0.0, (share - hub) / (1.0 - hub)) * full


def full_weight(weights: tuple[float, ...]) -> float:
    """Return the weight the rim stands for: somewhat more than the largest, so that there is room to draw it out."""
    return HEADROOM * max((*weights, 0.0)) or HEADROOM


def snapped(angle_deg: float, fine: bool, others_deg: Sequence[float] = ()) -> float:
    """Return an angle in whole degrees, drawn to the quarters and to what lies opposite other beams; or in tenths."""
    if fine:
        return round(angle_deg, 1) % 360.0
    for magnet in (0.0, 90.0, 180.0, 270.0, *((a + 180.0) % 360.0 for a in others_deg)):
        if abs((angle_deg - magnet + 180.0) % 360.0 - 180.0) <= DRAWN_DEG:
            return magnet
    return float(round(angle_deg)) % 360.0
