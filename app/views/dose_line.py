"""Dose along a line that is dragged on the stage, with a small plot of dose against mm."""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.core.painting import painting
from app.core.tokens import SMALL_PX, colour, tabular
from app.views import plane as planes
from app.views.dose_layers import DoseView
from app.views.dvh_curves import round_top
from app.views.layer import Layer
from app.views.outline_paths import polygon

Point = tuple[float, float, float]
POINTS = 301
NEAR_PX = 10.0
FIRST_MM = 50.0  # half the length of the line that stands when it is called for
LEFT, TOP, RIGHT, BOTTOM = 34, 24, 12, 22


class DoseLine(Layer):
    """While shown, the left button drags an end or draws a new line; Alt and arrow keys move the end B, with Shift A."""

    z = 68
    live = True

    def __init__(self, stage_widget: Any, dose: DoseView) -> None:
        self._stage, self._dose = stage_widget, dose
        self.axis, self.ends = "z", [(0.0, 0.0, 0.0), (0.0, 0.0, 0.0)]
        self._shown, self._active, self._held = False, False, 1
        self.plot = DoseLinePlot(stage_widget)
        dose.follower.now_changed.connect(self.read)

    @property
    def visible(self) -> bool:
        """Whether line and plot are on the stage."""
        return self._shown and self._active and self._stage.image is not None

    def set_shown(self, shown: bool) -> None:
        """Lay a level line through the cross-hair on the large plane, or take it away."""
        self._shown = shown
        if shown and self._stage.image is not None:
            self.axis = self._stage.main.axis
            centre = planes.drop(self.axis, self._stage.workspace.cursor_mm)
            at = self._stage.main.position_mm
            self.ends = [planes.lift(self.axis, centre.x() + way * FIRST_MM, centre.y(), at) for way in (-1, 1)]
        self.read()

    def set_active(self, active: bool) -> None:
        """Say whether a station that has it is in front."""
        self._active = active
        self.read()

    def profile(self) -> tuple[np.ndarray, np.ndarray] | None:
        """Return (mm from A, Gy) along the line, or None without a dose."""
        now = self._dose.now
        if now is None or not self.visible:
            return None
        length = float(np.linalg.norm(np.subtract(*self.ends)))
        return np.linspace(0.0, length, POINTS), now.along(*self.ends, POINTS)

    def read(self, *_: object) -> None:
        """Read the dose along the line again."""
        of_sum = "" if self._dose.sum is None else self._dose.sum.picture_words()
        self.plot.show_profile(self.profile(), self._dose.follower.is_old, of_sum)
        self.refresh()

    # -- on the stage --------------------------------------------------------------------------------------------

    def shown_in(self, view: Any) -> bool:
        return self.visible and view.axis == self.axis

    def paint(self, painter: QPainter, view: Any) -> None:
        a, b = (view.project(p) for p in self.ends)
        here = abs(planes.lift(self.axis, 0, 0, view.position_mm)[planes.NORMAL[self.axis]] - self._height()) < 1e-3
        painter.setPen(QPen(colour("stage_ground", 200), 3.5))
        painter.drawLine(a, b)
        # Dashed where another plane than the line's own is shown.
        painter.setPen(QPen(colour("stage_text"), 1.5, Qt.PenStyle.SolidLine if here else Qt.PenStyle.DashLine))
        painter.drawLine(a, b)
        painter.setFont(tabular(painter.font(), SMALL_PX, strong=True))
        for name, at in (("A", a), ("B", b)):
            painter.setBrush(colour("stage_ground", 220))
            painter.drawEllipse(at, 8, 8)
            painter.drawText(QRectF(at.x() - 8, at.y() - 8, 16, 16), Qt.AlignmentFlag.AlignCenter, name)
        if view.large:
            self.plot.stand_in(view, (a + b) / 2)

    def _height(self) -> float:
        return float(self.ends[0][planes.NORMAL[self.axis]])

    def press(self, view: Any, event: QMouseEvent) -> bool:
        if not self.visible:
            return False
        at = event.position()
        near = [i for i in (1, 0) if view.axis == self.axis and _away(view.project(self.ends[i]), at) <= NEAR_PX]
        point = view.point_mm(at)
        if near:
            self._held = near[0]
        else:
            self._held, self.axis, self.ends = 1, view.axis, [point, point]
        return True

    def drag(self, view: Any, event: QMouseEvent) -> None:
        self._move(self._held, self._on_line_plane(view.point_mm(event.position())))

    def _on_line_plane(self, point: Point) -> Point:
        uv = planes.drop(self.axis, point)
        return planes.lift(self.axis, uv.x(), uv.y(), self._height())

    def _move(self, end: int, point: Point) -> None:
        self.ends[end] = point
        self.read()

    def key(self, view: Any, event: QKeyEvent) -> bool:
        """Alt and an arrow key move the end B by 1 mm on the shown plane, with Shift the end A."""
        keys, modifiers = Qt.Key, event.modifiers()
        step = {keys.Key_Left: (-1, 0), keys.Key_Right: (1, 0), keys.Key_Up: (0, -1), keys.Key_Down: (0, 1)}.get(
            keys(event.key())
        )
        if step is None or not self.visible or not modifiers & Qt.KeyboardModifier.AltModifier:
            return False
        end = 0 if modifiers & Qt.KeyboardModifier.ShiftModifier else 1
        uv = planes.drop(self.axis, self.ends[end])
        v = uv.y() + step[1] * planes.PLANES[self.axis][2]
        self._move(end, planes.lift(self.axis, uv.x() + step[0], v, self._height()))
        return True


