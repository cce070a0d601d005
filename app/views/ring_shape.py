"""Where things lie on the beam ring: a circle around the slice, graduated as it is seen from the isocentre.

The circle stays in the middle of the view at every magnification. Its graduation is not even: the mark of an angle is
where the central axis of a beam from that gantry angle would cross the circle, so a spoke always points along its beam.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from PySide6.QtCore import QPointF

from engine.space.frames import beam_from_patient

RIM_MARGIN_PX = 30.0
HUB = 0.5  # spokes of weight zero end at this share of the way from the isocentre to the rim
HEADROOM = 1.25  # the rim stands for this many times the largest weight
FARTHEST = 0.6  # the graduation is seen from within this share of the radius, even if the isocentre lies farther out


@lru_cache(maxsize=8)
def screen_sense(patient_position: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the directions on an axial slice, seen from the feet, of beams from gantry 0 and 90 (x right, y down)."""
    zero, right = (beam_from_patient(patient_position, g, 0.0, 0.0)[2] for g in (0.0, 90.0))
    return (float(zero[0]), float(zero[1])), (float(right[0]), float(right[1]))


@dataclass(frozen=True)
class Ring:
    """The ring on one view: centre and radius in px, the point its angles are seen from, and the patient's position."""

    centre: QPointF
    radius: float
    eye: QPointF
    patient_position: str = "HFS"

    @staticmethod
    def around(width: float, height: float, isocentre: QPointF, patient_position: str) -> Ring:
        """Return the largest ring that fits a view, seen from the isocentre."""
        centre = QPointF(width / 2, height / 2)
        radius = max(40.0, min(width, height) / 2 - RIM_MARGIN_PX)
        away = isocentre - centre
        far = hypot(away.x(), away.y())
        if far > FARTHEST * radius:
            away *= FARTHEST * radius / far
        return Ring(centre, radius, centre + away, patient_position)

    def direction(self, gantry_deg: float) -> tuple[float, float]:
        """Return the unit direction on screen from the isocentre towards the source at a gantry angle."""
        zero, right = screen_sense(self.patient_position)
        c, s = cos(radians(gantry_deg)), sin(radians(gantry_deg))
        return zero[0] * c + right[0] * s, zero[1] * c + right[1] * s

    def reach(self, gantry_deg: float) -> float:
        """Return the distance in px from the eye to the rim at a gantry angle."""
        ux, uy = self.direction(gantry_deg)
        ex, ey = self.eye.x() - self.centre.x(), self.eye.y() - self.centre.y()
        b = ux * ex + uy * ey
        return -b + sqrt(max(0.0, b * b - ex * ex - ey * ey + self.radius**2))

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
        """Whether a point lies on the circle."""
        d = hypot(position.x() - self.centre.x(), position.y() - self.centre.y())
        return abs(d - self.radius) <= slack_px


def share_of_weight(weight: float, full: float) -> float:
    """Return how far out a spoke of a weight reaches; `full` is the weight the rim stands for."""
    return HUB + (1.0 - HUB) * min(1.0, weight / full if full > 0 else 0.0)


def weight_of_share(share: float, full: float) -> float:
    """Return the weight of a spoke that reaches so far out."""
    return max(0.0, (share - HUB) / (1.0 - HUB)) * full


def full_weight(weights: tuple[float, ...]) -> float:
    """Return the weight the rim stands for: somewhat more than the largest, so that there is room to draw it out."""
    return HEADROOM * max((*weights, 0.0)) or HEADROOM


def snapped(angle_deg: float, fine: bool) -> float:
    """Return an angle in whole degrees, or in tenths."""
    return round(angle_deg, 1) % 360.0 if fine else float(round(angle_deg)) % 360.0
