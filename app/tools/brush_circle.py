"""The shape of a round tool around the pointer: its true size, and what it will do."""

from __future__ import annotations

from typing import Any, Protocol

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.views.layer import Layer

DARK, LIGHT = QColor(0, 0, 0, 170), QColor(255, 255, 255, 230)


class Round(Protocol):
    """What the circle needs to know of its tool."""

    erasing: bool

    def shown_mm(self, view: Any) -> float:
        """Return the radius in use."""

    @property
    def is_ball(self) -> bool:
        """Whether the slices beside are painted as well."""


class BrushCircle(Layer):
    """A circle, whole with + where it adds and dashed with a minus where it takes away; a ball has an equator."""

    z = 80
    live = True

    def __init__(self, tool: Round) -> None:
        self._tool = tool
        self._drawn: dict[Any, tuple[QPointF, float]] = {}

    def paint(self, painter: QPainter, view: Any) -> None:
        at = view.pointer
        if at is None:
            return
        radius = self._tool.shown_mm(view) * view.scale
        self._drawn[view] = (at, radius)
        erasing = self._tool.erasing
        style = Qt.PenStyle.DashLine if erasing else Qt.PenStyle.SolidLine
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for ink, width in ((DARK, 2.6), (LIGHT, 1.2)):
            painter.setPen(QPen(ink, width, style))
            painter.drawEllipse(at, radius, radius)
            if self._tool.is_ball and radius >= 5:
                # the near half of an equator: this brush has depth
                belt = QRectF(at.x() - radius, at.y() - 0.35 * radius, 2 * radius, 0.7 * radius)
                painter.drawArc(belt, 180 * 16, 180 * 16)
        painter.setPen(QPen(LIGHT, 1))
        painter.drawLine(at - QPointF(3, 0), at + QPointF(3, 0))
        if not erasing:
            painter.drawLine(at - QPointF(0, 3), at + QPointF(0, 3))

    def follow(self, view: Any) -> None:
        """Repaint where the circle was and where it is."""
        places = [self._drawn.pop(view, None)]
        if view.pointer is not None:
            places.append((view.pointer, self._tool.shown_mm(view) * view.scale))
        for place in places:
            if place is not None:
                self.refresh(view, view.disc(place[0], max(place[1], 4.0)))