class DoseLinePlot(QWidget):
    """Dose against mm from A to B, lower right on the large view; the pointer reads it out."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._profile: tuple[np.ndarray, np.ndarray] | None = None
        self._old, self._of_sum = False, ""
        self._pointer_x: float | None = None
        self.setMouseTracking(True)
        self.setAccessibleName(QCoreApplication.translate("DoseLine", "Dose along the line"))
        self.resize(self.sizeHint())
        self.hide()

    def sizeHint(self) -> QSize:
        return QSize(300, 150)

    def show_profile(self, profile: tuple[np.ndarray, np.ndarray] | None, old: bool, of_sum: str = "") -> None:
        """Show (mm, Gy), or hide without one; of a sum of drafts with the words of its quantity."""
        self._profile, self._old, self._of_sum = profile, old, of_sum
        self.setVisible(profile is not None)
        if profile is not None:
            self.raise_()
        self.update()

    def stand_in(self, view: QWidget, middle: QPointF) -> None:
        """Stand in the corner of a view that is farthest from the middle of the line."""
        wanted = self.sizeHint()
        size = QSize(
            min(wanted.width(), max(200, view.width() // 2)), min(wanted.height(), max(96, view.height() * 3 // 10))
        )
        x = 8 if middle.x() > view.width() / 2 else view.width() - size.width() - 8
        y = 26 if middle.y() > view.height() / 2 else view.height() - size.height() - 30
        place = QRect(view.mapTo(self.parentWidget(), QPoint(x, y)), size)
        if place != self.geometry():
            self.setGeometry(place)

    def words(self) -> str:
        """Return what the line above the curve says: both ends and the length, or the dose under the pointer."""
        if self._profile is None:
            return ""
        mm, gy = self._profile
        tr = QCoreApplication.translate
        if self._pointer_x is not None:
            at = float(np.clip((self._pointer_x - LEFT) / (self.width() - LEFT - RIGHT), 0, 1) * mm[-1])
            return tr("DoseLine", "{0} mm from A: {1} Gy").format(f"{at:.0f}", _gy(float(np.interp(at, mm, gy))))
        words = tr("DoseLine", "A {0} Gy, B {1} Gy, {2} mm").format(_gy(gy[0]), _gy(gy[-1]), f"{mm[-1]:.0f}")
        return tr("DoseLine", "{0}, old").format(words) if self._old else words

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._profile is None:
            return
        mm, gy = self._profile
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(colour("stage_quiet"), 1))
            painter.setBrush(colour("stage_shade"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
            painter.setFont(tabular(self.font(), SMALL_PX))
            metrics = QFontMetricsF(painter.font())
            area = QRectF(LEFT, TOP, self.width() - LEFT - RIGHT, self.height() - TOP - BOTTOM)
            known = gy[np.isfinite(gy)]
            top, step = round_top(float(known.max()) if known.size else 1.0)
            for i in range(0, int(top / step + 1e-6) + 1, 2):
                y = area.bottom() - i * step / top * area.height()
                painter.setPen(QPen(colour("stage_quiet", 90), 1))
                painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
                painter.setPen(colour("stage_quiet"))
                right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
                painter.drawText(QRectF(0, y - 8, LEFT - 4, 16), right, f"{i * step:g}")
            painter.drawText(QPointF(area.left(), self.height() - 6), "A")
            end = f"B {mm[-1]:.0f} mm"
            painter.drawText(QPointF(area.right() - metrics.horizontalAdvance(end), self.height() - 6), end)
            if self._of_sum:
                room = QRectF(area.left() + 20, area.bottom(), area.width() - metrics.horizontalAdvance(end) - 28, BOTTOM)
                words = QCoreApplication.translate("DoseLine", "sum, {0}").format(self._of_sum)
                words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
                painter.drawText(room, Qt.AlignmentFlag.AlignCenter, words)
            painter.setPen(colour("stage_text"))
            painter.drawText(QPointF(8, 16), self.words())
            painter.setPen(QPen(colour("stage_text"), 1.6))
            points = np.empty((len(mm), 2))
            points[:, 0] = area.left() + mm / max(float(mm[-1]), 1e-9) * area.width()
            points[:, 1] = area.bottom() - gy / top * area.height()
            painter.setOpacity(0.5 if self._old else 1.0)
            painter.drawPolyline(polygon(points[np.isfinite(gy)]))
            if self._pointer_x is not None:
                x = min(max(self._pointer_x, area.left()), area.right())
                painter.setPen(QPen(colour("stage_quiet"), 1, Qt.PenStyle.DotLine))
                painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointer_x = event.position().x()
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._pointer_x = None
        self.update()


def _away(a: QPointF, b: QPointF) -> float:
    return float(np.hypot(a.x() - b.x(), a.y() - b.y()))


def _gy(value: float) -> str:
    return f"{value:.1f}" if np.isfinite(value) else "–"
