"""Brush and eraser: a disc swept along the way of the pointer."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from app.tools.tool import Scratch, Tool, row_column, subtracting, words
from app.views.layer import Layer
from engine.volumes import paint

SMALLEST_MM, LARGEST_MM = 0.5, 80.0


class BrushCircle(Layer):
    """The brush around the pointer, its true size at any zoom."""

    z = 80
    live = True

    def __init__(self, tool: Brush) -> None:
        self._tool = tool
        self._last: Any = None

    def shown_in(self, view: Any) -> bool:
        return bool(view.axis == "z")

    def paint(self, painter: QPainter, view: Any) -> None:
        if view.pointer is None:
            return
        radius = self._tool.radius_mm * view.scale
        dashed = Qt.PenStyle.DashLine if self._tool.erasing else Qt.PenStyle.SolidLine
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for ink, width in ((QColor(0, 0, 0, 170), 2.6), (QColor(255, 255, 255, 230), 1.2)):
            painter.setPen(QPen(ink, width, dashed))
            painter.drawEllipse(view.pointer, radius, radius)
        painter.setPen(QPen(QColor(255, 255, 255, 230), 1))
        for d in (QPointF(2.5, 0), QPointF(0, 2.5)):
            painter.drawLine(view.pointer - d, view.pointer + d)

    def follow(self, view: Any) -> None:
        """Repaint where the circle was and where it is."""
        radius = self._tool.radius_mm * view.scale
        for position in (self._last, view.pointer):
            if position is not None:
                self.refresh(view, view.disc(position, radius))
        self._last = view.pointer


class Brush(Tool):
    """Paints the active volume; with Shift, or as Eraser, takes away."""

    name = "brush"
    erases = False
    pointer = Qt.CursorShape.BlankCursor

    def __init__(self, context: Any) -> None:
        super().__init__(context)
        self.layer: BrushCircle = BrushCircle(self)
        self._scratch: Scratch | None = None
        self._only: NDArray[np.bool_] | None = None
        self._last = (0.0, 0.0)
        self.erasing = self.erases

    @property
    def radius_mm(self) -> float:
        """Radius of the brush, remembered."""
        return float(self.context.settings.get("brush/radius_mm"))

    def set_radius(self, radius_mm: float) -> None:
        """Choose the radius."""
        self.context.settings.set("brush/radius_mm", round(min(max(radius_mm, SMALLEST_MM), LARGEST_MM), 1))
        self.layer.refresh()

    def range_mask(self, view: Any) -> NDArray[np.bool_] | None:
        """Return the pixels that may change, or None for all."""
        return None

    def start(self, view: Any, event: QMouseEvent) -> None:
        self.erasing = self.erases != subtracting(event)
        self._scratch = Scratch(self.context, view.index)
        self._only = self.range_mask(view)
        self._last = row_column(view, event.position())
        self._sweep(view, self._last)

    def move(self, view: Any, event: QMouseEvent) -> None:
        if self._scratch is not None:
            self._sweep(view, row_column(view, event.position()))

    def _sweep(self, view: Any, to: tuple[float, float]) -> None:
        assert self._scratch is not None
        sx, sy, _ = view.stage.grid.spacing_mm
        radius = (self.radius_mm / sy, self.radius_mm / sx)
        dirty = paint.stroke(self._scratch.alpha, np.array([self._last, to]), radius, self.erasing, self._only)
        self._last = to
        self._scratch.touched(dirty)
        self.layer.follow(view)

    def finish(self, view: Any, event: QMouseEvent) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.keep(words("Erase {}") if self.erasing else words("Paint {}"))
        self.erasing = self.erases
        self.layer.follow(view)

    def cancel(self) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.drop()
        self.erasing = self.erases

    def hover(self, view: Any, event: QMouseEvent) -> None:
        if view.axis == "z":
            self.layer.follow(view)

    def leave(self, view: Any) -> None:
        self.layer.refresh()

    def wheel(self, view: Any, turns: float) -> None:
        self.set_radius(self.radius_mm + turns * self._step())

    def key(self, view: Any, event: QKeyEvent) -> bool:
        change = {Qt.Key.Key_BracketLeft: -1, Qt.Key.Key_BracketRight: 1}.get(event.key())  # type: ignore[call-overload]
        if change is None:
            return False
        self.set_radius(self.radius_mm + change * self._step())
        return True

    def _step(self) -> float:
        return 0.5 if self.radius_mm < 5 else 1.0 if self.radius_mm < 20 else 2.0


class Eraser(Brush):
    """Takes away from the active volume; with Shift, adds."""

    name = "eraser"
    erases = True
