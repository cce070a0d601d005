"""Arcs on the beam ring: sectors along the rim with an end at each side to take hold of."""

from __future__ import annotations

from math import hypot

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from app.views.ring_shape import Ring
from engine.beams.beam import Beam

INNER = 0.93  # how far out the inner edge of a sector lies
GRIP_PX = 10.0


def turned(start_deg: float, stop_deg: float, rotation: str) -> float:
    """Return how far a gantry turns, with a sign: positive clockwise; from an angle to itself is a full turn."""
    by = (stop_deg - start_deg) % 360.0 if rotation == "CW" else (start_deg - stop_deg) % 360.0
    return (by or 360.0) * (1.0 if rotation == "CW" else -1.0)


def ends_of(beam: Beam) -> tuple[float, float]:
    """Return the first and last gantry angle of an arc."""
    return beam.points[0].gantry_deg, beam.points[-1].gantry_deg


def paint_sector(
    painter: QPainter, ring: Ring, start_deg: float, stop_deg: float, rotation: str, ink: QColor, active: bool
) -> None:
    """Draw a band along the rim, a dot where it begins and an arrow where it ends."""
    by = turned(start_deg, stop_deg, rotation)
    steps = max(2, int(abs(by) / 2))
    angles = [start_deg + by * n / steps for n in range(steps + 1)]
    outer = [ring.at(a, 1.0) for a in angles]
    inner = [ring.at(a, INNER) for a in reversed(angles)]
    painter.setPen(QPen(ink, 1.6 if active else 1.0))
    painter.setBrush(QColor(ink.red(), ink.green(), ink.blue(), 70 if active else 28))
    painter.drawPolygon(QPolygonF([*outer, *inner]))
    painter.setBrush(ink)
    painter.setPen(Qt.PenStyle.NoPen)
    first, last = (ring.at(a, (1.0 + INNER) / 2) for a in (start_deg, stop_deg))
    painter.drawEllipse(first, 5.0, 5.0)
    before = ring.at(stop_deg - (3.0 if by > 0 else -3.0), (1.0 + INNER) / 2)
    along = last - before
    length = hypot(along.x(), along.y()) or 1.0
    along /= length
    side = QPointF(-along.y(), along.x())
    painter.drawPolygon(QPolygonF([last + along * 6, last - along * 6 + side * 6, last - along * 6 - side * 6]))


def paint_near(painter: QPainter, ring: Ring, angles_deg: tuple[float, ...], ink: QColor) -> None:
    """Mark the angles at which the head would come near to patient or couch: a broken line outside the rim."""
    painter.setPen(QPen(ink, 2.5, Qt.PenStyle.DotLine))
    for angle in angles_deg:
        painter.drawPolyline(QPolygonF([ring.at(angle + step, 1.03) for step in (-5.0, -2.5, 0.0, 2.5, 5.0)]))


def end_at(ring: Ring, beam: Beam, position: QPointF) -> int | None:
    """Return which end of an arc (0 first, 1 last) lies under a position, or None."""
    for n in (1, 0):
        at = ring.at(ends_of(beam)[n], (1.0 + INNER) / 2)
        if hypot(position.x() - at.x(), position.y() - at.y()) <= GRIP_PX:
            return n
    return None
