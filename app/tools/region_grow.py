"""Region grow: press on a place; what is connected to it and alike is added. Dragging sideways widens what is alike."""

from __future__ import annotations

from typing import Any

from PySide6.QtGui import QMouseEvent

from app.tools.tool import Scratch, Tool, row_column, subtracting, words
from engine.volumes import paint

HU_PER_PX = 1.0


class RegionGrow(Tool):
    """Grows on one slice within a tolerance around the CT number under the pointer."""

    name = "grow"

    def __init__(self, context: Any) -> None:
        super().__init__(context)
        self._scratch: Scratch | None = None
        self._seed = (0.0, 0.0)
        self._x = 0.0
        self._tolerance = self._first = 0.0
        self._subtract = False

    def start(self, view: Any, event: QMouseEvent) -> None:
        self._scratch = Scratch(self.context, view.index)
        self._seed, self._x = row_column(view, event.position()), event.position().x()
        self._first = self._tolerance = float(self.context.settings.get("grow/tolerance_hu"))
        self._subtract = subtracting(event)
        self._grow(view)

    def move(self, view: Any, event: QMouseEvent) -> None:
        tolerance = max(1.0, round(self._first + (event.position().x() - self._x) * HU_PER_PX))
        if self._scratch is not None and tolerance != self._tolerance:
            self._tolerance = tolerance
            self._grow(view)

    def _grow(self, view: Any) -> None:
        assert self._scratch is not None
        hu = view.stage.image.hu[view.index]
        r, c = round(self._seed[0]), round(self._seed[1])
        if not (0 <= r < hu.shape[0] and 0 <= c < hu.shape[1]):
            return
        middle = float(hu[max(r - 1, 0) : r + 2, max(c - 1, 0) : c + 2].mean())
        low = min(middle - self._tolerance, float(hu[r, c]))
        high = max(middle + self._tolerance, float(hu[r, c]))
        self._scratch.combine(paint.region_grow(hu, self._seed, low, high), self._subtract)

    def finish(self, view: Any, event: QMouseEvent) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            self.context.settings.set("grow/tolerance_hu", self._tolerance)
            scratch.keep(words("Cut from {}") if self._subtract else words("Grow in {}"))

    def cancel(self) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.drop()
