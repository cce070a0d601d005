"""What is written beside a spoke of the beam ring."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter

from app.core.tokens import SMALL_PX, colour, tabular
from app.views.ring_shape import Ring
from engine.beams.beam import Beam
from engine.case.case import Draft


def paint_name(
    painter: QPainter, view: Any, ring: Ring, draft: Draft, beam: Beam, end: QPointF, ink: QColor, told: bool
) -> None:
    """Write the number of a beam, and if it is `told` its angle, share and couch angle, where they hide no anatomy."""
    n, total = draft.beams.index(beam), sum(draft.weights)
    text = f"{n + 1}"
    if told:
        share = f"  {100 * draft.weights[n] / total:.0f} %" if total > 0 else ""
        couch = (
            QCoreApplication.translate("BeamRing", "  couch {0}°").format(f"{beam.couch_deg:g}") if beam.couch_deg else ""
        )
        text = f"{text}  {beam.gantry_deg:g}°{share}{couch}"
    painter.setFont(tabular(painter.font(), SMALL_PX, strong=True))
    metrics = QFontMetricsF(painter.font())
    box = QRectF(0, 0, metrics.horizontalAdvance(text) + 10, metrics.height() + 2)
    ux, uy = ring.direction(beam.gantry_deg)
    inward = 14.0 + abs(ux) * box.width() / 2 + abs(uy) * box.height() / 2
    if len(text) > 2 and abs(ux) > abs(uy):
        # Written inwards, the words of a beam from the side would lie over the patient: beside its end instead.
        half = min(max((beam.aperture.x_mm[1] - beam.aperture.x_mm[0]) * view.scale, 8.0), 0.7 * ring.b) / 2
        away = abs(ux) * half + box.height() / 2 + 5
        box.moveCenter(QPointF(end.x(), end.y() + (away if uy > 0.05 else -away)))
        box.moveLeft(min(max(box.left(), 24.0), view.width() - 24.0 - box.width()))
    else:
        box.moveCenter(end - QPointF(ux, uy) * inward)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour("stage_ground", 205))
    painter.drawRoundedRect(box, 3, 3)
    painter.setPen(ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
