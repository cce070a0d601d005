"""The ruled cross of the beam's-eye view: a mark every 10 mm, a number every 50."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainter, QPen

from app.core.tokens import SMALL_PX, colour, tabular

REACH_MM = 200


def draw_graticule(painter: QPainter, view: Any) -> None:
    """Draw it on a view that knows the ``place`` of (x, y) mm at the isocentre plane."""
    painter.setPen(QPen(colour("stage_quiet", 150), 1))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.drawLine(view.place(-REACH_MM, 0), view.place(REACH_MM, 0))
    painter.drawLine(view.place(0, -REACH_MM), view.place(0, REACH_MM))
    painter.setFont(tabular(view.font(), SMALL_PX - 1))
    metrics, whole = QFontMetricsF(painter.font()), QRectF(view.rect())
    for mm in range(-REACH_MM, REACH_MM + 1, 10):
        size = 5 if mm % 50 == 0 else 2.5
        for x, y, along in ((mm, 0, True), (0, mm, False)):
            at = view.place(x, y)
            if not view.rect().contains(at.toPoint()):
                continue
            step = QPointF(0, size) if along else QPointF(size, 0)
            painter.drawLine(at - step, at + step)
            if mm % 50 == 0 and mm:
                foot, words = at + (QPointF(-8, 18) if along else QPointF(9, 4)), f"{mm}".replace("-", "−")
                box = QRectF(foot.x(), foot.y() - metrics.ascent(), metrics.horizontalAdvance(words), metrics.ascent())
                if whole.contains(box):  # half of 100 at the edge would read as 10
                    painter.drawText(foot, words)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
