"""One plane of the case: the grey picture, the layers above it, and the hand on it."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QInputDevice,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
    QTabletEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.core.painting import painting
from app.core.tokens import colour
from app.views import plane
from app.views.grey import picture, plane_numbers
from app.views.layer import Layer

MARGIN_PX = 22
TRIED_PX = 10


class SliceView(QWidget):
    """Shows the plane of one axis through the shared cursor. The Stage owns it and answers for the whole.

    Attributes
    ----------
    axis : "z", "x" or "y": the axis the plane stands across
    transform : QTransform from in-plane mm to widget pixels
    scale : px per mm
    large : whether it is the large view of the stage
    pressure : 0..1 of a pen that touches it, None for a mouse or a pen that does not report it

    Signals
    -------
    hovered(point_mm or None)
    """

    hovered = Signal(object)

    def __init__(self, stage: Any, axis: str) -> None:
        super().__init__(stage)
        self.stage, self.axis, self.large = stage, axis, False
        self.transform, self._back_transform, self.scale = QTransform(), QTransform(), 1.0
        self._numbers: tuple[Any, Any] = (None, None)
        self._grey: tuple[Any, QPixmap] = (None, QPixmap())
        self._still: tuple[Any, QPixmap | None] = (None, None)
        self._taken: Any = None  # the layer, or "pan", "levels", "cursor", "tool", that has the mouse
        self._last = self._pressed = QPointF()
        self._told = False
        self.pointer: QPointF | None = None
        self.pressure: float | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(90, 90)

    # where things are

    @property
    def index(self) -> int:
        """Index of the shown plane."""
        return plane.plane_index(self.axis, self.stage.grid, self.stage.workspace.cursor_mm)

    @property
    def position_mm(self) -> float:
        """Where the shown plane stands, mm along its axis."""
        return plane.plane_position(self.axis, self.stage.grid, self.index)

    def point_mm(self, position: QPointF) -> plane.Point:
        """Return the patient point under a widget position."""
        uv = self._back_transform.map(position)
        return plane.lift(self.axis, uv.x(), uv.y(), self.position_mm)

    def project(self, point_mm: plane.Point) -> QPointF:
        """Return the widget position of a patient point (moved along the normal onto the plane)."""
        return self.transform.map(plane.drop(self.axis, point_mm))

    def aim(self) -> None:
        """Take the camera of the axis; drops the kept picture if anything moved."""
        if self.stage.image is None:
            return
        camera = self.stage.cameras[self.axis]
        wanted = [la.margins_px(self) for la in self.stage.layers if la.shown_in(self)]
        margins = max(MARGIN_PX, *(w[0] for w in wanted)), max(MARGIN_PX, *(w[1] for w in wanted))
        framed = self.stage.framed_mm[self.axis]
        self.scale = camera.zoom * plane.fitted(self.axis, framed, self.width(), self.height(), margins)
        transform = plane.looking(self.axis, camera, self.scale, self.width(), self.height())
        if transform != self.transform:
            self.transform, self._back_transform = transform, transform.inverted()[0]
            self.drop_backdrop()

    def drop_backdrop(self) -> None:
        """Forget the kept picture of the layers that are not live, and repaint."""
        self._still = (None, None)
        self.update()

    def forget(self) -> None:
        """Forget every kept picture: another image is shown."""
        self._numbers, self._grey = (None, None), (None, QPixmap())
        self.drop_backdrop()

    # painting

    def paintEvent(self, event: QPaintEvent) -> None:
        with painting(self) as painter:
            self._paint(painter, event)
        if self.stage.image is not None:
            self.stage.painted(self)

    def _paint(self, painter: QPainter, event: QPaintEvent) -> None:
        if self.stage.image is None:
            painter.fillRect(event.rect(), colour("stage_ground"))
            return
        painter.setClipRegion(event.region())
        painter.drawPixmap(0, 0, self._grey_picture())
        painter.drawPixmap(0, 0, self._still_layers())
        for layer in self.stage.layers:
            if layer.live and layer.shown_in(self):
                self._paint_layer(painter, layer)
        if self.hasFocus():
            painter.setPen(colour("stage_accent"))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    # Two pictures are kept: grey and the still layers. A new window changes only the first, a new volume only the second.

    def _grey_picture(self) -> QPixmap:
        image, index = self.stage.image, self.index
        key = (id(image), self.axis, index, self.stage.levels, self.transform, self.size(), self.devicePixelRatioF())
        if self._grey[0] != key:
            plane_key = (id(image), self.axis, index)
            if self._numbers[0] != plane_key:
                self._numbers = (plane_key, np.ascontiguousarray(plane_numbers(image, self.axis, index)))
            made = self._canvas(colour("stage_ground"))
            painter = QPainter(made)
            u0, u1, v0, v1 = plane.extent(self.axis, self.stage.grid.bounds_mm)
            target = self.transform.mapRect(QRectF(u0, v0, u1 - u0, v1 - v0))
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(target, picture(self._numbers[1], self.stage.grey_table))
            painter.end()
            self._grey = (key, made)
        return self._grey[1]

    def _still_layers(self) -> QPixmap:
        key = (self.axis, self.index, self.transform, self.size(), self.devicePixelRatioF())
        if self._still[1] is None or self._still[0] != key:
            made = self._canvas(QColor(0, 0, 0, 0))
            painter = QPainter(made)
            for layer in self.stage.layers:
                if not layer.live and layer.shown_in(self):
                    self._paint_layer(painter, layer)
            painter.end()
            self._still = (key, made)
        assert self._still[1] is not None
        return self._still[1]

    def _canvas(self, ground: QColor) -> QPixmap:
        ratio = self.devicePixelRatioF()
        made = QPixmap(max(1, int(self.width() * ratio)), max(1, int(self.height() * ratio)))
        made.setDevicePixelRatio(ratio)
        made.fill(ground)
        return made

    def _paint_layer(self, painter: QPainter, layer: Layer) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        layer.paint(painter, self)
        painter.restore()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.aim()

    # the hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if self.stage.image is None or self._taken is not None:
            return
        self._last = self._pressed = event.position()
        self._told = False
        if event.button() == Qt.MouseButton.MiddleButton:
            self._taken = "pan"
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == Qt.MouseButton.RightButton:
            self._taken = "second" if event.modifiers() & Qt.KeyboardModifier.ControlModifier else "levels"
        elif event.button() == Qt.MouseButton.LeftButton:
            self._taken = next((la for la in self._layers_from_top() if la.press(self, event)), None)
            tool = self.stage.tool
            if self._taken is None and tool is not None and tool.works_in(self):
                self._taken = "tool"
                self.stage.begin_gesture()
                tool.start(self, event)
            if self._taken is None:
                self._taken = "cursor"
                self.stage.workspace.set_cursor(self._inside(event.position()))

    def tabletEvent(self, event: QTabletEvent) -> None:
        """Remember how hard a pen presses and leave the gesture to the mouse event that follows an event left alone."""
        touching = event.type() != QEvent.Type.TabletRelease and bool(event.buttons())
        tells = bool(event.pointingDevice().capabilities() & QInputDevice.Capability.Pressure)
        self.pressure = event.pressure() if touching and tells else None
        event.ignore()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self.stage.image is None:
            return
        moved = event.position() - self._last
        self.pointer = event.position()
        self.hovered.emit(self.point_mm(event.position()))
        if self._taken == "pan":
            self.stage.pan(self, moved)
        elif self._taken == "levels":
            self.stage.shift_levels(moved.y(), moved.x())
        elif self._taken == "second":
            self.stage.shift_second(moved)
        elif self._taken == "cursor":
            self.stage.workspace.set_cursor(self._inside(event.position()))
            self._say_where_tools_work(event)
        elif self._taken == "tool":
            self.stage.tool.move(self, event)
        elif self._taken is not None:
            self._taken.drag(self, event)
        else:
            tip = next((t for t in (la.hover(self, event) for la in self._layers_from_top()) if t), "")
            if tip:
                QToolTip.showText(event.globalPosition().toPoint(), tip, self)
            if self.stage.tool is not None:
                self.stage.tool.hover(self, event)
        self._last = event.position()

    def _say_where_tools_work(self, event: QMouseEvent) -> None:
        """A drag with a tool in the hand that does not work here is an attempt: say so, once a drag."""
        words = self.stage.tool.refusal(self) if self.stage.tool is not None and not self._told else ""
        if words and (event.position() - self._pressed).manhattanLength() > TRIED_PX:
            self._told = True
            QToolTip.showText(event.globalPosition().toPoint(), words, self)
            self.stage.workspace.message.emit("info", words)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        taken, self._taken = self._taken, None
        if taken == "pan":
            self.stage.show_pointer(self)
        elif taken == "tool" and self.stage.tool is not None:
            self.stage.tool.finish(self, event)
            self.stage.end_gesture()
        elif isinstance(taken, Layer):
            taken.release(self, event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self.stage.image is None:
            return
        if event.button() == Qt.MouseButton.MiddleButton:
            self.stage.fit()
        elif event.button() == Qt.MouseButton.LeftButton:
            if any(layer.double_click(self, event) for layer in self._layers_from_top()):
                return
            if self.stage.tool is not None and self.stage.tool.works_in(self):
                self.stage.tool.double_click(self, event)
            else:
                self.mousePressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        turns = event.angleDelta().y() / 120 or event.angleDelta().x() / 120
        modifiers = event.modifiers()
        if self.stage.image is None or not turns:
            return
        if modifiers & Qt.KeyboardModifier.ControlModifier:
            self.stage.zoom(self, 1.2**turns, event.position())
        elif modifiers & Qt.KeyboardModifier.ShiftModifier and self.stage.tool is not None:
            self.stage.tool.wheel(self, turns)
        else:
            self.stage.walk(self.axis, self._steps(turns))
        event.accept()

    _rest = 0.0

    def _steps(self, turns: float) -> int:
        """Gather the fractions a touch pad sends into whole slices."""
        self._rest = turns if self._rest * turns < 0 else self._rest + turns
        whole = int(self._rest)
        self._rest -= whole
        return whole

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Tab:
            self.stage.swap()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._taken is not None:
            self.let_go()
        elif not self.stage.key(self, event):
            super().keyPressEvent(event)

    def let_go(self) -> None:
        """End a drag without its effect (Escape)."""
        taken, self._taken = self._taken, None
        if taken == "tool":
            self.stage.tool.cancel()
            self.stage.end_gesture()
        elif isinstance(taken, Layer):
            taken.cancel()
        self.stage.show_pointer(self)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        self.pointer = None
        self.hovered.emit(None)
        if self.stage.tool is not None:
            self.stage.tool.leave(self)

    def focusInEvent(self, event: Any) -> None:
        self.update()

    def focusOutEvent(self, event: Any) -> None:
        self.update()

    def _layers_from_top(self) -> list[Layer]:
        return [la for la in sorted(self.stage.layers, key=lambda la: (la.live, la.z), reverse=True) if la.shown_in(self)]

    def _inside(self, position: QPointF) -> plane.Point:
        return self.stage.inside(self.point_mm(position))

    def disc(self, position: QPointF, radius_px: float) -> QRect:
        """Return the widget area of a disc with room for its pen."""
        r = radius_px + 3
        return QRectF(position.x() - r, position.y() - r, 2 * r, 2 * r).toAlignedRect()
