"""Freehand: draw a closed line; what it encloses is added, or taken away with Shift."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPen, QPolygonF

from app.core.guard import Guard
from app.tools.tool import Tool, row_column, subtracting, words
from app.views.layer import Layer
from engine.volumes import paint


class DrawnLine(Layer):
    """A line on one plane, given as patient points; a rubber part leads on to the pointer.

    What it would enclose is tinted, or hatched while Shift says that it will be taken away (`takes`).
    """

    z = 80
    live = True

    def __init__(self) -> None:
        self.plane = ("", -1)
        self.points: list[tuple[float, float, float]] = []
        self.rubber: list[tuple[float, float, float]] = []
        self.corners: list[tuple[float, float, float]] = []
        self.colour = QColor("#ffffff")
        self.takes = False

    def clear(self) -> None:
        """Show nothing."""
        self.points, self.rubber, self.corners, self.plane = [], [], [], ("", -1)
        self.refresh()

    def on(self, view: Any) -> bool:
        """Whether the line lies on the plane a view shows."""
        return self.plane == (view.axis, view.index)

    def paint(self, painter: QPainter, view: Any) -> None:
        if not self.on(view):
            return
        enclosed = QPolygonF([view.project(p) for p in (*self.points, *self.rubber)])
        tint = QColor(self.colour)
        tint.setAlpha(110 if self.takes else 45)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(tint, Qt.BrushStyle.BDiagPattern if self.takes else Qt.BrushStyle.SolidPattern))
        painter.drawPolygon(enclosed)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for points, style in ((self.points, Qt.PenStyle.SolidLine), (self.rubber, Qt.PenStyle.DashLine)):
            line = QPolygonF([view.project(p) for p in points])
            for ink, width in ((QColor(0, 0, 0, 160), 3.4), (self.colour, 1.8)):
                painter.setPen(QPen(ink, width, style))
                painter.drawPolyline(line)
        painter.setPen(QPen(QColor(0, 0, 0, 180), 1))
        painter.setBrush(self.colour)
        for i, p in enumerate(self.corners):
            radius = 5.0 if i == 0 else 3.0
            painter.drawEllipse(view.project(p), radius, radius)


class Freehand(Tool):
    """One drag, one closed shape."""

    name = "freehand"

    def __init__(self, context: Any, guard: Guard | None = None) -> None:
        super().__init__(context, guard)
        self.layer: DrawnLine = DrawnLine()
        self._points: list[tuple[float, float]] = []
        self._last = QPointF()

    def start(self, view: Any, event: QMouseEvent) -> None:
        self.layer.clear()
        self.layer.plane = (view.axis, view.index)
        self.layer.colour = QColor(*self.context.workspace.volume.colour)
        self.layer.takes = subtracting(event)
        self._points = []
        self._add(view, event.position())

    def move(self, view: Any, event: QMouseEvent) -> None:
        self.layer.takes = subtracting(event)
        if (event.position() - self._last).manhattanLength() >= 2:
            self._add(view, event.position())

    def _add(self, view: Any, position: QPointF) -> None:
        self._last = position
        self._points.append(row_column(view, position))
        self.layer.points.append(view.point_mm(position))
        self.layer.rubber = [self.layer.points[-1], self.layer.points[0]]
        self.layer.refresh(view)

    def finish(self, view: Any, event: QMouseEvent) -> None:
        if len(self._points) >= 3:
            scratch = self.scratch(*self.layer.plane)
            shape = paint.polygon(scratch.alpha.shape, np.array(self._points))
            scratch.combine(shape, subtracting(event))
            scratch.keep(words("Cut from {}") if subtracting(event) else words("Draw {}"))
        self.cancel()

    def cancel(self) -> None:
        self._points = []
        self.layer.clear()
