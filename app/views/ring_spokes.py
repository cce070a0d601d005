"""How the rim of the beam ring and its spokes are drawn."""

from __future__ import annotations

from typing import Any, NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.ring_shape import Ring
from engine.beams.beam import Beam


class Grips(NamedTuple):
    """What can be taken hold of on the active spoke: the corners of its end; and whether keys turn the beam."""

    corners: list[QPointF]
    has_keys: bool


def paint_rim(painter: QPainter, ring: Ring) -> None:
    """Draw the oval with its graduation."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour("stage_ground", 190), 3.4))
    painter.drawEllipse(ring.centre, ring.a, ring.b)
    painter.setPen(QPen(colour("stage_quiet", 200), 1.2))
    painter.drawEllipse(ring.centre, ring.a, ring.b)
    painter.setFont(tabular(painter.font(), SMALL_PX - 1))
    metrics = QFontMetricsF(painter.font())
    for angle in range(0, 360, 5):
        rim = ring.at(angle, 1.0)
        out = ring.outwards(rim)
        length = 9.0 if angle % 30 == 0 else 6.0 if angle % 10 == 0 else 3.5
        painter.drawLine(rim, rim + out * length)
        if angle % 30 == 0:
            box = QRectF(0, 0, metrics.horizontalAdvance("000"), metrics.height())
            box.moveCenter(rim + QPointF(out.x() * 21, out.y() * 18))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{angle}")


def paint_spoke(
    painter: QPainter, view: Any, ring: Ring, beam: Beam, share: float, weighs: bool, grips: Grips | None, hovered: bool
) -> QPointF:
    """Draw a beam as a wedge from near the isocentre to its field's width; return the middle of its end.

    Parameters
    ----------
    share : how far out it reaches (0 isocentre, 1 rim)
    weighs : whether its weight is more than zero
    grips : of the active beam, None for the others
    """
    active = grips is not None
    end, rim = ring.at(beam.gantry_deg, share), ring.at(beam.gantry_deg, 1.0)
    ux, uy = ring.direction(beam.gantry_deg)
    across = QPointF(-uy, ux)
    width = min(max((beam.aperture.x_mm[1] - beam.aperture.x_mm[0]) * view.scale, 8.0), 0.7 * ring.b)
    hub = ring.at(beam.gantry_deg, ring.hub(beam.gantry_deg))
    ink = colour("stage_accent") if active else colour("stage_text")
    fine = QPen(QColor(ink.red(), ink.green(), ink.blue(), 120), 1, Qt.PenStyle.DotLine)
    painter.setPen(fine)
    painter.drawLine(end, rim)
    painter.drawLine(hub, ring.eye)
    if weighs:
        edges = QPolygonF([hub + across * 1.5, end + across * (width / 2), end - across * (width / 2), hub - across * 1.5])
        pen = QPen(ink if active else QColor(ink.red(), ink.green(), ink.blue(), 150), 1.6 if active else 1.0)
        if beam.couch_deg:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(QColor(ink.red(), ink.green(), ink.blue(), 64 if active else 16))
        painter.drawPolygon(edges)
    painter.setPen(QPen(ink, 4.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawLine(end + across * (width / 2), end - across * (width / 2))
    painter.setPen(QPen(colour("stage_ground"), 1.5))
    painter.setBrush(ink)
    painter.drawEllipse(end, 6.0 if active or hovered else 4.5, 6.0 if active else 4.5)
    if grips is not None:
        painter.setPen(QPen(ink, 1.2))
        painter.setBrush(colour("stage_ground"))
        for corner in grips.corners:
            painter.drawRect(QRectF(corner.x() - 3.5, corner.y() - 3.5, 7.0, 7.0))
        if grips.has_keys:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(end, 10.0, 10.0)
    return end


def paint_offered(painter: QPainter, ring: Ring, beam: Beam, share: float) -> None:
    """Mark on a beam's way how far out its spoke would reach with a weight that is only proposed: an open diamond."""
    at = ring.at(beam.gantry_deg, share)
    ux, uy = ring.direction(beam.gantry_deg)
    out, across = QPointF(ux, uy) * 7.0, QPointF(-uy, ux) * 7.0
    diamond = QPolygonF([at + out, at + across, at - out, at - across])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for pen in (QPen(colour("stage_ground", 200), 4.0), QPen(colour("stage_accent"), 1.8)):
        painter.setPen(pen)
        painter.drawPolygon(diamond)
