"""Shows that the guard is on: its words on every plane, and the line it holds."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.core.guard import Guard
from app.core.tokens import colour, tabular
from app.views.layer import Layer
from app.views.outline_paths import OutlinePaths


class GuardLayer(Layer):
    """A badge at the foot of each view and a broken line along the guarding volume."""

    z = 50

    def __init__(self, guard: Guard) -> None:
        self._guard = guard
        self._paths = OutlinePaths()

    def paint(self, painter: QPainter, view: Any) -> None:
        words = self._guard.words()
        if not words or view.stage.tool is None:
            return
        volume = self._guard.standing
        if volume is not None:
            path = self._paths.path(volume.coverage, view.axis, view.index)
            painter.save()
            painter.setTransform(view.transform, True)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            for ink, width in ((QColor(0, 0, 0, 170), 4.4), (QColor(*volume.colour), 2.6)):
                pen = QPen(ink, width, Qt.PenStyle.CustomDashLine)
                pen.setDashPattern([5, 3] if width < 4 else [3, 1.7])
                pen.setCosmetic(True)
                painter.setPen(pen)
                painter.drawPath(path)
            painter.restore()
        painter.setFont(tabular(view.font(), 13 if view.large else 12, strong=view.large))
        metrics = painter.fontMetrics()
        text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, view.width() - 28)
        wide, high = metrics.horizontalAdvance(text) + 16, metrics.height() + 6
        place = QRect((view.width() - wide) // 2, view.height() - high - 30, wide, high)
        painter.setPen(QPen(QColor(*volume.colour) if volume is not None else colour("stage_quiet"), 1.5))
        painter.setBrush(colour("stage_ground", 220))
        painter.drawRoundedRect(place, 3, 3)
        painter.setPen(colour("stage_text"))
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)
