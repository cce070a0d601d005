"""Polygon: corner by corner; Enter, a double click or a click on the first corner closes it."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QPointF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent

from app.core.guard import Guard
from app.tools.freehand import DrawnLine
from app.tools.tool import Tool, row_column, subtracting, words
from engine.volumes import paint

NEAR_PX = 9


class Polygon(Tool):
    """Adds what the corners enclose, or takes it away if it is closed with Shift. Backspace takes the last corner back."""

    name = "polygon"

    def __init__(self, context: Any, guard: Guard | None = None) -> None:
        super().__init__(context, guard)
        self.layer: DrawnLine = DrawnLine()
        self.corners: list[tuple[float, float]] = []
        self._legs: list[list[tuple[float, float]]] = []

    # a polygon's legs are straight; the edge trace bends them

    def leg(self, view: Any, a: tuple[float, float], b: tuple[float, float]) -> list[tuple[float, float]]:
        """Return the points of the line from corner a to corner b, both (row, column), b included."""
        return [b]

    def start(self, view: Any, event: QMouseEvent) -> None:
        if self.corners and not self.layer.on(view):
            self.cancel()
        if len(self.corners) >= 3 and self._near_first(view, event.position()):
            self.close(view, subtracting(event))
            return
        here = row_column(view, event.position())
        if not self.corners:
            self.layer.plane = (view.axis, view.index)
            self.layer.colour = QColor(*self.context.workspace.volume.colour)
            self._legs = [[here]]
        else:
            self._legs.append(self.leg(view, self.corners[-1], here))
        self.corners.append(here)
        self._show(view)

    def hover(self, view: Any, event: QMouseEvent) -> None:
        if self.corners and self.layer.on(view):
            here = row_column(view, event.position())
            self.layer.takes = subtracting(event)
            self.layer.rubber = [self._point(view, p) for p in (self.corners[-1], *self.leg(view, self.corners[-1], here))]
            self.layer.refresh(view)

    def move(self, view: Any, event: QMouseEvent) -> None:
        self.hover(view, event)

    def key(self, view: Any, event: QKeyEvent) -> bool:
        if not self.corners:
            return False
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close(view, bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        elif event.key() == Qt.Key.Key_Backspace:
            self.corners.pop()
            self._legs.pop()
            self._show(view)
        elif event.key() == Qt.Key.Key_Escape:
            self.cancel()
        else:
            return False
        return True

    def double_click(self, view: Any, event: QMouseEvent) -> None:
        # The first press of the pair has already set the corner.
        self.close(view, subtracting(event))

    def close(self, view: Any, subtract: bool) -> None:
        """End the shape and make the edit; what encloses nothing yet stays, and is told."""
        if len(self.corners) < 3 and not (len(self.corners) == 2 and len(self._legs[-1]) > 1):
            told = QCoreApplication.translate(
                "Tool", "Too few corners to enclose anything. Set more, or Esc gives them up."
            )
            self.context.workspace.message.emit("info", told)
            return
        points = [p for leg in [*self._legs, self.leg(view, self.corners[-1], self.corners[0])] for p in leg]
        scratch = self.scratch(*self.layer.plane)
        scratch.combine(paint.polygon(scratch.alpha.shape, np.array(points)), subtract)
        scratch.keep(words("Cut from {}") if subtract else words("Draw {}"))
        self.cancel()

    def cancel(self) -> None:
        self.corners, self._legs = [], []
        self.layer.clear()

    def _near_first(self, view: Any, position: QPointF) -> bool:
        if not self.layer.on(view):
            return False
        first = view.project(self._point(view, self.corners[0]))
        return bool((first - position).manhattanLength() <= NEAR_PX)

    def _point(self, view: Any, rc: tuple[float, float]) -> tuple[float, float, float]:
        from engine.volumes.planes import out_of_plane

        return out_of_plane(view.stage.grid, *self.layer.plane, rc)

    def _show(self, view: Any) -> None:
        self.layer.points = [self._point(view, p) for leg in self._legs for p in leg]
        self.layer.corners = [self._point(view, p) for p in self.corners]
        self.layer.rubber = []
        if not self.corners:
            self.layer.clear()
        self.layer.refresh(view)
