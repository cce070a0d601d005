"""A hand that works on any plane, in patient mm."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier
Point = tuple[float, float, float]


class PlaneHand:
    """Presses, drags and types on the view of one axis; `uv` is (right, vertical) in mm from a middle in that plane."""

    def __init__(self, window: Any, axis: str, middle: Point = (0.0, 0.0, 0.0)) -> None:
        self.window, self.axis, self.middle = window, axis, middle

    @property
    def view(self) -> Any:
        return self.window.stage.view_of(self.axis)

    def point(self, u: float, v: float) -> Point:
        x, y, z = self.middle
        return {"z": (x + u, y + v, z), "x": (x, y + u, z + v), "y": (x + u, y, z + v)}[self.axis]

    def at(self, u: float, v: float) -> QPoint:
        return self.view.project(self.point(u, v)).toPoint()

    def press(self, u: float, v: float, keys: Qt.KeyboardModifier = NONE) -> None:
        QTest.mousePress(self.view, LEFT, keys, self.at(u, v))

    def move(self, u: float, v: float) -> None:
        QTest.mouseMove(self.view, self.at(u, v))

    def release(self, u: float, v: float, keys: Qt.KeyboardModifier = NONE) -> None:
        QTest.mouseRelease(self.view, LEFT, keys, self.at(u, v))

    def drag(self, *points: tuple[float, float], keys: Qt.KeyboardModifier = NONE) -> None:
        self.press(*points[0], keys)
        for p in points[1:]:
            self.move(*p)
        self.release(*points[-1], keys)

    def click(self, u: float, v: float, keys: Qt.KeyboardModifier = NONE) -> None:
        QTest.mouseClick(self.view, LEFT, keys, self.at(u, v))

    def key(self, key: Any, keys: Qt.KeyboardModifier = NONE) -> None:
        QTest.keyClick(self.view, key, keys)
