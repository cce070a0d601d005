"""Region grow: press on a place; what is connected to it and alike is added. Dragging sideways widens what is alike."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from app.core.guard import Guard
from app.core.language import translated
from app.tools.grow_job import GrowJob
from app.tools.scratch import Scratch
from app.tools.tool import Tool, subtracting, words

HU_PER_PX = 1.0


class RegionGrow(Tool):
    """Grows within a tolerance around the CT number under the pointer: on the plane at once, or through all slices beside
    the screen, shown before it is kept. Three settings guard against leaks; where one held it back, it says so.
    """

    name = "grow"

    def __init__(self, context: Any, guard: Guard | None = None) -> None:
        super().__init__(context, guard)
        self.job = GrowJob(context, guard)
        self._scratch: Scratch | None = None
        self._point = (0.0, 0.0, 0.0)
        self._x = 0.0
        self._tolerance = self._first = 0.0
        self._subtract = False
        self._notes = ""

    def start(self, view: Any, event: QMouseEvent) -> None:
        self.job.drop()
        self._scratch = self.scratch(view.axis, view.index)
        self._point, self._x = view.point_mm(event.position()), event.position().x()
        self._first = self._tolerance = float(self.context.settings.get("grow/tolerance_hu"))
        self._subtract = subtracting(event)
        self._grow(view)

    def move(self, view: Any, event: QMouseEvent) -> None:
        tolerance = max(1.0, round(self._first + (event.position().x() - self._x) * HU_PER_PX))
        if self._scratch is not None and tolerance != self._tolerance:
            self._tolerance = tolerance
            self._grow(view)

    def seed(self, view: Any) -> tuple[int, int, int]:
        """Return the voxel (plane, row, column) that was pressed."""
        k, r, c = (round(float(i)) for i in view.stage.grid.index(self._point))
        return k, r, c

    def numbers(self, view: Any) -> tuple[float, float, float, float, float] | None:
        """Return lowest and highest HU, neck, reach and largest volume; None outside the image."""
        hu, (k, r, c) = view.stage.image.hu, self.seed(view)
        if not all(0 <= i < n for i, n in zip((k, r, c), hu.shape)):
            return None
        middle, own = float(hu[k, max(r - 1, 0) : r + 2, max(c - 1, 0) : c + 2].mean()), float(hu[k, r, c])
        get = self.context.settings.get
        guards = (float(get("grow/neck_mm")), float(get("grow/reach_mm")), float(get("grow/most_cm3")))
        return (min(middle - self._tolerance, own), max(middle + self._tolerance, own), *guards)

    def _grow(self, view: Any) -> None:
        from engine.volumes.planes import plane_of
        from engine.volumes.region import Limits, grow

        assert self._scratch is not None
        numbers, axis = self.numbers(view), self._scratch.axis
        if numbers is None:
            return
        grid, (k, r, c) = view.stage.grid, self.seed(view)
        sx, sy, sz = grid.spacing_mm
        spacing, seed = {
            "z": ((sz, sy, sx), (0, r, c)), "x": ((sx, sz, sy), (0, k, r)), "y": ((sy, sz, sx), (0, k, c)),
        }[axis]  # fmt: skip
        flat = np.array(plane_of(view.stage.image.hu, axis, self._scratch.plane))[None]
        growth = grow(flat, seed, Limits(*numbers), spacing)
        shape = np.zeros(flat.shape[1:], np.uint8)
        _, r0, c0 = growth.corner
        if growth.mask.size:
            _, height, width = growth.mask.shape
            shape[r0 : r0 + height, c0 : c0 + width] = growth.mask[0] * np.uint8(255)
        self._notes = growth.notes
        self._scratch.combine(shape, self._subtract)
        self.job.say_range(numbers[0], numbers[1])

    def finish(self, view: Any, event: QMouseEvent) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is None:
            return
        self.context.settings.set("grow/tolerance_hu", self._tolerance)
        numbers = self.numbers(view)
        if numbers is not None and self.context.settings.get("grow/all_slices"):
            scratch.drop()
            self.job.ask(self.seed(view), numbers, self._subtract)
            return
        scratch.keep(words("Cut from {}") if self._subtract else words("Grow in {}"))
        if self._notes:
            text = QCoreApplication.translate("Tool", "Region grow: {}.").format(translated(self._notes))
            self.context.workspace.message.emit("info", text)

    def key(self, view: Any, event: QKeyEvent) -> bool:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.job.made is not None:
            self.job.keep()
        elif event.key() == Qt.Key.Key_Escape and self.job.asked is not None:
            self.job.drop()
        else:
            return False
        return True

    def cancel(self) -> None:
        scratch, self._scratch = self._scratch, None
        if scratch is not None:
            scratch.drop()

    def put_away(self) -> None:
        self.cancel()
        self.job.drop()
