"""Brush and eraser: a disc or a ball swept along the way of the pointer."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from app.core.guard import Guard
from app.tools.brush_circle import BrushCircle
from app.tools.scratch import BallScratch, Scratch
from app.tools.tool import Tool, subtracting, words
from engine.volumes import paint

SMALLEST_MM, LARGEST_MM = 1.0, 60.0
LIGHTEST = 0.1  # share of the radius that the lightest touch of a pen gives


class Brush(Tool):
    """Paints the active volume; with Shift, or as Eraser, takes away."""

    name = "brush"
    erases = False
    pointer = Qt.CursorShape.BlankCursor

    def __init__(self, context: Any, guard: Guard | None = None) -> None:
        super().__init__(context, guard)
        self.layer: BrushCircle = BrushCircle(self)
        self._scratch: Scratch | None = None
        self._masks: dict[tuple[str, int], NDArray[np.bool_] | None] = {}
        self._last: tuple[float, float, float] = (0.0, 0.0, 0.0)
        self.erasing = self.erases

    @property
    def radius_mm(self) -> float:
        """Radius of the brush, remembered."""
        return min(max(float(self.context.settings.get("brush/radius_mm")), SMALLEST_MM), LARGEST_MM)

    @property
    def is_ball(self) -> bool:
        """Whether the slices beside are painted as well."""
        return bool(self.context.settings.get("brush/ball"))

    def shown_mm(self, view: Any) -> float:
        """Return the radius under the hand: a pen that reports its pressure makes it smaller."""
        if view.pressure is None or not self.context.settings.get("brush/pressure"):
            return self.radius_mm
        return self.radius_mm * max(view.pressure, LIGHTEST)

    def set_radius(self, radius_mm: float) -> None:
        """Choose the radius."""
        self.context.settings.set("brush/radius_mm", round(min(max(radius_mm, SMALLEST_MM), LARGEST_MM), 1))
        self.layer.refresh()

    def range_mask(self, view: Any, axis: str, index: int) -> NDArray[np.bool_] | None:
        """Return the pixels of a plane that may change, or None for all."""
        return None

    def start(self, view: Any, event: QMouseEvent) -> None:
        self.erasing = self.erases != subtracting(event)
        self._masks = {}
        kind = BallScratch if self.is_ball else Scratch
        self._scratch = kind(self.context, view.axis, view.index, self.guard)
        self._last = view.point_mm(event.position())
        self._sweep(view, self._last)

    def move(self, view: Any, event: QMouseEvent) -> None:
        scratch = self._scratch
        # the wheel may have gone to another plane meanwhile: the stroke stays where it began
        if scratch is not None and (view.axis, view.index) == (scratch.axis, scratch.plane):
            self._sweep(view, view.point_mm(event.position()))

    def _sweep(self, view: Any, to: tuple[float, float, float]) -> None:
        scratch, radius = self._scratch, self.shown_mm(view)
        assert scratch is not None
        if isinstance(scratch, BallScratch):
            scratch.sweep(self._last, to, radius, self.erasing, lambda k: self._mask(view, "z", k))
        else:
            from engine.volumes.planes import in_plane, pixel_mm

            grid = view.stage.grid
            high, wide = pixel_mm(grid, view.axis)
            way = np.array([in_plane(grid, view.axis, p) for p in (self._last, to)])
            only = self._mask(view, scratch.axis, scratch.plane)
            scratch.touched(paint.stroke(scratch.raw, way, (radius / high, radius / wide), self.erasing, only))
        self._last = to
        self.layer.follow(view)

    def _mask(self, view: Any, axis: str, index: int) -> NDArray[np.bool_] | None:
        """Return the mask of a plane, made once a stroke."""
        if (axis, index) not in self._masks:
            self._masks[axis, index] = self.range_mask(view, axis, index)
        return self._masks[axis, index]

    def finish(self, view: Any, event: QMouseEvent) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.keep(words("Erase {}") if self.erasing else words("Paint {}"))
        self.erasing = self.erases != subtracting(event)
        self.layer.follow(view)

    def cancel(self) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.drop()
        self.erasing = self.erases

    def hover(self, view: Any, event: QMouseEvent) -> None:
        self.erasing = self.erases != subtracting(event)
        self.layer.follow(view)

    def leave(self, view: Any) -> None:
        self.layer.refresh()

    def wheel(self, view: Any, turns: float) -> None:
        self.set_radius(self.radius_mm + turns * self._step())

    def key(self, view: Any, event: QKeyEvent) -> bool:
        if event.key() == Qt.Key.Key_Shift and self._scratch is None:
            self.erasing = not self.erases
            self.layer.follow(view)
            return False
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
